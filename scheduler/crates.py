"""What another crate of a lot is worth in a plan: a row for each lot, day and act. Knows no solver."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

CRATE_KG = 5.0
"""A stacked picking crate of soft fruit (common practice, no source)."""


class Act(StrEnum):
    """What may be done with fruit in the chiller; ``MORE`` and ``LESS`` are a crate more or less of it."""

    SELL = "sell"
    COOK = "cook"
    FREEZE = "freeze"
    HOLD = "hold until tomorrow"
    GIVE_UP = "give up"
    MORE = "one crate more"
    LESS = "one crate less"


@dataclass(frozen=True, slots=True)
class Crate:
    """``kg`` of a lot that the plan gives to an act on a day, and what a crate more of that act would lose
    in all, per kg; None where no plan with the same batches, people and freezer allows it.

    For ``MORE`` and ``LESS`` ``kg`` is what is there that morning and ``loses`` what the whole would lose by
    it (a crate more, as a rule, gains: below 0).
    """

    day: date
    lot: str
    fruit: str
    act: Act
    kg: float
    loses: float | None
