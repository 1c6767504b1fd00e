"""The day of one pan, closed for a time, cleaned down, and washed in full: rules 44 to 46.

Work runs from 8:00 to 10:20, but for 8:20 to 8:30, between preparing and dissolving; the pan stands from 9:50
to 9:55 and is washed from 10:10. Both people are in until 12:00.
"""

from __future__ import annotations

from scheduler.domain.days import Closure
from scheduler.domain.recipes import OtherIngredient
from scheduler.plan_rows import Stage, StageKind

from . import day_of_one_pan as one_pan
from .breaking import Breaks, Change, added, finish, kitchen, recipe, rows, scenario
from .worked_days import MONDAY, TUESDAY, at

NONE = ""
DAY = Breaks(one_pan.SITUATION, one_pan.PLAN)
INSIDE = Breaks(one_pan.SITUATION, one_pan.PLAN)
"""Each of these breaks no rule."""


def closed(start: str, end: str, day: object = MONDAY) -> Change:
    """The kitchen turns out to be closed for a time."""
    assert day in (MONDAY, TUESDAY)
    return scenario(closures=(Closure(day, at(start), at(end), "market"),))


def cleaned(start: str, end: str, who: str = "Ben", batch: str = "") -> tuple[Change, Change]:
    """Somebody cleans down, and the day ends with it."""
    stage = Stage(MONDAY, batch, StageKind.CLEAN_DOWN, at(start), at(end), tuple(who.split()))
    return added("stages", stage), finish(end)


def washed(until: str) -> tuple[Change, Change]:
    """The pan is washed from 10:10."""
    return rows("stages", {"kind": StageKind.WASH}, end=at(until)), finish(until)


TWENTY = kitchen(clean_down_minutes=20)
FULL_WASH = kitchen(full_wash_minutes=28)
ALMONDS = recipe(others=(OtherIngredient("almonds", 20.0, allergen=True),))
PEPPER = recipe(others=(OtherIngredient("pepper", 0.5),))

INSIDE.add(NONE, "closed once the work is done", closed("10:20", "14:00"))
INSIDE.add(NONE, "closed until the work begins", closed("7:00", "8:00"))
INSIDE.add(NONE, "closed between two pieces of work", closed("8:20", "8:30"))
INSIDE.add(NONE, "closed on another day", closed("8:00", "14:00", TUESDAY))
DAY.add("kitchen-closed", "closed while the pan is washed", closed("10:15", "14:00"))
DAY.add("kitchen-closed", "closed when the work begins", closed("7:00", "8:05"))
DAY.add("kitchen-closed", "closed while the pan stands", closed("9:50", "9:55"))
DAY.add("kitchen-closed", "closed all day", closed("8:00", "14:00"))

INSIDE.add(NONE, "cleaned down at once", TWENTY, *cleaned("10:20", "10:40"))
INSIDE.add(NONE, "cleaned down in the last minutes of a shift", TWENTY, *cleaned("11:40", "12:00"))
DAY.add("clean-down", "never cleaned down", TWENTY)
DAY.add("clean-down", "cleaned down before the pan is washed", TWENTY, *cleaned("10:15", "10:35"))
DAY.add("clean-down", "cleaned down in a hurry", TWENTY, *cleaned("10:20", "10:35"))
DAY.add(
    "clean-down", "cleaned down twice", TWENTY, *cleaned("10:20", "10:40"), *cleaned("10:40", "11:00", "Ann")
)  # fmt: skip
DAY.add("clean-down", "cleaned down where nobody asked for it", *cleaned("10:20", "10:40"))
DAY.add("hands", "two clean down", TWENTY, *cleaned("10:20", "10:40", "Ann Ben"))
DAY.add("stage-list", "cleaned down for a batch", TWENTY, *cleaned("10:20", "10:40", batch="b1"))
DAY.add("presence", "cleaned down after the shift", TWENTY, *cleaned("11:45", "12:05"))

INSIDE.add(NONE, "washed in full after an allergen", FULL_WASH, ALMONDS, *washed("10:40"))
INSIDE.add(NONE, "an allergen where all pans are washed alike", ALMONDS)
INSIDE.add(NONE, "a full wash that only an allergen needs", FULL_WASH, PEPPER)
DAY.add("stage-list", "washed as ever after an allergen", FULL_WASH, ALMONDS)
DAY.add("stage-list", "washed 5 min too short after an allergen", FULL_WASH, ALMONDS, *washed("10:35"))

BREAKS = DAY.all
