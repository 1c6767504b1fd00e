"""The two days with an order, with labels, and an eve of the two pans: rules 66 to 68.

Labels: of Monday's 23 jars all are labelled on Tuesday, one person at 60 an hour: 23 min, so one piece of 25.
On hand 2: 25 are filled of the order due that day.

Taking out: on Monday 1.4 kg of raspberries are thawed. Sunday is planned as well; Eve comes in for an hour,
10 more of money, and takes them out in 12 min, so 15. The lot past its date is discarded on Sunday, the one
past its life is not there: 6.60 − 0.5 × 2 = 5.60. On Sunday evening 2.0 kg lie in the chiller, 1.4 kg thaw.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from scheduler.domain.kitchen import Labels
from scheduler.domain.people import Shift
from scheduler.domain.trade import ShopDemand
from scheduler.plan_rows import FreezerDay, ShopStock, Stage, StageKind

from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import Breaks, Change, added, dropped, finish, goal, kitchen, rows, scenario
from .worked_days import MONDAY, TUESDAY, at

NONE = ""
JAM = two_days.JAM
SUNDAY = MONDAY - timedelta(days=1)


def chore(kind: StageKind, start: str, end: str, who: str, day: Any = TUESDAY, batch: str = "") -> Stage:
    return Stage(day, batch, kind, at(start), at(end), tuple(who.split()))


def label(start: str, end: str, who: str = "Ben", day: Any = TUESDAY, batch: str = "") -> Change:
    return added("stages", chore(StageKind.LABEL, start, end, who, day, batch))


def jars(day: Any, **values: int) -> Change:
    return rows("jars", {"day": day}, **values)


def tuesday(ends: str) -> Change:
    return rows("finishes", {"day": TUESDAY}, ends=at(ends), bound=at(ends))


def pace(an_hour: float, within_days: int = 7) -> Change:
    return kitchen(labels=Labels(an_hour, within_days))


UNLABELLED = Breaks(two_days.SITUATION, two_days.PLAN)
WITHOUT = Breaks(two_days.SITUATION, two_days.PLAN)
WITHOUT.add(NONE, "labelled", pace(60.0), jars(TUESDAY, labelled=23), label("9:00", "9:25"))
(LABELLED,) = WITHOUT.all
LABELS = Breaks(LABELLED.situation, LABELLED.plan)
INSIDE = Breaks(LABELLED.situation, LABELLED.plan)
"""Each of these breaks no rule."""

RELABEL = dropped("stages", kind=StageKind.LABEL)

# ---- 66: which jars ----

FEWER = (  # 20 of the order: 10 missing × 2; 20 × 4 less of income than 100
    rows("orders", {}, filled=20),
    jars(TUESDAY, shipped=20, left=28),
    goal("short", 20.0),
    goal("money", 168.9),
)
INSIDE.add(NONE, "labelled on the last day of it", pace(60.0, within_days=1))
INSIDE.add(
    NONE, "no more than are shipped", *FEWER, jars(TUESDAY, labelled=18), RELABEL, label("9:00", "9:20")
)
INSIDE.add(NONE, "the shop has what is labelled", *FEWER, jars(TUESDAY, labelled=20), RELABEL,
           label("9:00", "9:20"), scenario(shop=(ShopDemand(TUESDAY, JAM, hand.JAR, 2),)),
           added("shop", ShopStock(TUESDAY, JAM, hand.JAR, 2, 2)))  # fmt: skip
LABELS.add("shop-stock", "jars without a label for the shop", *FEWER, jars(TUESDAY, labelled=20), RELABEL,
           label("9:00", "9:20"), scenario(shop=(ShopDemand(TUESDAY, JAM, hand.JAR, 2),)),
           added("shop", ShopStock(TUESDAY, JAM, hand.JAR, 2, 5)))  # fmt: skip
LABELS.add("labelled", "a jar is shipped without a label", jars(TUESDAY, labelled=22))
LABELS.add("labelled", "a jar too many", jars(TUESDAY, labelled=24))
LABELS.add("labelled", "on the day of potting", jars(TUESDAY, labelled=22), jars(MONDAY, labelled=1),
           label("10:20", "10:25", day=MONDAY))  # fmt: skip
LABELS.add("labelled", "not within its days", *FEWER, pace(60.0, within_days=1), jars(TUESDAY, labelled=22))
LABELS.add("labelled", "less than none", *FEWER, jars(MONDAY, labelled=-1), jars(TUESDAY, labelled=21))
UNLABELLED.add("labelled", "where the kitchen has no labels", jars(TUESDAY, labelled=23))

# ---- 67: their minutes ----

INSIDE.add(NONE, "the rest after half an hour", pace(40.0), RELABEL, label("9:00", "9:30"),
           label("9:30", "9:35"))  # fmt: skip
INSIDE.add(NONE, "just so many minutes", pace(55.2))
LABELS.add("label-work", "a little slower", pace(55.1))
LABELS.add("label-work", "nobody labels", RELABEL)
LABELS.add("label-work", "in two pieces", RELABEL, label("9:00", "9:15"), label("9:15", "9:25"))
LABELS.add("label-work", "where there is nothing to label", label("10:20", "10:25", day=MONDAY))
LABELS.add("stage-list", "labels of a batch", RELABEL, label("9:00", "9:25", batch="b2"))
LABELS.add("hands", "two label together", RELABEL, label("10:20", "10:45", "Ann Ben"), tuesday("10:45"))
LABELS.add("two-places", "labels while potting up", RELABEL, label("9:50", "10:15"))
LABELS.add("presence", "labels after going home", RELABEL, label("11:45", "12:10"), tuesday("12:10"))

# ---- 68: taking out ----


def _eve() -> Breaks:
    """Sunday before the day of two pans."""
    farm = two_pans.SITUATION.scenario
    farm = replace(
        farm,
        start=SUNDAY,
        days=2,
        kitchen=replace(farm.kitchen, chiller=replace(farm.kitchen.chiller, kg=3.4), take_out_minutes=12),
        lots=tuple(lot for lot in farm.lots if lot.name != two_pans.PAST_LOT),
        shifts=(*farm.shifts, Shift("Eve", SUNDAY, at("9:00"), at("10:00"), 0)),
    )
    plan = two_pans.PLAN
    monday = tuple(row for row in plan.freezer if row.lot != two_pans.FROZEN_PAST)
    sunday = (
        FreezerDay(SUNDAY, two_pans.FROZEN_PAST, "raspberry", two_pans.PAST, 0.3, 0.0, 0.0, 0.3, 0.0),
        FreezerDay(SUNDAY, two_pans.FROZEN_FIRST, "raspberry", two_pans.FIRST, 1.0, 0.0, 0.0, 0.0, 1.0),
        FreezerDay(SUNDAY, two_pans.FROZEN_NEXT, "raspberry", two_pans.NEXT, 2.0, 0.0, 0.0, 0.0, 2.0),
    )
    goals = {"spoiled": 5.60, "short": 0.0, "money": 112.51, "tidiness": 1.0}
    plan = replace(
        plan,
        as_of=SUNDAY,
        goals=tuple(
            replace(g, value=goals[g.name], best=goals[g.name], bound=goals[g.name]) for g in plan.goals
        ),
        lots=(
            hand.lot_day(SUNDAY, two_pans.LAST_DAY_LOT, opening=2.0, left=2.0),
            *(row for row in plan.lots if row.lot != two_pans.PAST_LOT),
        ),
        freezer=(*sunday, *monday),
        stages=(*plan.stages, TAKEN),
        shifts=(*plan.shifts, hand.shift(SUNDAY, "Eve", "9:00", "10:00")),
        finishes=(hand.finish(SUNDAY, "9:45"), *plan.finishes),
    )
    return Breaks(hand.situation(farm), plan)


TAKEN = chore(StageKind.TAKE_OUT, "9:30", "9:45", "Eve", SUNDAY)
EVE = _eve()
ON_THE_EVE = Breaks(EVE.situation, EVE.plan)
"""Each of these breaks no rule."""

NOT_TAKEN = dropped("stages", kind=StageKind.TAKE_OUT)
NO_FINISH = dropped("finishes", day=SUNDAY)


def taken(start: str, end: str, who: str = "Eve", day: Any = SUNDAY) -> tuple[Change, Change]:
    ends = rows("finishes", {"day": SUNDAY}, ends=at(end), bound=at(end))
    return added("stages", chore(StageKind.TAKE_OUT, start, end, who, day)), ends


def on_monday(who: str) -> tuple[Change, Change]:
    return added("stages", chore(StageKind.TAKE_OUT, "10:50", "11:00", who, MONDAY)), finish("11:00")


ON_THE_EVE.add(NONE, "in the last minutes of a shift", NOT_TAKEN, *taken("9:45", "10:00"))
ON_THE_EVE.add(NONE, "in just so many minutes", kitchen(take_out_minutes=15))
ON_THE_EVE.add(NONE, "where it takes nobody's time", kitchen(take_out_minutes=0), NOT_TAKEN, NO_FINISH)
EVE.add("take-out", "a minute more is needed", kitchen(take_out_minutes=16))
EVE.add("take-out", "nobody takes it out", NOT_TAKEN, NO_FINISH)
EVE.add("take-out", "taken out twice", *taken("9:45", "10:00"))
EVE.add("take-out", "taken out in a hurry", NOT_TAKEN, *taken("9:30", "9:40"))
EVE.add("take-out", "only when it is cooked", NOT_TAKEN, NO_FINISH, *on_monday("Eve"))
EVE.add("take-out", "where nothing is cooked tomorrow", *on_monday("Dan"))
EVE.add("take-out", "where it takes nobody's time", kitchen(take_out_minutes=0))
EVE.add("presence", "taken out before anybody comes", NOT_TAKEN, *taken("8:50", "9:05"))
EVE.add("chiller-room", "no room for it to thaw", kitchen(chiller=replace(two_pans.KITCHEN.chiller, kg=3.3)))

ONE_DAY = Breaks(two_pans.SITUATION, two_pans.PLAN)
ONE_DAY.add(NONE, "taken out before the plan began", kitchen(take_out_minutes=12))

BREAKS = [*LABELS.all, *UNLABELLED.all, *EVE.all]
ALL_INSIDE = [*WITHOUT.all, *INSIDE.all, *ON_THE_EVE.all, *ONE_DAY.all]
