"""Allocation: the first two ranks of random small kitchens are those that HiGHS finds.

HiGHS is a solver from outside this project, and the program it solves was written from the rule book
a second time, so that this tests the formulation as well as the search.
"""

from __future__ import annotations

import pytest

from scheduler import solve
from scheduler.domain.scenario import Situation
from tests.kitchens import random_kitchen
from tests.oracle.allocation_highs import best

WEEKEND = [(seed, {"days": (2, 2), "fruits": (1, 2), "picks_kg": 16.0}) for seed in range(26)]
FOUR_DAYS = [(seed, {"days": (4, 4), "fruits": (1, 1), "pans": (1, 1), "picks_kg": 8.0}) for seed in range(6)]


@pytest.mark.parametrize(("seed", "size"), WEEKEND + FOUR_DAYS)
def test_spoiled_and_short_are_those_of_the_oracle(seed: int, size: dict[str, object]) -> None:
    situation: Situation = random_kitchen(seed, **size)  # type: ignore[arg-type]
    ours = solve.allocation_best(situation)
    assert {rank: ours[rank] for rank in ("spoiled", "short")} == best(
        situation, ("spoiled", "short"), slack=False
    )
