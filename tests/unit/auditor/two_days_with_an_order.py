"""Worked by hand, the third plan: two days with an order, settling, a purchase, a break and overtime.

Monday and Tuesday each cook the batch of the first day (see ``worked_days``).

    fruit     Monday 20.0 = 6.0 sold + 5.0 cooked + 9.0 left; Tuesday 9.0 = 2.0 sold + 5.0 cooked + 2.0 left
    spoiled   strawberries sell until they are 1 day old and punnets take 6 kg a day: most saleable 12.0,
              sold 8.0: 4.0 × (5 − 2) = 12.00; left 2.0 × 2 = 4.00; 0.294 ÷ 0.98 = 0.3 kg are wanted later,
              and have (9 July − 7 July) = 2 of 3 days of cook life: saved 0.3 × 2 × 2 ÷ 3 = 0.40; 15.60
    order     30 jars due Tuesday. On hand 2, Monday's 23 have settled, Tuesday's have not: 25 filled
    short     5 jars missing × weight 2 = 10
    store     4.9 kg of sugar a day, 5.0 on hand: 9.8 − 5.0 = 4.8 kg to buy for Tuesday; it takes 1 day, so
              Monday is the last day to order; 4.8 × 1.25 = 6.00. Of everything else there is enough.
    people    Ann on Monday 8:00 to 13:00 and 30 min of overtime: 330 min, more than 270, so a break of 15;
              at 10:30 she has worked 150 min and has 165 to go, both at most 270. Tuesday 4 h: no break.
              Her week: 330 + 240 min = 9.5 h. From 13:30 to 8:00 she rests 1110 min
    money     Ann 5 h × 15 = 75, overtime 0.5 h × 22 = 11, Tuesday 60; Ben 2 × 48; energy 2 × 0.45;
              sugar 6; less 25 jars × 4: 146 + 96 + 0.90 + 6 − 100 = 148.90

Monday's pan is washed in Ann's overtime, at 13:00.
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.fruit import Grade, Lot, Place, PunnetDemand
from scheduler.domain.people import Person, Shift, Skill
from scheduler.domain.trade import Good, Order
from scheduler.plan_rows import DayShift, JarDay, Mix, OrderLine, Purchase, Stage, StageKind

from . import day_of_one_pan as one_pan
from . import worked_days as hand
from .worked_days import MONDAY, PICKED_MONDAY, TUESDAY, at

JAM = "strawberry jam"
FINN = Person("Finn", frozenset({Skill.FILL}), 10.0, 15.0, hours_week=20.0)

SITUATION = hand.situation(
    hand.scenario(
        days=2,
        kitchen=replace(hand.KITCHEN, close=at("13:10")),
        recipes=(replace(hand.STRAWBERRY_JAM, jars_on_hand=2),),
        picks=(Lot(PICKED_MONDAY, "strawberry", Grade.TABLE, 20.0, Place.CHILLER, MONDAY),),
        punnets=(PunnetDemand(MONDAY, "strawberry", 6.0), PunnetDemand(TUESDAY, "strawberry", 6.0)),
        people=(one_pan.ANN, one_pan.BEN, FINN),
        shifts=(
            Shift("Ann", MONDAY, at("8:00"), at("13:00"), 60),
            Shift("Ann", TUESDAY, at("8:00"), at("12:00"), 0),
            Shift("Ben", MONDAY, at("8:00"), at("12:00"), 0),
            Shift("Ben", TUESDAY, at("8:00"), at("12:00"), 0),
            Shift("Finn", MONDAY, at("14:00"), at("22:00"), 0),
            Shift("Finn", TUESDAY, at("7:00"), at("11:00"), 0),
        ),
        orders=(Order("order 1", "village shop", JAM, hand.JAR, 30, TUESDAY, price=4.0, weight=2),),
        goods=(
            Good("sugar", "kg", 5.0, 1.25, lead_days=1),
            Good("lemons", "each", 10.0, 0.40, lead_days=1),
            Good("pectin", "g", 50.0, 0.02, lead_days=1),
            Good("jar 340 g", "each", 46.0, 0.50, lead_days=1),
            Good("lid 63 mm", "each", 46.0, 0.10, lead_days=1),
        ),
    )
)


def _washed_in_overtime(stage: Stage) -> Stage:
    if stage.kind == StageKind.WASH:
        return replace(stage, start=at("13:00"), end=at("13:10"))
    return stage


MONDAY_STAGES = tuple(_washed_in_overtime(stage) for stage in one_pan.STAGES)
TUESDAY_STAGES = tuple(replace(stage, day=TUESDAY, batch="b2") for stage in one_pan.STAGES)

PLAN = hand.plan(
    {"spoiled": 15.60, "short": 10.0, "money": 148.90, "tidiness": 2.0},
    lots=(
        hand.lot_day(MONDAY, PICKED_MONDAY, arrived=20.0, sold=6.0, cooked=5.0, left=9.0),
        hand.lot_day(TUESDAY, PICKED_MONDAY, opening=9.0, sold=2.0, cooked=5.0, left=2.0),
    ),
    mixes=tuple(Mix(day, JAM, False, "strawberry", 4.9, 0.0) for day in (MONDAY, TUESDAY)),
    draws=tuple(hand.draw(PICKED_MONDAY, 5.0, JAM, day) for day in (MONDAY, TUESDAY)),
    batches=(hand.LARGE_BATCH, replace(hand.LARGE_BATCH, id="b2", day=TUESDAY)),
    stages=MONDAY_STAGES + TUESDAY_STAGES,
    shifts=(
        DayShift(MONDAY, "Ann", at("8:00"), at("13:00"), 30, at("10:30"), 15),
        hand.shift(TUESDAY, "Ann", "8:00", "12:00"),
        hand.shift(MONDAY, "Ben", "8:00", "12:00"),
        hand.shift(TUESDAY, "Ben", "8:00", "12:00"),
    ),
    finishes=(hand.finish(MONDAY, "13:10"), hand.finish(TUESDAY, "10:20")),
    jars=(
        JarDay(MONDAY, JAM, hand.JAR, made=23, shipped=0, left=25),
        JarDay(TUESDAY, JAM, hand.JAR, made=23, shipped=25, left=23),
    ),
    orders=(OrderLine("order 1", JAM, hand.JAR, TUESDAY, jars=30, filled=25),),
    purchases=(Purchase("sugar", 4.8, needed=TUESDAY, order_by=MONDAY, cost=6.0),),
)
