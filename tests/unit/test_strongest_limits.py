"""Limits that another one implies are left out, and nothing else is."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from scheduler.cards import Cards
from scheduler.making import make_cards
from scheduler.model import limits
from scheduler.model.limits import HandsLimit, Limit, Work, batch_limits, hands_limits, minding
from tests.kitchens import random_kitchen

SEEDS = range(8)


def cards_of(seed: int) -> Cards:
    return make_cards(random_kitchen(seed, days=(2, 3), fruits=(1, 3), pans=(2, 3)))


def shares(limit: Limit) -> list[Fraction]:
    return [Fraction(minutes, limit.capacity) for minutes in limit.minutes]


def implies(strong: Limit, weak: Limit) -> bool:
    return all(a >= b for a, b in zip(shares(strong), shares(weak), strict=True))


def hands_imply(strong: HandsLimit, weak: HandsLimit) -> bool:
    """Whoever is in, what the strong one allows the weak one does."""
    asked = [(*each.work, each.freezing, each.chores, each.once) for each in (strong, weak)]
    people = strong.usable.keys() | weak.usable.keys()
    return all(a >= b for a, b in zip(*asked, strict=True)) and all(
        strong.usable.get(i, 0) <= weak.usable.get(i, 0) for i in people
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_a_limit_of_batches_left_out_is_implied_and_none_kept_is(seed: int) -> None:
    cards = cards_of(seed)
    for day in range(cards.days):
        kept = batch_limits(cards, day)
        whole = limits._batch_limits(cards, day)
        assert set(kept) <= set(whole)
        roomy = [limit for limit in kept if limit.capacity > 0]
        for limit in whole:
            assert limit in kept or any(implies(other, limit) for other in roomy)
        for n, limit in enumerate(roomy):
            assert not any(implies(other, limit) for other in (*roomy[:n], *roomy[n + 1 :]))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_limit_of_hands_left_out_is_implied_and_none_kept_is(seed: int) -> None:
    cards = cards_of(seed)
    for day in range(cards.days):
        kept = hands_limits(cards, day)
        for limit in limits._hands_limits(cards, day):
            assert limit in kept or any(hands_imply(other, limit) for other in kept)
        for n, limit in enumerate(kept):
            assert not any(hands_imply(other, limit) for other in (*kept[:n], *kept[n + 1 :]))


def test_limits_are_left_out_at_all() -> None:
    cards = cards_of(0)
    whole = [limit for day in range(cards.days) for limit in limits._batch_limits(cards, day)]
    kept = [limit for day in range(cards.days) for limit in batch_limits(cards, day)]
    assert 0 < len(kept) < len(whole) / 2


def test_of_equal_rows_the_first_is_kept_and_a_hair_is_no_difference() -> None:
    rows = np.array([[0.5, 1.0], [0.5, 1.0], [0.5 - 1e-15, 1.0], [0.4, 1.0], [0.6, 0.2]])
    assert limits._strongest(rows) == [0, 4]


@pytest.mark.parametrize("seed", SEEDS)
def test_minutes_at_the_stove_are_those_of_cooks_alone(seed: int) -> None:
    cards = cards_of(seed)
    for day in range(cards.days):
        cooks = {i for i, staff in enumerate(cards.staff) if staff.day == day and Work.COOK in staff.skills}
        assert set(minding(cards, day)) == cooks
