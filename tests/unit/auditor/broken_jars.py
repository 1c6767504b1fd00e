"""Worked days broken in rules 62 to 65 and in jar sizes, and what is just inside them.

One batch fills 23 jars of 340 g of 8.2923 × 0.98 = 8.1265 kg; 138 jars an hour are washed in 10 min. In two
sizes: half is 4.0632 kg, 11 jars of 340 g, and 8.1265 − 3.74 = 4.3865 kg fill 19 of 220 g; 30 jars are
potted in the same 15 min. The two pans fill 24 + 11 = 35 jars on a day. The two days with an order leave
25 jars on Monday, 23 of them made that day, and 23 on Tuesday, all of them made that day.
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.recipes import JarSize
from scheduler.domain.trade import Good
from scheduler.plan_rows import JarDay, Stage, StageKind

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import Breaks, Change, added, goal, kitchen, recipe, rows, scenario
from .worked_days import JAR, MONDAY, TUESDAY, at

NONE = ""
JAM = two_days.JAM
ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
PANS = Breaks(two_pans.SITUATION, two_pans.PLAN)
DAYS = Breaks(two_days.SITUATION, two_days.PLAN)
IN_ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
IN_PANS = Breaks(two_pans.SITUATION, two_pans.PLAN)
IN_DAYS = Breaks(two_days.SITUATION, two_days.PLAN)
"""None of those that begin with IN breaks any rule."""

# ---- 62: washing jars ----

WASHING = kitchen(oven=replace(hand.KITCHEN.oven, wash_jars_per_hour=138.0))


def washed(start: str, end: str) -> Change:
    return added("stages", Stage(MONDAY, "b1", StageKind.WASH_JARS, at(start), at(end), ("Ben",)))


IN_ONE.add(NONE, "jars are washed until they are loaded", WASHING, washed("8:45", "8:55"))
ONE.add("jars-washed", "jars are not washed", WASHING)
ONE.add("jars-washed", "jars are washed in too short a time", WASHING, washed("8:45", "8:50"))
ONE.add("jars-washed", "jars are washed where they come clean", washed("8:45", "8:55"))
ONE.add("jars-washed", "jars are washed after they are loaded", WASHING, washed("9:00", "9:10"))

# ---- 63: sample, scrap and sizes ----

LESS_ONE = (
    rows("jars", {"day": MONDAY}, made=22, left=24),
    rows("jars", {"day": TUESDAY}, made=22, shipped=24, left=22),
    rows("orders", {}, filled=24),
    goal("short", 12.0),  # 6 × 2
    goal("money", 152.90),  # a jar less at 4
)
IN_DAYS.add(NONE, "a jar of each batch is held back", kitchen(sample_jars=1), *LESS_ONE)
IN_DAYS.add(NONE, "a jar of each batch is scrap", kitchen(scrap_share=0.04), *LESS_ONE)  # 23 × 0.96 = 22.08
DAYS.add("shipped", "the retained sample is for sale", kitchen(sample_jars=1))
DAYS.add("shipped", "scrap is for sale", kitchen(scrap_share=0.05), *LESS_ONE)  # 23 × 0.95 = 21.85
ONE.add("batch-card shipped goal-value", "a batch of nothing but its sample", kitchen(sample_jars=23))

SMALL = "jar 220 g"
IN_SIZES = (
    recipe(
        more_sizes=(JarSize(SMALL, "lid 63 mm", 0.22),), fill_shares=((1.0, 0.0), (0.5, 0.5)), most_jars=30
    ),
    kitchen(oven=replace(hand.KITCHEN.oven, jars=30)),
    scenario(
        goods=(
            *one_pan.GOODS[:3],
            Good(JAR, "each", 11.0, 0.50, lead_days=1),
            Good(SMALL, "each", 19.0, 0.40, lead_days=1),
            Good("lid 63 mm", "each", 30.0, 0.10, lead_days=1),
        )
    ),
    rows("batches", {}, filled=(11, 19)),
    rows("jars", {}, made=11, left=11),
    added("jars", JarDay(MONDAY, JAM, SMALL, made=19, shipped=0, left=19)),
)  # fmt: skip
OTHER_JARS = (
    rows("batches", {}, filled=(11, 18)),
    rows("jars", {"jar": SMALL}, made=18, left=18),
)
ALL_IN_ONE = (
    rows("batches", {}, filled=(23, 0)),
    rows("jars", {"jar": JAR}, made=23, left=23),
    rows("jars", {"jar": SMALL}, made=0, left=0),
    scenario(goods=one_pan.GOODS),
)
IN_ONE.add(NONE, "half in each of two sizes", *IN_SIZES)
ONE.add("batch-card", "a jar less than the batch fills", *IN_SIZES, *OTHER_JARS)
ONE.add("batch-card", "what is left over fills no small jar", *IN_SIZES, *ALL_IN_ONE)  # 23 and 1 of 220 g
ONE.add("most-jars", "too many jars of both sizes", *IN_SIZES, recipe(
    more_sizes=(JarSize(SMALL, "lid 63 mm", 0.22),), fill_shares=((0.5, 0.5),), most_jars=29
))  # fmt: skip
ONE.add("store", "too few small jars", *IN_SIZES, scenario(goods=(
    *one_pan.GOODS[:4], Good(SMALL, "each", 18.0, 0.40, lead_days=1), Good("lid 63 mm", "each", 30.0, 0.1, 1)
)))  # fmt: skip
ONE.add("shipped", "jars of a size are left out", *IN_SIZES, rows("jars", {"jar": SMALL}, made=0, left=0))

# ---- 64: racks; 65: shelves ----

IN_PANS.add(NONE, "the racks hold the jars of both pans", kitchen(rack_jars=35))
PANS.add("cooling-racks", "a jar more than the racks hold", kitchen(rack_jars=34))

IN_DAYS.add(NONE, "the shelves hold what is left", kitchen(shelf_jars=25))
IN_DAYS.add(NONE, "today's jars are on the racks", kitchen(rack_jars=23, shelf_jars=2))
DAYS.add("shelf-room", "a jar more than the shelves hold", kitchen(shelf_jars=24))
DAYS.add("shelf-room", "a jar more besides those on the racks", kitchen(rack_jars=23, shelf_jars=1))

BREAKS = [*ONE.all, *PANS.all, *DAYS.all]
INSIDE = [*IN_ONE.all, *IN_PANS.all, *IN_DAYS.all]
