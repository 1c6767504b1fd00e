"""Worked by hand, the sixth plan: fruit butter, softened, sieved and boiled down on one day in one pan.

Monday: 5.9 kg of redcurrants (see ``three_days_of_jelly``). Each kg takes 0.2 kg of water; 0.8 passes the
sieve; 0.6 kg of sugar.

    litres    before the sugar 1 + 0.2 = 1.2 a kg; with it 0.8 + 0.16 + 0.6 ÷ 1.587 = 1.3381: the larger
    kg        8 ÷ 1.3381 = 5.9787, so 5.9
    prepare   5.9 ÷ 24 × 60 = 14.75, so 15
    soften    7.08 kg, 10 % solids: 4.1868 − 10 × 0.021351 = 3.9733 kJ/(kg K);
              7.08 × 3.9733 × 99.97 ÷ 90 = 31.2 min; 31.2 + 15 = 46.2, so 50
    strain    7.08 ÷ 30 × 60 = 14.2, so 15
    jam       (4.72 × 0.12 + 3.54) ÷ 0.65 = 6.3175 kg
    jars      6.3175 × 0.98 ÷ 0.34 = 18.21, so 18
    store     sugar 3.54, so 3.6 kg
    dissolve  4.72 + 0.944 + 3.54 = 9.204 kg, 44.61 % solids, from the room's 20 °C, as it is warm already:
              4.1868 − 44.61 × (0.0251 − 0.000075 × 59.99) = 3.2677 kJ/(kg K);
              9.204 × 3.2677 × 79.97 + 3.54 × 16 = 2462 kJ; ÷ 90 = 27.4, so 30 (from 0 °C 33.7, so 35)
    boil      9.204 − 6.3175 = 2.8865 kg ÷ 2.393 × 60 = 72.4, so 75
    pot up    18 ÷ 120 × 60 = 9, so 10
    last jar  20 min = 1200 s; 0.0378 m deep, 4.9376 W/K; exp(−0.32341) = 0.7237; 80.62 °C
    energy    3 × (50 + 30 + 75) ÷ 60 × 0.12 = 0.93
    money     Ann 4 h × 15 = 60, Ben 4 h × 12 = 48: 108.93
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.fruit import Grade, Lot, Place
from scheduler.domain.people import Shift
from scheduler.domain.trade import Good
from scheduler.law.composition import Kind
from scheduler.plan_rows import JarDay, Mix, StageKind

from . import day_of_one_pan as one_pan
from . import worked_days as hand
from .three_days_of_jelly import CURRANTS, REDCURRANT, REDCURRANT_JELLY
from .worked_days import MONDAY, at

BUTTER = "redcurrant butter"
REDCURRANT_BUTTER = replace(
    REDCURRANT_JELLY,
    name=BUTTER,
    kind=Kind.BUTTER,
    soften_minutes=15,
    strained_share=0.8,
    strain_kg_per_hour=30.0,
    water_per_kg=0.2,
    sugar_per_kg=0.6,
    lemons_per_kg=0.0,
    longest_boil_minutes=75,
)

SITUATION = hand.situation(
    hand.scenario(
        fruits=(REDCURRANT,),
        recipes=(REDCURRANT_BUTTER,),
        picks=(Lot(CURRANTS, "redcurrant", Grade.KITCHEN, 5.9, Place.CHILLER, MONDAY),),
        people=(one_pan.ANN, one_pan.BEN),
        shifts=tuple(Shift(name, MONDAY, at("8:00"), at("12:00"), 0) for name in ("Ann", "Ben")),
        goods=(
            Good("sugar", "kg", 3.6, 1.25, lead_days=1),
            Good("jar 340 g", "each", 18.0, 0.50, lead_days=1),
            Good("lid 63 mm", "each", 18.0, 0.10, lead_days=1),
        ),
    )
)

BATCH = replace(
    hand.LARGE_BATCH,
    recipe=BUTTER,
    kg=5.9,
    filled=(18,),
    sugar_kg=3.6,
    lemons=0,
    pectin_g=0,
    last_jar_c=80.62,
)

PLAN = hand.plan(
    {"spoiled": 0.0, "short": 0.0, "money": 108.93, "tidiness": 1.0},
    lots=(hand.lot_day(MONDAY, CURRANTS, arrived=5.9, cooked=5.9),),
    mixes=(Mix(MONDAY, BUTTER, False, "redcurrant", 5.9, 0.0),),
    draws=(hand.draw(CURRANTS, 5.9, BUTTER),),
    batches=(BATCH,),
    stages=hand.stages(
        MONDAY,
        "b1",
        (
            (StageKind.PREPARE, "8:00", "8:15", "Ben"),
            (StageKind.SOFTEN, "8:15", "9:05", "Ann"),
            (StageKind.STRAIN, "9:05", "9:20", "Ann"),
            (StageKind.DISSOLVE, "9:20", "9:50", "Ann"),
            (StageKind.BOIL, "9:50", "11:05", "Ann"),
            (StageKind.LOAD_JARS, "10:30", "10:35", "Ben"),
            (StageKind.SET_TEST, "11:05", "11:10", "Ann"),
            (StageKind.STAND, "11:10", "11:15", ""),
            (StageKind.POT_UP, "11:15", "11:25", "Ben"),
            (StageKind.WASH, "11:25", "11:35", "Ann"),
        ),
    ),
    shifts=tuple(hand.shift(MONDAY, name, "8:00", "12:00") for name in ("Ann", "Ben")),
    finishes=(hand.finish(MONDAY, "11:35"),),
    jars=(JarDay(MONDAY, BUTTER, hand.JAR, made=18, shipped=0, left=18),),
)
