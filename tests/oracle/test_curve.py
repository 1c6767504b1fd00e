"""The least money under a cap on what is lost on fruit, against the second program of the allocation."""

from __future__ import annotations

import pytest

from scheduler.cards import MONEY
from scheduler.curve import make_curve
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.plan_rows import is_choice
from scheduler.planner import Settings
from tests.kitchens import random_kitchen, tiny_kitchen
from tests.oracle.allocation_highs import Allocation
from tests.oracle.test_allocation import least

ALONE = Settings(seconds=40.0, workers=1)
TOLERANCE = 0.02


@pytest.mark.parametrize("share", [0.25, 0.75])
@pytest.mark.parametrize("seed", range(6))
def test_the_least_money_under_a_cap_on_spoiled_agrees(seed: int, share: float) -> None:
    """Caps between the least that can be lost and what the cheapest plan loses."""
    situation = random_kitchen(seed, days=(2, 2), fruits=(1, 2), picks_kg=12.0)
    program, model = Allocation(situation.scenario), AllocationModel(make_cards(situation))
    low, _ = program.least("spoiled", {})
    cheapest, _ = program.least("money", {})
    high, _ = program.least("spoiled", {"money": cheapest})
    cap = low + share * (high - low)
    model.model.add(model.goals["spoiled"] <= round(cap / 1000 * MONEY))
    cents, _ = program.least("money", {"spoiled": cap})
    assert least(model, "money") / MONEY == pytest.approx(
        cents / 100, abs=TOLERANCE + 1e-4 * abs(cents) / 100
    )


@pytest.mark.parametrize("seed", [0, 1, 2, 3, 4, 5])
def test_no_point_costs_less_than_the_second_program_says_and_proofs_are_near_it(seed: int) -> None:
    situation = tiny_kitchen(seed)
    program = Allocation(situation.scenario)
    for plan in filter(is_choice, make_curve(situation, 5, ALONE)):
        spoiled, short, money, _ = plan.goals
        caps = {"spoiled": 1000 * (spoiled.cap or 0.0)} | ({"short": short.cap or short.best})
        cents, _ = program.least("money", caps)
        assert cents / 100 <= money.value + TOLERANCE
        if plan.timetables.refuted + plan.timetables.undecided == 0:
            # Every day that was tried could be placed: the allocation's least is the plan's.
            size = abs(money.best - money.bound) + 1e-3 * max(1.0, abs(money.best))
            assert money.bound - TOLERANCE - size <= cents / 100
            assert money.value == pytest.approx(cents / 100, abs=size + TOLERANCE + 0.004 * 1000)
