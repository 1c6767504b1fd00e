"""Rows that those with time kept free imply need not be stated: the answer is the same without them."""

from __future__ import annotations

import numpy as np
import pytest

from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.model.mip import rows_of, solve
from scheduler.model.pieces import Pieces
from tests.kitchens import random_kitchen

MARGINS = (6, 24)
SEEDS = (1, 4, 7)


def model_of(seed: int) -> AllocationModel:
    return AllocationModel(make_cards(random_kitchen(seed, days=(2, 3), fruits=(1, 2), picks_kg=20.0)))


@pytest.mark.parametrize("margin", MARGINS)
@pytest.mark.parametrize("seed", SEEDS)
def test_an_allocation_is_as_good_without_the_rows_that_are_implied(seed: int, margin: int) -> None:
    model = model_of(seed)
    model.model.minimize(model.goals["spoiled"])
    free = model.keeping_free(dict.fromkeys(range(model.cards.days), margin))
    avoid = {model.avoid.index: 0.0}

    def value(implied: set[int]) -> float | None:
        answer = solve(
            model.model, model.masses, 60.0, 1, 0, lambda *_: False,
            gap=0.0, fixed=avoid, beside=free, implied=implied,
        )  # fmt: skip
        return answer.objective

    assert model.of_time
    assert value(model.of_time) == pytest.approx(value(set()), rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_prices_are_of_a_relaxation_as_good(seed: int) -> None:
    model = model_of(seed)
    margins = dict.fromkeys(range(model.cards.days), 24)
    pieces = Pieces(model, model.goals["spoiled"], {model.avoid.index: 0.0}, {})
    assert pieces.price(margins, 60.0, lambda: False)
    fewer = pieces.value
    pieces.of_time = np.zeros_like(pieces.of_time)
    assert pieces.price(margins, 60.0, lambda: False)
    assert fewer == pytest.approx(pieces.value, rel=1e-6, abs=1e-3)


@pytest.mark.parametrize("margins", [{}, {0: 0, 1: 24}])
def test_where_a_day_keeps_nothing_free_its_rows_are_stated(margins: dict[int, int]) -> None:
    pieces = Pieces(model := model_of(1), model.goals["spoiled"], {model.avoid.index: 0.0}, {})
    assert pieces.of_time.any()
    assert pieces._kept(margins).all()


def test_every_row_is_of_its_constraint() -> None:
    model = model_of(4)
    rows = rows_of(model.model)
    assert len(rows.of) == len(rows.low)
    assert rows.of == sorted(rows.of)
    rest = rows.without(model.of_time)
    assert len(rest.low) == sum(of not in model.of_time for of in rows.of)
    kept = [n for n, of in enumerate(rows.of) if of not in model.of_time]
    for row, before in zip(range(len(rest.low)), kept, strict=True):
        assert (
            rest.index[rest.start[row] : rest.start[row + 1]]
            == (rows.index[rows.start[before] : rows.start[before + 1]])
        )
        assert (rest.low[row], rest.high[row]) == (rows.low[before], rows.high[before])
