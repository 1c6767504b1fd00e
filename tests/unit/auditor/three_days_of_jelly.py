"""Worked by hand, the fourth plan: redcurrant jelly, softened on two days and boiled on the day after each.

Monday: 12 kg of redcurrants are picked. Nothing is lost in preparing (stalks and all go into the pan), 24 kg
an hour. Each kg takes 0.5 kg of water; 0.6 of fruit and water drips through the bag (water 0.3); 0.5 kg of
sugar. Two equal pans, two rings, two drip stands of 7.5 litres. See ``worked_days`` for each step.

              softened and strained                      juice boiled
    litres    1 + 0.5 = 1.5 a kg                         0.6 + 0.3 + 0.5 ÷ 1.587 = 1.2151 a kg
    kg        8 ÷ 1.5 = 5.3333, so 5.3; but a stand      8 ÷ 1.2151 = 6.5840, so 5.0 fit; they fill
              holds 7.5 ÷ 1.5 = 5.0, so 5.0              5.0 ÷ 6.5840 = 0.7594 of the pan
    prepare   5.0 ÷ 24 × 60 = 12.5, so 15                -
    soften    7.5 kg, 8 % solids, to 99.97 °C:           -
              7.5 × 4.0160 × 99.97 ÷ 90 = 33.5 min;
              33.5 + 20 = 53.5, so 55
    strain    7.5 ÷ 60 × 60 = 7.5, so 10                 -
    jam       -                                          (3.0 × 0.12 + 2.5) ÷ 0.65 = 4.4 kg
    jars      -                                          4.4 × 0.98 ÷ 0.34 = 12.68, so 12
    store     -                                          sugar 2.5 kg; lemons 5.0 × 0.5 = 2.5, so 3
    dissolve  -                                          3.0 + 1.5 + 2.5 = 7.0 kg, 40.86 % solids, from 0 °C:
                                                         7.0 × 3.3145 × 99.97 + 2.5 × 16 = 2359 kJ;
                                                         ÷ 90 = 26.2, so 30
    boil      -                                          7.0 − 4.4 = 2.6 kg ÷ 2.393 × 60 = 65.2, so 70
    pot up    -                                          12 ÷ 120 × 60 = 6, so 10
    last jar  -                                          5 + 5 + 10 = 20 min = 1200 s; 0.0263 m deep, 4.7357
                                                         W/K; exp(−0.44536) = 0.6406: 73.66 °C
    energy    left ring (gas) 3 × 55 ÷ 60 × 0.12         left ring 3 × (30 + 70) ÷ 60 × 0.12 = 0.60
              = 0.33, right ring × 0.40 = 1.10

(8 % solids: 4.1868 − 8 × 0.021351 = 4.0160 kJ/(kg K); 40.86 %: 4.1868 − 40.86 × 0.021351 = 3.3145; sugar
takes 16 kJ a kg to dissolve.)

    fruit     Monday 12.0 = 5.0 cooked + 7.0 left; Tuesday 7.0 = 5.0 cooked + 2.0 left; Wednesday 2.0 left
    spoiled   left 2.0 × 2 = 4.00; none is wanted later
    stands    Monday 1; Tuesday 2 (one is emptied, one filled); Wednesday 1
    money     Ann 3 × 2.5 h × 15 = 112.50, Ben 3 × 2.5 h × 12 = 90.00;
              energy 0.33 + 0.60 + 1.10 + 0.60 = 2.63: 205.13
    starts    redcurrant jelly on three days: 3

On Tuesday Ann minds the boil on the left ring and the softening on the right one, strains until 9:40, and
then tests the other pan at once.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.fruit import Grade, Lot, Place
from scheduler.domain.kitchen import DripStands
from scheduler.domain.people import Shift
from scheduler.domain.recipes import FruitShare
from scheduler.domain.trade import Good
from scheduler.law.composition import Kind
from scheduler.plan_rows import JarDay, Mix, Part, StageKind

from . import day_of_one_pan as one_pan
from . import worked_days as hand
from .worked_days import MONDAY, TUESDAY, at

WEDNESDAY = date(2026, 7, 8)
DAYS = (MONDAY, TUESDAY, WEDNESDAY)
JELLY = "redcurrant jelly"
CURRANTS = "redcurrant kitchen 2026-07-06"
OTHER = replace(hand.LARGE, name="other pan")

REDCURRANT = replace(
    hand.STRAWBERRY,
    name="redcurrant",
    letter="C",
    colour="red",
    solids=0.12,
    preparation_loss=0.0,
    prepare_kg_per_hour=24.0,
    cook_days=10.0,
    keeps_like="blackcurrant",
    wanted_later_kg=0.0,
)

REDCURRANT_JELLY = replace(
    hand.STRAWBERRY_JAM,
    name=JELLY,
    fruits=(FruitShare("redcurrant", 1.0, 1.0),),
    kind=Kind.JELLY,
    soften_minutes=20,
    strained_share=0.6,
    strain_kg_per_hour=60.0,
    water_per_kg=0.5,
    sugar_per_kg=0.5,
    lemons_per_kg=0.5,
    pectin_g_per_kg=0.0,
    dissolve_minutes=10,
    longest_boil_minutes=70,
)

KITCHEN = replace(
    hand.KITCHEN,
    pans=(hand.LARGE, OTHER),
    rings=(hand.LEFT, hand.RIGHT),
    drip_stands=DripStands(count=2, litres=7.5),
)

SITUATION = hand.situation(
    hand.scenario(
        days=3,
        kitchen=KITCHEN,
        fruits=(REDCURRANT,),
        recipes=(REDCURRANT_JELLY,),
        picks=(Lot(CURRANTS, "redcurrant", Grade.KITCHEN, 12.0, Place.CHILLER, MONDAY),),
        people=(one_pan.ANN, one_pan.BEN),
        shifts=tuple(Shift(name, day, at("8:00"), at("10:30"), 0) for day in DAYS for name in ("Ann", "Ben")),
        goods=(  # exactly what two batches take
            Good("sugar", "kg", 5.0, 1.25, lead_days=1),
            Good("lemons", "each", 6.0, 0.40, lead_days=1),
            Good("jar 340 g", "each", 24.0, 0.50, lead_days=1),
            Good("lid 63 mm", "each", 24.0, 0.10, lead_days=1),
        ),
    )
)

SOFTENED = replace(
    hand.LARGE_BATCH,
    recipe=JELLY,
    kg=5.0,
    filled=(),
    sugar_kg=0.0,
    lemons=0,
    pectin_g=0,
    set_temperature_c=0.0,
    last_jar_c=0.0,
    part=Part.SOFTEN,
)
BOILED = replace(
    SOFTENED,
    fill_step=0.7594,
    filled=(12,),
    sugar_kg=2.5,
    lemons=3,
    set_temperature_c=103.77,
    last_jar_c=73.66,
    part=Part.BOIL,
)
BATCHES = (
    replace(SOFTENED, id="b1", day=MONDAY),
    replace(BOILED, id="b2", day=TUESDAY, juice_of="b1"),
    replace(SOFTENED, id="b3", day=TUESDAY, pan=OTHER.name, ring=hand.RIGHT.name),
    replace(BOILED, id="b4", day=WEDNESDAY, juice_of="b3"),
)

MONDAY_STAGES = hand.stages(
    MONDAY,
    "b1",
    (
        (StageKind.PREPARE, "8:00", "8:15", "Ben"),
        (StageKind.SOFTEN, "8:15", "9:10", "Ann"),
        (StageKind.STRAIN, "9:10", "9:20", "Ann"),
        (StageKind.WASH, "9:20", "9:30", "Ann"),
    ),
)
JUICE_LINES = (
    (StageKind.DISSOLVE, "8:00", "8:30", "Ann"),
    (StageKind.BOIL, "8:30", "9:40", "Ann"),
    (StageKind.LOAD_JARS, "9:00", "9:05", "Ben"),
    (StageKind.SET_TEST, "9:40", "9:45", "Ann"),
    (StageKind.STAND, "9:45", "9:50", ""),
    (StageKind.POT_UP, "9:50", "10:00", "Ben"),
    (StageKind.WASH, "10:00", "10:10", "Ann"),
)
SECOND_STAGES = hand.stages(
    TUESDAY,
    "b3",
    (
        (StageKind.PREPARE, "8:00", "8:15", "Ben"),
        (StageKind.SOFTEN, "8:35", "9:30", "Ann"),
        (StageKind.STRAIN, "9:30", "9:40", "Ann"),
        (StageKind.WASH, "9:40", "9:50", "Ben"),
    ),
)

PLAN = hand.plan(
    {"spoiled": 4.0, "short": 0.0, "money": 205.13, "tidiness": 3.0},
    lots=(
        hand.lot_day(MONDAY, CURRANTS, arrived=12.0, cooked=5.0, left=7.0),
        hand.lot_day(TUESDAY, CURRANTS, opening=7.0, cooked=5.0, left=2.0),
        hand.lot_day(WEDNESDAY, CURRANTS, opening=2.0, left=2.0),
    ),
    mixes=tuple(Mix(day, JELLY, False, "redcurrant", 5.0, 0.0) for day in (MONDAY, TUESDAY)),
    draws=tuple(hand.draw(CURRANTS, 5.0, JELLY, day) for day in (MONDAY, TUESDAY)),
    batches=BATCHES,
    stages=(
        MONDAY_STAGES
        + hand.stages(TUESDAY, "b2", JUICE_LINES)
        + SECOND_STAGES
        + hand.stages(WEDNESDAY, "b4", JUICE_LINES)
    ),
    shifts=tuple(hand.shift(day, name, "8:00", "10:30") for day in DAYS for name in ("Ann", "Ben")),
    finishes=(
        hand.finish(MONDAY, "9:30"),
        hand.finish(TUESDAY, "10:10"),
        hand.finish(WEDNESDAY, "10:10"),
    ),
    jars=(
        JarDay(TUESDAY, JELLY, hand.JAR, made=12, shipped=0, left=12),
        JarDay(WEDNESDAY, JELLY, hand.JAR, made=12, shipped=0, left=24),
    ),
)
