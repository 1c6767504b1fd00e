"""Worked by hand, the second day: two pans minded by one cook, freezer in and out, fruit over its life.

Monday. Strawberries lose 10 % in preparing, 9 kg an hour; raspberries nothing, 20 kg an hour. The jam takes
0.4 to 0.6 of each, a quarter from the freezer at most. The worst mix for water is 0.6 of strawberries:
solids 0.6 × 0.10 + 0.4 × 0.12 = 0.108; the slowest to prepare is the same: 0.6 ÷ 0.9 ÷ 9 + 0.4 ÷ 20 =
0.09407 h per kg. The large pan on the left ring (see ``worked_days`` for each step), and the small one on
the right:

              large                                      small
    kg        4.9                                        4 ÷ 1.6301 = 2.4538, so 2.4
    jam       4.9 × 1.108 ÷ 0.65 = 8.3526                2.4 × 1.108 ÷ 0.65 = 4.0911
    jars      8.3526 × 0.98 ÷ 0.34 = 24.08, so 24        11.79, so 11
    prepare   4.9 × 0.09407 × 60 = 27.7, so 30           13.5, so 15
    dissolve  9.8 × 3.0040 × 99.97 ÷ 90 = 32.7, so 35    4.8 × 3.0040 × 99.97 ÷ 90 = 16.0, so 20
              (55.4 % solids: 4.1868 − 55.4 × 0.021351 = 3.0040 kJ/(kg K); 1.5 kW × 60 s = 90 kJ a minute)
    water off 1.4474 kg: 36.3 min, so 40                 0.7089 kg: 17.8 min, so 20
    re-boils  0.9 of batches are to stay within the minutes; 0.8 do without, 1 − 0.04 = 0.96 with one
    pot up    24 ÷ (2 × 60 an hour) = 12, so 15          11: 5.5, so 10
    last jar  1500 s: exp(−0.3190): 80.89 °C             1200 s: exp(−0.3012): 81.98 °C
    energy    3 × (35 + 40 + 10) ÷ 60 × 0.12 = 0.51      3 × (20 + 20 + 10) ÷ 60 × 0.40 = 1.00

The mix, 4.9 + 2.4 = 7.3 kg: strawberries 3.6 (from 1.0 + 3.0 kg as picked × 0.9), raspberries 2.3 fresh and
1.4 thawed. Bands 2.92 to 4.38; frozen at most 1.825; fruit past its peak 1.0 × 0.9 = 0.9, at most 1.46.

    strawberries  of 3 July, on hand: this is its last day (3 + 3): 2.0 = 1.0 cooked + 1.0 spoiled
                  of 1 July, on hand: past its life, 0.5 spoiled
                  picked today: 10.0 = 4.0 sold + 3.0 cooked + 2.0 frozen + 0.5 given up + 0.5 left
    raspberries   picked today: 3.0 = 2.3 cooked + 0.7 left; nothing is lost in preparing, no punnets
    freezer       2.0 × 0.9 = 1.8 kg strawberries in, ⌊10 × 30.4⌋ = 304 days: use by 6 May 2027;
                  2.0 ÷ 9 × 60 = 13.3 min of preparing, so one piece of 15
                  raspberries: 0.3 of a lot past its date discarded; 1.4 thawed, first the lot of 1 August
                  left 1.8 + 1.6 = 3.4 kg; 3.4 ÷ 0.5 + 1.8 × (4 − 2) = 10.4 litres
    spoiled       strawberries: (1.0 + 0.5 + 0.5) × 2 = 4.00; left (0.5 + 1.8 ÷ 0.9) × 2 = 5.00; wanted later
                  1.89 ÷ 0.9 = 2.1 kg: 2.0 from the freezer, 0.1 fresh with its whole life, × 2 = 4.20; 4.80
                  raspberries: discarded 0.3 × 3 = 0.90; left (0.7 + 1.6) × 3 = 6.90; wanted later 2.0 × 3
                  = 6.00; 1.80. Together 6.60. (Of table grade 4.0 kg could be sold and were.)
    money         Cat 3 h × 15 = 45, Dan 3 h × 12 = 36, Eve 2 h × 10 = 20, energy 1.51: 102.51

Cat minds both pans from 9:50 to 10:00 (boil of the small one, re-boil of the large one, half of her for
each); at every other time she does one thing. Dan, who cooks too, dissolves the small batch and tests the
large one. The large pan stands off the heat from 10:05 to 10:25, the small one from 10:25 to 10:40.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.fruit import Grade, Lot, Place, PunnetDemand
from scheduler.domain.kitchen import Chiller, Freezer, JarOven
from scheduler.domain.people import Person, Shift, Skill
from scheduler.domain.recipes import FruitShare
from scheduler.domain.trade import Delivery, Good
from scheduler.plan_rows import JarDay, Mix, StageKind

from . import worked_days as hand
from .worked_days import LEFT, MONDAY, PICKED_MONDAY, RIGHT, STRAWBERRY, at

JAM = "two-berry jam"
LAST_DAY_LOT = "strawberry kitchen 2026-07-03"
PAST_LOT = "strawberry table 2026-07-01"
RASPBERRIES = "raspberry table 2026-07-06"
FROZEN_TODAY = "strawberry frozen 2026-07-06"
FROZEN_PAST, FROZEN_FIRST, FROZEN_NEXT = "raspberry lot A", "raspberry lot B", "raspberry lot C"
PAST, FIRST, NEXT = date(2026, 7, 5), date(2026, 8, 1), date(2026, 9, 1)

STRAWBERRIES = replace(STRAWBERRY, preparation_loss=0.10, prepare_kg_per_hour=9.0, wanted_later_kg=1.89)
RASPBERRY = replace(
    STRAWBERRY,
    name="raspberry",
    letter="R",
    colour="deeppink",
    solids=0.12,
    preparation_loss=0.0,
    prepare_kg_per_hour=20.0,
    cook_days=2.0,
    keeps_like="raspberry",
    table_value=6.0,
    kitchen_value=3.0,
    wanted_later_kg=2.0,
)

TWO_BERRY_JAM = replace(
    hand.STRAWBERRY_JAM,
    name=JAM,
    fruits=(FruitShare("strawberry", 0.4, 0.6), FruitShare("raspberry", 0.4, 0.6)),
    lemons_per_kg=0.0,
    pectin_g_per_kg=0.0,
    frozen_share=0.25,
)

KITCHEN = replace(
    hand.KITCHEN,
    pans=(hand.LARGE, hand.SMALL),
    rings=(LEFT, RIGHT),
    heatproof_places=1,
    oven=JarOven(jars=36, load_minutes=5, heat_minutes=20, hot_minutes=60),
    chiller=Chiller(kg=1.5, celsius=0.0),
    freezer=Freezer(kg=3.4, litres=11.0, freeze_kg_per_day=2.0, tray_litres_per_kg=4.0),
    fillers=2,
    jars_per_filler_hour=60.0,
    keep_share=0.9,
)

EVERYTHING = frozenset({Skill.PREPARE, Skill.COOK, Skill.FILL})
PEOPLE = (
    Person("Cat", EVERYTHING, 15.0, 22.0, hours_week=40.0),
    Person("Dan", EVERYTHING, 12.0, 18.0, hours_week=40.0),
    Person("Eve", frozenset({Skill.FILL}), 10.0, 15.0, hours_week=20.0),
)

SITUATION = hand.situation(
    hand.scenario(
        kitchen=KITCHEN,
        fruits=(STRAWBERRIES, RASPBERRY),
        recipes=(TWO_BERRY_JAM,),
        lots=(
            Lot(LAST_DAY_LOT, "strawberry", Grade.KITCHEN, 2.0, Place.CHILLER, date(2026, 7, 3)),
            Lot(PAST_LOT, "strawberry", Grade.TABLE, 0.5, Place.CHILLER, date(2026, 7, 1)),
            Lot(FROZEN_PAST, "raspberry", Grade.KITCHEN, 0.3, Place.FREEZER, date(2025, 7, 5), PAST),
            Lot(FROZEN_FIRST, "raspberry", Grade.KITCHEN, 1.0, Place.FREEZER, date(2025, 8, 1), FIRST),
            Lot(FROZEN_NEXT, "raspberry", Grade.KITCHEN, 2.0, Place.FREEZER, date(2025, 9, 1), NEXT),
        ),
        picks=(
            Lot(PICKED_MONDAY, "strawberry", Grade.TABLE, 10.0, Place.CHILLER, MONDAY),
            Lot(RASPBERRIES, "raspberry", Grade.TABLE, 3.0, Place.CHILLER, MONDAY),
        ),
        punnets=(PunnetDemand(MONDAY, "strawberry", 4.0),),
        people=PEOPLE,
        shifts=(
            Shift("Cat", MONDAY, at("8:00"), at("11:00"), 0),
            Shift("Dan", MONDAY, at("8:00"), at("11:00"), 0),
            Shift("Eve", MONDAY, at("9:00"), at("11:00"), 0),
        ),
        goods=(
            Good("sugar", "kg", 7.3, 1.25, lead_days=1),
            Good("jar 340 g", "each", 35.0, 0.50, lead_days=1),
            Good("lid 63 mm", "each", 5.0, 0.10, lead_days=1),
        ),
        deliveries=(Delivery(MONDAY, "lid 63 mm", 30.0),),
    )
)

LARGE_BATCH = replace(
    hand.LARGE_BATCH, id="large", recipe=JAM, filled=(24,), lemons=0, pectin_g=0, last_jar_c=80.89
)
SMALL_BATCH = replace(
    LARGE_BATCH,
    id="small",
    pan="small pan",
    ring="right ring",
    kg=2.4,
    filled=(11,),
    sugar_kg=2.4,
    last_jar_c=81.98,
)

LARGE_STAGES = hand.stages(
    MONDAY,
    "large",
    (
        (StageKind.PREPARE, "8:00", "8:30", "Cat"),
        (StageKind.LOAD_JARS, "9:00", "9:05", "Eve"),
        (StageKind.DISSOLVE, "8:30", "9:05", "Cat"),
        (StageKind.BOIL, "9:05", "9:45", "Cat"),
        (StageKind.SET_TEST, "9:45", "9:50", "Dan"),
        (StageKind.REBOIL, "9:50", "10:00", "Cat"),
        (StageKind.SET_TEST, "10:00", "10:05", "Dan"),
        (StageKind.STAND, "10:05", "10:10", ""),
        (StageKind.POT_UP, "10:10", "10:25", "Dan Eve"),
        (StageKind.WASH, "10:25", "10:35", "Eve"),
    ),
)
SMALL_STAGES = hand.stages(
    MONDAY,
    "small",
    (
        (StageKind.PREPARE, "8:00", "8:15", "Dan"),
        (StageKind.LOAD_JARS, "9:30", "9:35", "Eve"),
        (StageKind.DISSOLVE, "9:25", "9:45", "Dan"),
        (StageKind.BOIL, "9:45", "10:05", "Cat"),
        (StageKind.SET_TEST, "10:05", "10:10", "Cat"),
        (StageKind.REBOIL, "10:10", "10:20", "Cat"),
        (StageKind.SET_TEST, "10:20", "10:25", "Cat"),
        (StageKind.STAND, "10:25", "10:30", ""),
        (StageKind.POT_UP, "10:30", "10:40", "Cat Dan"),
        (StageKind.WASH, "10:40", "10:50", "Eve"),
    ),
)
FREEZE_STAGES = hand.stages(MONDAY, "", ((StageKind.FREEZE, "8:15", "8:30", "Dan"),))

PLAN = hand.plan(
    {"spoiled": 6.60, "short": 0.0, "money": 102.51, "tidiness": 1.0},
    lots=(
        hand.lot_day(MONDAY, LAST_DAY_LOT, opening=2.0, cooked=1.0, spoiled=1.0),
        hand.lot_day(MONDAY, PAST_LOT, opening=0.5, spoiled=0.5),
        hand.lot_day(
            MONDAY, PICKED_MONDAY, arrived=10.0, sold=4.0, cooked=3.0, frozen=2.0, given_up=0.5, left=0.5
        ),
        hand.lot_day(MONDAY, RASPBERRIES, arrived=3.0, cooked=2.3, left=0.7),
    ),
    mixes=(
        Mix(MONDAY, JAM, False, "strawberry", 3.6, 0.0),
        Mix(MONDAY, JAM, False, "raspberry", 2.3, 1.4),
    ),
    draws=(
        hand.draw(LAST_DAY_LOT, 1.0, JAM),
        hand.draw(PICKED_MONDAY, 3.0, JAM),
        hand.draw(RASPBERRIES, 2.3, JAM),
        hand.draw(FROZEN_FIRST, 1.0, JAM),
        hand.draw(FROZEN_NEXT, 0.4, JAM),
    ),
    freezer=(
        hand.freezer_day(FROZEN_PAST, PAST, opening=0.3, discarded=0.3),
        hand.freezer_day(FROZEN_FIRST, FIRST, opening=1.0, thawed=1.0),
        hand.freezer_day(FROZEN_NEXT, NEXT, opening=2.0, thawed=0.4, left=1.6),
        hand.freezer_day(FROZEN_TODAY, date(2027, 5, 6), frozen=1.8, left=1.8),
    ),
    batches=(LARGE_BATCH, SMALL_BATCH),
    stages=LARGE_STAGES + SMALL_STAGES + FREEZE_STAGES,
    shifts=(
        hand.shift(MONDAY, "Cat", "8:00", "11:00"),
        hand.shift(MONDAY, "Dan", "8:00", "11:00"),
        hand.shift(MONDAY, "Eve", "9:00", "11:00"),
    ),
    finishes=(hand.finish(MONDAY, "10:50"),),
    jars=(JarDay(MONDAY, JAM, hand.JAR, made=35, shipped=0, left=35),),
)
