"""Plans broken in short shifts, in who works with hot sugar and for how long in a row: rules 52 to 55.

On the day of one pan Ann cooks from 8:30 to 9:50, 80 min: dissolve 35, boil 40, test 5. On that of two pans
people who count are Cat and Dan from 8:00, Eve (who only fills) from 9:00.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.domain.people import Skill
from scheduler.plan_rows import StageKind

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import two_days_with_an_order as two_days
from . import worked_days as hand
from .breaking import Breaks, Change, goal, kitchen, rows, scenario
from .broken_stand_by import NOT_KEPT_HOT, stands_by

NONE = ""
ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
ORDER = Breaks(two_days.SITUATION, two_days.PLAN)
INSIDE_ONE = Breaks(one_pan.SITUATION, one_pan.PLAN)
INSIDE_TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
INSIDE_ORDER = Breaks(two_days.SITUATION, two_days.PLAN)
"""Each of the last three breaks no rule."""


def ben(**values: object) -> Change:
    """Ben of the day of one pan turns out to be somebody else than he was taken for."""
    return scenario(people=(one_pan.ANN, replace(one_pan.BEN, **values)))  # type: ignore[arg-type]


def of_two_pans(learners: str, eve: date | None = None) -> Change:
    """Who of the day of two pans is a learner, and when Eve was born."""
    people = [replace(person, learner=person.name in learners.split()) for person in two_pans.PEOPLE]
    return scenario(people=(*people[:2], replace(people[2], born=eve)))


def work(**values: int | None) -> Change:
    return scenario(work_rules=replace(hand.WORK_RULES, **values))  # type: ignore[arg-type]


# ---- minimum paid shift, rule 52: Ann 4 h × 15, Ben 4 h × 12, energy 0.45 ----

INSIDE_ONE.add(NONE, "just as long as is paid at least", work(least_paid_minutes=240))
INSIDE_ONE.add(
    NONE, "an hour more is paid", work(least_paid_minutes=300), goal("money", 135.45)  # 75 + 60 + 0.45
)  # fmt: skip
ONE.add("goal-value", "an hour more should be paid", work(least_paid_minutes=300))
# Ann's Monday lasts 330 min with her overtime, her Tuesday and Ben's days 240.
INSIDE_ORDER.add(
    NONE, "overtime is time, too", work(least_paid_minutes=330), goal("money", 207.40)  # + 22.50 + 2 × 18
)  # fmt: skip
INSIDE_ORDER.add(
    NONE, "no overtime pay for what is missing",
    work(least_paid_minutes=345), goal("money", 220.90),  # 3.75 + 26.25 + 2 × 21 more
)  # fmt: skip
ORDER.add(
    "goal-value", "overtime pay for what is missing",
    work(least_paid_minutes=345), goal("money", 222.65),  # 15 min × 22 an hour = 5.50 instead of 3.75
)  # fmt: skip

# ---- learners, rules 53 and 28 ----

INSIDE_TWO.add(NONE, "a learner fills, washes and loads", of_two_pans("Eve"))
TWO.add("learner", "a learner tests and dissolves", of_two_pans("Dan"), kitchen(people_while_boiling=1))
ONE.add("people-while-boiling", "the second person there is a learner", ben(learner=True))
INSIDE_ONE.add(NONE, "the cook alone is enough", ben(learner=True), kitchen(people_while_boiling=1))

# ---- age at hot sugar, rule 54 ----

EIGHTEEN = work(boil_from_age=18)
INSIDE_ONE.add(NONE, "18 on the day", ben(born=date(2008, 7, 6)), EIGHTEEN)
ONE.add("boil-age", "pots up on the day before the birthday", ben(born=date(2008, 7, 7)), EIGHTEEN)
INSIDE_ONE.add(
    NONE,
    "too young, but only prepares and loads",
    ben(born=date(2012, 1, 1)),
    EIGHTEEN,
    rows("stages", {"kind": StageKind.POT_UP}, people=("Ann",)),
)
ONE.add(
    "boil-age",
    "a young cook",
    scenario(people=(replace(one_pan.ANN, born=date(2010, 3, 1)), one_pan.BEN)),
    EIGHTEEN,
)
TWO.add(
    "boil-age",
    "stands by and pots up",
    of_two_pans("", eve=date(2008, 7, 7)),
    EIGHTEEN,
    NOT_KEPT_HOT,
    stands_by("Eve"),
)

# ---- minutes in a row at the stove, rule 55 ----

INSIDE_ONE.add(NONE, "80 minutes of 80", work(longest_stove_minutes=80))
ONE.add("stove-minutes", "80 minutes of 75", work(longest_stove_minutes=75))
INSIDE_TWO.add(NONE, "two pans at once count once", work(longest_stove_minutes=115))  # Cat 8:30 to 10:25
TWO.add("stove-minutes", "Cat minds pans for 115 minutes", work(longest_stove_minutes=110))
BOIL_BY_BEN = rows("stages", {"kind": StageKind.BOIL}, people=("Ben",))  # Ann is away from 9:05 to 9:45
A_COOK = ben(skills=frozenset(Skill))
INSIDE_ONE.add(
    NONE,
    "40 minutes away are a rest of 40",
    A_COOK,
    BOIL_BY_BEN,
    work(longest_stove_minutes=75, stove_rest_minutes=40),
)
ONE.add(
    "stove-minutes",
    "40 minutes away are no rest of 45",
    A_COOK,
    BOIL_BY_BEN,
    work(longest_stove_minutes=75, stove_rest_minutes=45),
)

BREAKS = [*ONE.all, *TWO.all, *ORDER.all]
INSIDE = [*INSIDE_ONE.all, *INSIDE_TWO.all, *INSIDE_ORDER.all]
