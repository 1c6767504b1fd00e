"""What a crate is worth: against a second model of a farm with a crate more or less of that lot.

The second model is stated anew from cards with other kilograms and knows nothing of how the first asks.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from scheduler.cards import MONEY, Cards
from scheduler.crates import CRATE_KG, Act, Crate
from scheduler.making import make_cards
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.mip import solve
from scheduler.solve.crates import UNITS, crates
from scheduler.solve.settings import Clock
from tests.kitchens import random_kitchen

SEEDS = range(12)
CHANGES = ((Act.MORE, UNITS), (Act.LESS, -UNITS))


@cache
def farm(seed: int) -> tuple[Cards, Allocation, tuple[Crate, ...]]:
    cards = make_cards(random_kitchen(seed, days=(2, 2), fruits=(1, 2), picks_kg=24.0))
    model = AllocationModel(cards)
    found = least(model, {model.avoid.index: 0.0})
    assert found is not None
    allocation = model.read(found[1])
    return cards, allocation, crates(cards, allocation, range(cards.days), Clock(60.0, lambda: False))


def least(model: AllocationModel, fixed: dict[int, float]) -> tuple[float, tuple[float, ...]] | None:
    """The least loss and its values, to a tenth of a cent."""
    model.model.minimize(model.goals["spoiled"])
    answer = solve(model.model, model.masses, 30, 1, 0, lambda *_: False, gap=1e-7, fixed=fixed)
    return None if answer.values is None or answer.objective is None else (answer.objective, answer.values)


def loses(cards: Cards, allocation: Allocation) -> float | None:
    """The least loss with the batches, people and orders of an allocation."""
    model = AllocationModel(cards)
    boxes = {var.index for var in model.x.boxes.values()}
    whole = set(range(len(model.model.proto.variables))) - model.masses - boxes
    found = least(model, {i: allocation.values[i] for i in whole} | {model.avoid.index: 0.0})
    return None if found is None else found[0]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_crate_more_or_less_is_that_of_a_farm_with_it(seed: int) -> None:
    cards, allocation, found = farm(seed)
    now = loses(cards, allocation)
    assert now is not None
    for i, lot in enumerate(cards.lots):
        kitchen_value = cards.fruits[lot.fruit].kitchen_value
        for act, change in CHANGES:
            mine = [c for c in found if (c.lot, c.act, c.day) == (lot.name, act, cards.dates[lot.arrives])]
            if not mine or lot.units + change < 0:
                continue
            other = replace(lot, units=round(lot.units + change))
            lots = (*cards.lots[:i], other, *cards.lots[i + 1 :])
            there = loses(replace(cards, lots=lots), allocation)
            if there is None or mine[0].loses is None:
                assert there is None
                assert mine[0].loses is None
                continue
            expected = (there - now - change * kitchen_value) / MONEY / CRATE_KG
            assert mine[0].loses == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_act_gains_and_no_crate_less_does(seed: int) -> None:
    """The plan is the best of its batches, so another way is no better; more fruit never harms."""
    _, _, found = farm(seed)
    for crate in found:
        if crate.loses is not None:
            assert crate.loses <= 1e-3 if crate.act is Act.MORE else crate.loses >= -1e-3


def test_many_lots_were_asked_about_and_some_are_worth_something() -> None:
    found = [crate for seed in SEEDS for crate in farm(seed)[2] if crate.act is Act.LESS]
    assert len(found) > 20
    assert any(crate.loses is not None and crate.loses > 0.1 for crate in found)
    assert any(crate.loses is not None and crate.loses < 0.01 for crate in found)
