"""The day of two pans with things out of use, batches held and ruled out: rules 70 to 72.

The large batch, 4.9 kg in the large pan on the left ring, begins to cook at 8:30, the small one, 2.4 kg in
the small pan on the right ring, at 9:25.
"""

from __future__ import annotations

from typing import Any

from scheduler.domain.held import HeldBatch, OutOfUse

from . import day_of_two_pans as two_pans
from .breaking import Breaks, Change, scenario
from .day_of_two_pans import JAM
from .worked_days import MONDAY, TUESDAY, at

NONE = ""
DAY = Breaks(two_pans.SITUATION, two_pans.PLAN)
INSIDE = Breaks(two_pans.SITUATION, two_pans.PLAN)
"""Each of these breaks no rule."""

LARGE, SMALL, LEFT, RIGHT = "large pan", "small pan", "left ring", "right ring"


def out(pan: str = "", ring: str = "", day: Any = MONDAY) -> Change:
    """A pan or a ring turns out to be out of use."""
    return scenario(out=(OutOfUse(day, pan, ring, "cracked"),))


def row(pan: str = "", ring: str = "", start: str = "", kg: float | None = None) -> HeldBatch:
    return HeldBatch(MONDAY, JAM, pan, ring, at(start) if start else None, kg)


def held(*rows: HeldBatch) -> Change:
    """These batches turn out to be held."""
    return scenario(held=rows)


def ruled_out(pan: str = "", ring: str = "", day: Any = MONDAY) -> Change:
    return scenario(held=(HeldBatch(day, JAM, pan, ring, hold=False),))


INSIDE.add(NONE, "a pan is out on another day", out(LARGE, day=TUESDAY))
DAY.add("out-of-use", "a pan that is out", out(LARGE))
DAY.add("out-of-use", "a ring that is out", out(ring=RIGHT))

INSIDE.add(NONE, "both batches are held in all that they are", held(
    row(SMALL, RIGHT, "9:25", 2.4), row(LARGE, LEFT, "8:30", 4.9),
))  # fmt: skip
INSIDE.add(NONE, "kg that are 0.1 off", held(row(kg=5.0), row(kg=2.3)))
INSIDE.add(NONE, "an open row leaves its batch to one that is not", held(row(), row(LARGE)))
INSIDE.add(NONE, "an open row leaves the other batch as well", held(row(), row(SMALL)))
DAY.add("held", "it begins five minutes early", held(row(LARGE, LEFT, "8:35")))
DAY.add("held", "kg that are 0.2 off", held(row(kg=5.1)))
DAY.add("held", "another ring", held(row(LARGE, RIGHT)))
DAY.add("held", "another pan", held(row(SMALL, start="8:30")))
DAY.add("held", "one batch for two rows", held(row(LARGE), row(LARGE)))
DAY.add("held", "two batches for three rows", held(row(), row(), row()))
DAY.add("held", "on another day", scenario(held=(HeldBatch(TUESDAY, JAM),)))

INSIDE.add(NONE, "the small pan on the left ring is ruled out", ruled_out(SMALL, LEFT))
INSIDE.add(NONE, "ruled out on another day", ruled_out(day=TUESDAY))
DAY.add("ruled-out", "the small pan on the right ring is ruled out", ruled_out(SMALL, RIGHT))
DAY.add("ruled-out", "the large pan is ruled out", ruled_out(LARGE))
DAY.add("ruled-out", "the right ring is ruled out", ruled_out(ring=RIGHT))
DAY.add("ruled-out", "the jam is ruled out", ruled_out())

BREAKS = DAY.all
