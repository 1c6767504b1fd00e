"""Worked by hand, the first day: one pan, one ring, one fruit, cooked and sold.

Monday: 12 kg of strawberries are picked, punnets may take 6 kg.

    fruit     12.0 = 6.0 sold + 5.0 cooked + 1.0 left; 5.0 kg as picked × 0.98 = 4.9 kg prepared
    spoiled   most saleable 6.0, sold 6.0: nothing lost; left 1.0 kg × 2 = 2.00;
              0.294 kg are wanted later, 0.294 ÷ 0.98 = 0.3 kg as picked, and the lot still has its whole
              cook life of 3 days: saved 0.3 × 2 = 0.60; 2.00 − 0.60 = 1.40
    money     Ann 4 h × 15 = 60, Ben 4 h × 12 = 48, energy 0.45: 108.45
    timetable prepare 20 + 20, then 35 + 40 + 5 + 5 + 15 without a wait from 8:30 to 10:10, wash 10;
              jars are in the oven by 9:00, hot from 9:20 to 10:20, potting starts at 9:55
"""

from __future__ import annotations

from scheduler.domain.fruit import Grade, Lot, Place, PunnetDemand
from scheduler.domain.people import Person, Shift, Skill
from scheduler.domain.trade import Good
from scheduler.plan_rows import JarDay, Mix, StageKind

from . import worked_days as hand
from .worked_days import MONDAY, PICKED_MONDAY, at

ANN = Person("Ann", frozenset({Skill.PREPARE, Skill.COOK, Skill.FILL}), 15.0, 22.0, hours_week=9.5)
BEN = Person("Ben", frozenset({Skill.PREPARE, Skill.FILL}), 12.0, 18.0, hours_week=40.0)

GOODS = (  # exactly what one batch takes
    Good("sugar", "kg", 4.9, 1.25, lead_days=1),
    Good("lemons", "each", 5.0, 0.40, lead_days=1),
    Good("pectin", "g", 25.0, 0.02, lead_days=1),
    Good("jar 340 g", "each", 23.0, 0.50, lead_days=1),
    Good("lid 63 mm", "each", 23.0, 0.10, lead_days=1),
)

SITUATION = hand.situation(
    hand.scenario(
        picks=(Lot(PICKED_MONDAY, "strawberry", Grade.TABLE, 12.0, Place.CHILLER, MONDAY),),
        punnets=(PunnetDemand(MONDAY, "strawberry", 6.0),),
        people=(ANN, BEN),
        shifts=(
            Shift("Ann", MONDAY, at("8:00"), at("12:00"), 0),
            Shift("Ben", MONDAY, at("8:00"), at("12:00"), 0),
            Shift("Ben", MONDAY, at("8:00"), at("9:30"), 0),
        ),
        goods=GOODS,
    )
)

STAGES = hand.stages(
    MONDAY,
    "b1",
    (
        (StageKind.PREPARE, "8:00", "8:20", "Ann"),
        (StageKind.PREPARE, "8:00", "8:20", "Ben"),
        (StageKind.LOAD_JARS, "8:55", "9:00", "Ben"),
        (StageKind.DISSOLVE, "8:30", "9:05", "Ann"),
        (StageKind.BOIL, "9:05", "9:45", "Ann"),
        (StageKind.SET_TEST, "9:45", "9:50", "Ann"),
        (StageKind.STAND, "9:50", "9:55", ""),
        (StageKind.POT_UP, "9:55", "10:10", "Ben"),
        (StageKind.WASH, "10:10", "10:20", "Ann"),
    ),
)

PLAN = hand.plan(
    {"spoiled": 1.40, "short": 0.0, "money": 108.45, "tidiness": 1.0},
    lots=(hand.lot_day(MONDAY, PICKED_MONDAY, arrived=12.0, sold=6.0, cooked=5.0, left=1.0),),
    mixes=(Mix(MONDAY, "strawberry jam", False, "strawberry", 4.9, 0.0),),
    draws=(hand.draw(PICKED_MONDAY, 5.0, "strawberry jam"),),
    batches=(hand.LARGE_BATCH,),
    stages=STAGES,
    shifts=(hand.shift(MONDAY, "Ann", "8:00", "12:00"), hand.shift(MONDAY, "Ben", "8:00", "12:00")),
    finishes=(hand.finish(MONDAY, "10:20"),),
    jars=(JarDay(MONDAY, "strawberry jam", hand.JAR, made=23, shipped=0, left=23),),
)
