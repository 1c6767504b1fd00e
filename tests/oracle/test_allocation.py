"""Allocation: the first two ranks of random small kitchens are those of a program written a second time.

The second program comes from the rule book alone and is solved by HiGHS, a solver from outside this
project; so the formulation is tested: rules, cards, day limits and goals.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from scheduler.auditor.farm import Farm
from scheduler.cards import MONEY
from scheduler.domain.scenario import Situation
from scheduler.making import make_cards
from scheduler.model import mip
from scheduler.model.allocation import AllocationModel
from scheduler.plan_rows import Part
from tests.kitchens import random_kitchen
from tests.kitchens_of_kinds import kitchen_of_freezers, kitchen_of_jars, kitchen_of_kinds, trading_kitchen
from tests.oracle.allocation_highs import Allocation
from tests.oracle.fruit_program import FruitProgram

TWO_DAYS = [(seed, (2, 2), (1, 2)) for seed in range(24)]
OF_KINDS = (5, 6, 11, 13, 16, 19, 22, 31, 40, 43, 57, 61, 69, 86)  # of the first hundred, with juice
OF_FREEZERS = (
    2,
    3,
    4,
    5,
    8,
    9,
    12,
    13,
    14,
    18,
    20,
    21,
    25,
    27,
    28,
    29,
    34,
    38,
)  # of the first forty, with every rule binding
FOUR_DAYS = [(seed, (4, 4), (1, 1)) for seed in range(24, 32)]


@pytest.mark.parametrize(("seed", "days", "fruits"), TWO_DAYS + FOUR_DAYS)
def test_spoiled_and_short_are_those_of_the_oracle(
    seed: int, days: tuple[int, int], fruits: tuple[int, int]
) -> None:
    assert_agree(random_kitchen(seed, days=days, fruits=fruits, picks_kg=16.0))


def assert_agree(situation: Situation) -> None:
    """The least of the first two ranks is the same in both programs."""
    program, model = Allocation(situation.scenario), AllocationModel(make_cards(situation))
    spoiled, _ = program.least("spoiled", {})
    assert least(model, "spoiled") / MONEY == pytest.approx(spoiled / 1000, abs=0.02)
    cap = math.ceil(spoiled / 10 + 2) / 100  # in money, a little above the best
    model.model.add(model.goals["spoiled"] <= round(cap * MONEY))
    short, _ = program.least("short", {"spoiled": cap * 1000})
    assert least(model, "short") == pytest.approx(short, abs=0.01)


def assert_agree_in_money_too(situation: Situation) -> None:
    """Besides, the least money with the fewest jars short."""
    assert_agree(situation)
    program, model = Allocation(situation.scenario), AllocationModel(make_cards(situation))
    short, _ = program.least("short", {})
    model.model.add(model.goals["short"] <= round(short))
    cents, _ = program.least("money", {"short": short})
    assert least(model, "money") / MONEY == pytest.approx(cents / 100, abs=0.02 + 1e-4 * abs(cents) / 100)


def test_the_kitchens_have_fruit_that_stood_warm_and_fruit_that_was_over_when_it_came() -> None:
    kitchens = [
        random_kitchen(seed, days=days, fruits=fruits, picks_kg=16.0) for seed, days, fruits in TWO_DAYS
    ]
    lots = [lot for kitchen in kitchens for lot in Farm(kitchen).fresh.values()]
    assert any(0 <= lot.cook_days < lot.fresh_cook_days for lot in lots)
    assert any(lot.cook_days < 0 for lot in lots)


@pytest.mark.parametrize("seed", range(40))
def test_lives_are_the_same_in_three_formulations(seed: int) -> None:
    """The cards', the auditor's, and the oracle's, in which fruit breathes its stores away."""
    situation = random_kitchen(seed, days=(2, 2))
    cards = make_cards(situation).lots
    audited = Farm(situation).fresh
    for card, lot in zip(cards, FruitProgram(situation.scenario).fresh_lots, strict=True):
        seen = audited[card.name]
        start = situation.scenario.start
        assert lot.lot.name == card.name
        assert card.last_cooked == (seen.last_day - start).days == (seen.picked - start).days + lot.cook
        assert card.last_peak == (seen.picked - start).days + seen.peak_days == lot.peak
        if card.table:
            assert card.last_sold == (seen.last_sell_day - start).days == lot.sell


@pytest.mark.parametrize("seed", OF_KINDS)
def test_kitchens_that_make_more_than_jam_agree_with_the_oracle(seed: int) -> None:
    situation = kitchen_of_kinds(seed, days=(3, 3), fruits=(1, 2), picks_kg=16.0)
    assert_agree(situation)


def test_juice_is_made_in_most_of_these_kitchens() -> None:
    made = 0
    for seed in OF_KINDS:
        situation = kitchen_of_kinds(seed, days=(3, 3), fruits=(1, 2), picks_kg=16.0)
        model = AllocationModel(make_cards(situation))
        counts = model.read(solved(model, "spoiled")[1]).count
        parts = [model.cards.batches[m].part for day in counts for m, n in enumerate(day) if n]
        made += Part.BOIL in parts
    assert made >= len(OF_KINDS) // 2


@pytest.mark.parametrize("seed", OF_FREEZERS)
def test_kitchens_of_two_freezers_agree_with_the_oracle(seed: int) -> None:
    """The program divides each fruit between the freezers, the oracle each lot."""
    assert_agree(kitchen_of_freezers(seed, days=(3, 3), fruits=(1, 2), picks_kg=16.0))


@pytest.mark.parametrize("seed", range(20))
def test_kitchens_that_trade_agree_with_the_oracle_in_money_too(seed: int) -> None:
    situation = trading_kitchen(seed, days=(2, 3), fruits=(1, 2), pans=(1, 1), picks_kg=12.0)
    assert_agree_in_money_too(situation)


@pytest.mark.parametrize("seed", range(20))
def test_kitchens_with_sizes_racks_and_shelves_agree_with_the_oracle(seed: int) -> None:
    assert_agree(kitchen_of_jars(seed, days=(2, 3), fruits=(1, 2), pans=(1, 1), picks_kg=12.0))


def least(model: AllocationModel, goal: str) -> float:
    """The least value of a goal in the program's own model, to proof."""
    return solved(model, goal)[0]


def solved(model: AllocationModel, goal: str) -> tuple[float, Sequence[float]]:
    """The least value of a goal, and the values of all variables there."""
    model.model.minimize(model.goals[goal])
    answer = mip.solve(model.model, model.masses, 60.0, 1, 0, lambda value, bound: False, gap=0.0)
    assert answer.objective is not None
    assert answer.objective - answer.bound <= 1e-4 * max(1.0, abs(answer.objective))
    assert answer.values is not None
    return answer.objective, answer.values
