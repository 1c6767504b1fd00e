"""What is bought: as little as trying every purchase finds, in whole packs, on the last day that will do."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from random import Random

import pytest

from scheduler.cards import Cards
from scheduler.making import make_cards
from scheduler.model.buying import Bought, purchases
from scheduler.stock_cards import GoodCard
from tests.kitchens_of_kinds import trading_kitchen

DAYS = 4
SUGAR = GoodCard("sugar", 10, 100, (0, 0, 0, 50), 11, 0, (0, 1, 2, 3), 1, 1)
"""10 kg on hand, 5 kg delivered on the last day; loose sugar that comes on any day."""


def bought(used: tuple[int, ...], **good: object) -> list[tuple[int, int, int]]:
    """(comes, needed, units) of what is bought where so much sugar (in 0.1 kg) is used on each day."""
    cards = make_cards(trading_kitchen(0, days=(DAYS, DAYS)))
    batches = tuple(replace(cards.batches[0], sugar=units, filled=(), lemons=0, pectin=0) for units in used)
    only = replace(cards, batches=batches, goods=(replace(SUGAR, **good),))
    count = [[int(m == d) for m in range(len(used))] for d in range(DAYS)]
    return [(row.comes, row.needed, row.units) for row in purchases(only, count)]


def test_what_comes_loose_is_bought_on_the_day_it_runs_out() -> None:
    # 10 kg last for Monday's 6 kg; Tuesday lacks 2 kg, Wednesday 3 kg, Thursday has its delivery.
    assert bought((60, 60, 30, 50)) == [(1, 1, 20), (2, 2, 30)]


def test_a_pack_lasts_until_another_is_needed() -> None:
    # Short in all: 12 − 10 = 2 kg by Tuesday, 15 − 10 = 5 by Wednesday, 24 − 15 = 9 by Thursday.
    assert bought((60, 60, 30, 90), pack=40) == [(1, 1, 40), (2, 2, 40), (3, 3, 40)]
    assert bought((60, 60, 30, 90), pack=50) == [(1, 1, 50), (3, 3, 50)]


def test_a_purchase_waits_for_no_later_day_than_the_last_delivery_before_it_is_needed() -> None:
    assert bought((60, 60, 30, 90), comes=(0, 3)) == [(0, 1, 50), (3, 3, 40)]


def test_a_least_order_is_not_followed_by_a_smaller_one() -> None:
    # 9 kg in packs of 1 kg: 2 and 3 and 4; orders of 4 packs are 4 and 5, of 5 packs 9 at once
    used = (60, 60, 30, 90)
    assert bought(used, pack=10, least=4) == [(1, 1, 40), (2, 2, 50)]
    assert bought(used, pack=10, least=5) == [(1, 1, 90)]
    assert bought(used, pack=10, least=12) == [(1, 1, 120)]


@pytest.mark.parametrize("seed", range(60))
def test_no_purchases_cost_less(seed: int) -> None:
    rng = Random(seed)
    cards = make_cards(trading_kitchen(seed, days=(3, 3), fruits=(1, 1), picks_kg=12.0))
    count = [[int(rng.random() < 1.5 / len(cards.batches)) for _ in cards.batches] for _ in range(cards.days)]
    for g, good in enumerate(cards.goods):
        mine = [row for row in purchases(cards, count) if row.good == g]
        stock = levels(cards, good, count)
        if not good.comes or min(stock[: good.comes[0]], default=0) < 0:
            continue
        assert enough(stock, mine)
        assert all(row.comes in good.comes and row.comes <= row.needed for row in mine)
        assert all(row.units % good.pack == 0 and row.units >= good.pack * good.least for row in mine)
        assert sum(row.units for row in mine) == fewest_packs(good, stock) * good.pack


def levels(cards: Cards, good: GoodCard, count: list[list[int]]) -> list[int]:
    """Units in the store at the end of each day where nothing is bought; below 0 what is short."""
    level, found = good.on_hand, []
    for d, row in enumerate(count):
        level += good.delivered[d]
        level -= sum(
            n * cards.uses(card).get(good.name, 0) for n, card in zip(row, cards.batches, strict=True)
        )
        found.append(level)
    return found


def enough(stock: list[int], rows: list[Bought]) -> bool:
    return all(level + sum(r.units for r in rows if r.comes <= d) >= 0 for d, level in enumerate(stock))


def fewest_packs(good: GoodCard, stock: list[int]) -> int:
    """The fewest packs of all ways to buy none or at least the least order on each day it may come."""
    most = good.least + max(0, -min(stock)) // good.pack + 1
    if good.pack == 1:  # too many to try; what comes loose is bought to the unit
        return max(0, -min(stock))
    choices = [0, *range(good.least, most + 1)]
    ways = [
        packs
        for packs in product(choices, repeat=len(good.comes))
        if enough(stock, [Bought(0, c, c, n * good.pack) for c, n in zip(good.comes, packs, strict=True)])
    ]
    return min(map(sum, ways))
