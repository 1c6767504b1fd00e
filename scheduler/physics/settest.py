"""The set test: how many re-boils a batch takes, and the odds that a day keeps to its plan.

Each test succeeds with the same share of batches, whatever went before (the geometric distribution).
The default shares and minutes are common practice in the trade, no source: a kitchen puts its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scheduler.physics import ranges
from scheduler.physics.quantity import Array, Numbers, Q, ceil, larger, log, power

FIRST_SET_SHARE = 0.7
"""Share of batches that set at the first test."""

KEEP_SHARE = 0.8
"""Share of batches that the plan keeps minutes for."""

REBOIL_MINUTES = 10.0

_NEVER = 1e-300  # has a logarithm where every batch sets at once
_FORGIVEN = 1e-9


@dataclass(frozen=True, slots=True)
class ReboilMinutes:
    """Minutes of re-boils within which half of the batches stay, those planned for, and 95 in 100."""

    median: Numbers
    planned: Numbers
    most: Numbers


def share_set(reboils: Q | float, first_set_share: Q | float = FIRST_SET_SHARE) -> Q | float:
    """Share of batches that have set by the test after ``reboils`` (a whole number, 0 to 1000) re-boils.

    ``first_set_share`` is a fraction above 0, at most 1. Raises ValueError out of range.
    """
    ranges.within("re-boils", reboils, 0, 1000, "", "Give the number of re-boils.")
    _check_first(first_set_share)
    return 1 - power(1 - first_set_share, reboils + 1)


def reboils_within(share: Q | float, first_set_share: Q | float = FIRST_SET_SHARE) -> Q | float:
    """The fewest re-boils (a whole number) after which ``share`` of batches or more have set.

    ``share`` is a fraction from 0 to below 1: no number of re-boils is enough for all. Raises ValueError
    out of range.
    """
    ranges.within("share of batches", share, 0, 0.9999, "as a fraction", "Give 80 % as 0.8.")
    _check_first(first_set_share)
    tests = log(1 - share) / log(larger(1 - first_set_share, _NEVER))
    return larger(ceil(tests - _FORGIVEN) - 1, 0)


def reboil_minutes(
    first_set_share: Q | float = FIRST_SET_SHARE,
    keep_share: Q | float = KEEP_SHARE,
    minutes_each: Q | float = REBOIL_MINUTES,
) -> ReboilMinutes:
    """Median, planned and 95 % minutes of re-boils.

    Planned are those of the fewest re-boils within which ``keep_share`` of batches set. ``minutes_each``
    (0 to 120) is a re-boil, with the test that follows it if that is to be counted. Raises ValueError out of
    range.
    """
    ranges.within("minutes of a re-boil", minutes_each, 0, 120, "min", "Give the minutes of one.")
    median, planned, most = (
        minutes_each * reboils_within(share, first_set_share) for share in (0.5, keep_share, 0.95)
    )
    return ReboilMinutes(median, planned, most)


def odds_of_day(shares: Sequence[float] | Array) -> float:
    """Odds that every batch of a day keeps to its plan: the product of the batches' own shares (0 to 1).

    Batches are taken to fail independently. Twelve of which each keeps with 80 % all keep with 7 %.
    """
    each = np.asarray(shares, dtype=np.float64)
    ranges.within("share of a batch", each, 0, 1, "as a fraction", "Give 80 % as 0.8.")
    return float(each.prod())


def _check_first(share: Q | float) -> None:
    remedy = "Give 70 % as 0.7; a recipe that never sets is no recipe."
    ranges.above("share set at the first test", share, 0, 1, "as a fraction", remedy)
