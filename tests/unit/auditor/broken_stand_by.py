"""The day of two pans without keeping jam hot, and its plan broken in who stands by: rules 23, 25, 27.

After its first test the plan keeps 15 min for a re-boil and its test. The large pan's last jar would then
be at 20 + 83.77 × exp(−0.3190 × 40 ÷ 25) = 70.28 °C, above the limit of 70: it waits. The small one's at
20 + 83.77 × exp(−0.3012 × 35 ÷ 20) = 69.45, but after 10 of the 15 min at 20 + 83.77 × exp(−0.4518) = 73.3:
for 5 min before it is potted at 10:30 its jars are hot, and one of two fillers stands by (the cook is free).
With a limit of 71 °C the large one waits 10 min, until 73.6, and somebody stands by from 10:05.
"""

from __future__ import annotations

from scheduler.plan_rows import Stage, StageKind

from . import day_of_two_pans as two_pans
from .breaking import Breaks, Change, added, kitchen, moved
from .worked_days import MONDAY, at

NONE = ""


def stands_by(who: str, batch: str = "small", start: str = "10:25", end: str = "10:30") -> Change:
    """Somebody stands by to pot up a batch."""
    people = tuple(who.split())
    return added("stages", Stage(MONDAY, batch, StageKind.STAND_BY, at(start), at(end), people))


def loaded(minutes: int) -> Change:
    """The small batch's jars go into the oven so many minutes after 9:30."""
    return moved(minutes, batch="small", kind=StageKind.LOAD_JARS)


NOT_KEPT_HOT = kitchen(keep_hot=False)
HOTTER = kitchen(keep_hot=False, potting_limit_c=71.0)
BOTH = Breaks(two_pans.SITUATION, two_pans.PLAN)
INSIDE = Breaks(two_pans.SITUATION, two_pans.PLAN)
"""Each of these breaks no rule."""

INSIDE.add(NONE, "washes a pan while standing by", NOT_KEPT_HOT, stands_by("Eve"))
INSIDE.add(
    NONE, "both stand by", HOTTER, stands_by("Eve"), stands_by("Eve", "large", "10:05", "10:10"),
)  # fmt: skip
INSIDE.add(
    NONE, "two re-boils' worth of waiting is hot enough", kitchen(keep_hot=False, potting_limit_c=69.0)
)
BOTH.add("stand-by", "nobody stands by", NOT_KEPT_HOT)
BOTH.add("stand-by", "kept hot, yet somebody stands by", stands_by("Eve"))
BOTH.add("stand-by", "for longer than the batch needs", NOT_KEPT_HOT, stands_by("Eve", end="10:35"))
BOTH.add("stand-by", "not up to potting", NOT_KEPT_HOT, stands_by("Eve", start="10:35", end="10:40"))
BOTH.add("hands", "two stand by where one is enough", NOT_KEPT_HOT, stands_by("Dan Eve"))
INSIDE.add(NONE, "jars just hot for an early set", NOT_KEPT_HOT, stands_by("Eve"), loaded(30))
BOTH.add(
    "jars-hot",
    "jars hot for potting, not for an early set",
    NOT_KEPT_HOT,
    stands_by("Eve"),
    loaded(35),
)
BOTH.add(
    "two-places",
    "stands by and tests another pan",
    HOTTER,
    stands_by("Eve"),
    stands_by("Cat", "large", "10:05", "10:10"),
)

BREAKS = BOTH.all
