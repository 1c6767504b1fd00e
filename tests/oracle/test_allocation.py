"""Allocation: the first two ranks of random small kitchens are those of a program written a second time.

The second program comes from the rule book alone and is solved by HiGHS, a solver from outside this
project; so the formulation is tested: rules, cards, day limits and goals.
"""

from __future__ import annotations

import math

import pytest

from scheduler.cards import MONEY
from scheduler.making import make_cards
from scheduler.model import mip
from scheduler.model.allocation import AllocationModel
from tests.kitchens import random_kitchen
from tests.oracle.allocation_highs import Allocation

TWO_DAYS = [(seed, (2, 2), (1, 2)) for seed in range(24)]
FOUR_DAYS = [(seed, (4, 4), (1, 1)) for seed in range(24, 32)]


@pytest.mark.parametrize(("seed", "days", "fruits"), TWO_DAYS + FOUR_DAYS)
def test_spoiled_and_short_are_those_of_the_oracle(
    seed: int, days: tuple[int, int], fruits: tuple[int, int]
) -> None:
    situation = random_kitchen(seed, days=days, fruits=fruits, picks_kg=16.0)
    program, model = Allocation(situation.scenario), AllocationModel(make_cards(situation))
    spoiled, _ = program.least("spoiled", {})
    assert least(model, "spoiled") / MONEY == pytest.approx(spoiled / 1000, abs=0.02)
    cap = math.ceil(spoiled / 10 + 2) / 100  # in money, a little above the best
    model.model.add(model.goals["spoiled"] <= round(cap * MONEY))
    short, _ = program.least("short", {"spoiled": cap * 1000})
    assert least(model, "short") == pytest.approx(short, abs=0.01)


def least(model: AllocationModel, goal: str) -> float:
    """The least value of a goal in the program's own model, to proof."""
    model.model.minimize(model.goals[goal])
    answer = mip.solve(model.model, model.masses, 60.0, 1, 0, lambda value, bound: False, gap=0.0)
    assert answer.objective is not None
    assert answer.objective - answer.bound <= 1e-4 * max(1.0, abs(answer.objective))
    return answer.objective
