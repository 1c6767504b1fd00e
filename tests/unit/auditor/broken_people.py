"""Good plans broken in hands, people, store, orders, goals and header: rules 25 to 38.

Where a break changes what a goal is worth, the goal is restated, with the arithmetic beside it, so
that only the rule itself is broken. Where another rule must be broken too, a comment says why.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.trade import Order
from scheduler.plan_rows import DayShift, JarDay, OrderLine, Purchase, StageKind, Totals

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import (
    Breaks,
    added,
    dropped,
    finish,
    goal,
    header,
    kitchen,
    moved,
    rows,
    scenario,
)
from .worked_days import MONDAY, TUESDAY, at

ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
ORDER = Breaks(two_days.SITUATION, two_days.PLAN)
ANN_MONDAY = {"person": "Ann", "day": MONDAY}

# ---- hands and people, rules 25 to 32 ----

ONE.add("hands", "a boil minded by nobody", rows("stages", {"kind": StageKind.BOIL}, people=()))
ONE.add("hands", "a boil minded by no cook", rows("stages", {"kind": StageKind.BOIL}, people=("Ben",)))
ONE.add(
    "hands", "somebody waits at a standing pan", rows("stages", {"kind": StageKind.STAND}, people=("Ann",))
)
TWO.add(
    "hands",
    "one filler, named twice",
    rows("stages", {"kind": StageKind.POT_UP, "batch": "large"}, people=("Dan", "Dan")),
)
ONE.add("presence", "work after going home", moved(110, kind=StageKind.WASH), finish("12:10"))
ORDER.add(
    "presence",
    "work in a break",
    moved(-150, kind=StageKind.WASH, batch="b1"),  # 10:30, when Ann's break starts
    finish("10:40"),
)
ONE.add(
    "presence people-while-boiling",  # Ann is the second of the two who must be there
    "work without a shift",
    dropped("shifts", person="Ann"),
    goal("money", 48.45),  # 60 less of pay
)
ONE.add(
    "two-places", "loads jars and dissolves", rows("stages", {"kind": StageKind.LOAD_JARS}, people=("Ann",))
)
TWO.add("two-places", "minds two pans where one is the most", kitchen(pans_per_cook=1))
ONE.add(
    "people-while-boiling",
    "the second person goes home during the boil",
    rows("shifts", {"person": "Ben"}, end=at("9:30")),  # an hour and a half, as he offers too
    rows("stages", {"kind": StageKind.POT_UP}, people=("Ann",)),
    goal("money", 78.45),  # Ben 1.5 × 12 = 18 instead of 48
)
TWO.add(
    "people-while-boiling break",  # nobody owes a break that day, so the break itself is wrong, too
    "the second person is on a break during the boil",
    rows("shifts", {"person": "Dan"}, break_start=at("8:45"), break_minutes=15),  # Eve comes at 9:00
)
ONE.add(
    "shift-offered",
    "half an hour more than is offered",
    rows("shifts", {"person": "Ann"}, end=at("12:30")),
    goal("money", 115.95),  # 7.50 more of pay
)
ONE.add(
    "shift-offered",
    "two shifts on one day",
    added("shifts", hand.shift(MONDAY, "Ben", "8:00", "9:30")),
    goal("money", 126.45),  # 18 more of pay
)
ORDER.add(
    "shift-offered",
    "overtime that is no multiple of 30",
    rows("shifts", ANN_MONDAY, overtime_minutes=15),
    goal("money", 143.40),  # 5.50 less of overtime
)
ORDER.add(
    "shift-offered",
    "overtime that is not offered",
    rows("shifts", {"person": "Ben", "day": MONDAY}, overtime_minutes=30),
    goal("money", 157.90),  # 0.5 h × 18 more
)
ORDER.add(
    "break", "no break where one is owed", rows("shifts", ANN_MONDAY, break_start=None, break_minutes=0)
)
ORDER.add("break", "a break too short", rows("shifts", ANN_MONDAY, break_minutes=10))
ORDER.add("break", "a break off the steps of 5 min", rows("shifts", ANN_MONDAY, break_start=at("10:32")))
ORDER.add("break", "275 min before the break", rows("shifts", ANN_MONDAY, break_start=at("12:35")))
ORDER.add(
    "break",
    "a break as late as the last minute",
    rows("shifts", ANN_MONDAY, break_start=at("13:15")),
    scenario(work_rules=replace(hand.WORK_RULES, longest_stretch_minutes=320)),  # 315 before, 0 after
)
ONE.add(
    "break",
    "a break where none is owed",
    rows("shifts", {"person": "Ann"}, break_start=at("11:00"), break_minutes=15),
)
ORDER.add(
    "hours-week",
    "an hour of overtime",
    rows("shifts", ANN_MONDAY, overtime_minutes=60),  # 6 h and 4 h, at most 9.5
    goal("money", 159.90),  # 11 more of overtime
)
ORDER.add(
    "rest",
    "late on Monday, early on Tuesday",
    added(
        "shifts",
        DayShift(MONDAY, "Finn", at("14:00"), at("22:00"), 0, at("18:00"), 15),
        hand.shift(TUESDAY, "Finn", "7:00", "11:00"),  # 9 h after leaving, at least 11
    ),
    goal("money", 268.90),  # 12 h × 10 more
)

# ---- store and orders, rules 33 to 35 ----

ORDER.add(
    "store",
    "0.1 kg of sugar too little is bought",
    rows("purchases", {}, quantity=4.7, cost=5.88),
    goal("money", 148.78),
)
ORDER.add(
    "store",
    "a lemon is sold back",
    added("purchases", Purchase("lemons", -1.0, TUESDAY, MONDAY, -0.40)),
    goal("money", 148.50),
)
TWO.add("store", "lids are not delivered", scenario(deliveries=()))
ONE.add("store", "a good that the store does not list", scenario(goods=one_pan.GOODS[:1] + one_pan.GOODS[2:]))
ORDER.add("lead-time", "ordered too late", rows("purchases", {}, order_by=TUESDAY))
ORDER.add(
    "lead-time",
    "needed before it can come",
    rows("purchases", {}, needed=MONDAY, order_by=date(2026, 7, 5)),
)
ORDER.add("lead-time", "the cost is not its price", rows("purchases", {}, cost=6.5), goal("money", 149.40))
ORDER.add(
    "shipped",
    "a jar ships before it has settled",
    rows("orders", {}, filled=26),
    rows("jars", {"day": TUESDAY}, shipped=26, left=22),
    goal("short", 8.0),
    goal("money", 144.90),  # a jar more is sold
)
ORDER.add("shipped", "shipped is not filled", rows("jars", {"day": TUESDAY}, shipped=24, left=24))
ORDER.add("shipped", "made is not what the batches fill", rows("jars", {"day": TUESDAY}, made=22, left=22))
ORDER.add("shipped", "a jar is lost", rows("jars", {"day": TUESDAY}, left=22))
ORDER.add(
    "shipped",
    "two rows for a recipe and day",
    added("jars", JarDay(MONDAY, two_days.JAM, hand.JAR, 0, 0, 25)),
)
ORDER.add("shipped", "the line is not as ordered", rows("orders", {}, jars=31))
ORDER.add(
    "shipped",
    "an order has no line",
    dropped("orders", order="order 1"),
    rows("jars", {"day": TUESDAY}, shipped=0, left=48),
    goal("short", 60.0),  # 30 × 2
    goal("money", 248.90),  # nothing is sold
)
ORDER.add(
    "shipped",
    "an order has two lines",
    added("orders", OrderLine("order 1", two_days.JAM, hand.JAR, TUESDAY, 30, 0)),
)
ORDER.add(
    "shipped",
    "more is filled than ordered",
    scenario(orders=(replace(two_days.SITUATION.scenario.orders[0], jars=24),)),
    rows("orders", {}, jars=24),
    goal("short", -2.0),
)
ORDER.add(
    "shipped",
    "a line of an order that is not due yet",
    scenario(
        orders=(
            *two_days.SITUATION.scenario.orders,
            Order("order 2", "village shop", two_days.JAM, hand.JAR, 5, date(2026, 7, 9), 4.0, 1),
        )
    ),
    added("orders", OrderLine("order 2", two_days.JAM, hand.JAR, date(2026, 7, 9), 5, 0)),
)

# ---- goals, header and totals, rules 36 to 39 ----

for name, value in (("spoiled", 15.65), ("short", 5.0), ("money", 148.85), ("tidiness", 1.0)):
    ORDER.add("goal-value", f"{name} is not what the rows give", goal(name, value))
for words, broken in (
    ("the bound is better than the best", {"bound": 10.06}),
    ("the value is outside best and slack", {"best": 9.5, "bound": 9.5}),
    ("slack where the best is 0", {"best": 0.0, "bound": 0.0, "slack": 10.5}),
    ("slack below 0", {"best": 11.0, "bound": 11.0, "slack": -0.5}),
    ("slack where the kitchen allows none", {"best": 10.0, "bound": 10.0, "slack": 0.5}),
    ("a cap below best and slack", {"best": 10.0, "bound": 10.0, "slack": 0.5, "cap": 10.2}),
    ("a cap above best and slack", {"best": 10.0, "bound": 10.0, "slack": 0.5, "cap": 11.0}),
    ("a gap of 0 that is none", {"bound": 9.0}),
):
    ORDER.add("goal-proof", words, rows("goals", {"name": "short"}, **broken))
ORDER.add("goal-proof", "optimal with a gap", rows("goals", {"name": "money"}, gap=0.1))
ORDER.add("goal-value", "a goal is missing", dropped("goals", name="tidiness"))
ORDER.add("goal-value", "goals out of rank", header(goals=two_days.PLAN.goals[::-1]))
for values in (
    {"schema": hand.PLAN_SCHEMA + 1},
    {"scenario": "another"},
    {"kitchen_id": "another"},
    {"currency": "another"},
    {"as_of": TUESDAY},
    {"input_hash": "another"},
):
    ONE.add("plan-header", f"{next(iter(values))} is another", header(**values))
ONE.add("totals", "the finish is not the last end", rows("finishes", {}, ends=at("10:25")))
ONE.add("totals", "the finish is earlier than was proved possible", rows("finishes", {}, bound=at("10:25")))
HABIT = Totals(
    picked=12.0,
    opening=0.0,
    sold=6.0,
    cooked=4.9,
    frozen=0.0,
    trimmed=0.1,
    given_up=0.0,
    spoiled=0.0,
    left=0.9,  # 6.0 + 4.9 + 0.1 + 0.9 = 11.9 of 12.0
    thawed=0.0,
    discarded=0.0,
    made=23,
    short=0,
)
ONE.add("totals", "the habit loses fruit", header(habit=HABIT))

BREAKS = [*ONE.all, *TWO.all, *ORDER.all]
