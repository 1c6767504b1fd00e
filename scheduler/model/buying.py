"""What an allocation buys for the dry store: as late as it can come, at the least cost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scheduler.cards import Cards
from scheduler.stock_cards import GoodCard

Counts = Sequence[Sequence[int]]


@dataclass(frozen=True, slots=True)
class Bought:
    """Card units of a good that come on a day (index), and the first day on which they are needed."""

    good: int
    comes: int
    needed: int
    units: int


def purchases(cards: Cards, count: Counts) -> tuple[Bought, ...]:
    """What the batches counted by day and card need beyond what is on hand and delivered.

    One purchase a good and day of coming. In all no more packs than are needed or the least order has; what
    can wait for a later purchase waits, unless too little would be left over for a purchase of its own.
    """
    return tuple(
        each
        for g, good in enumerate(cards.goods)
        for each in _bought(g, good, _shortages(cards, good, count))
    )


def _shortages(cards: Cards, good: GoodCard, count: Counts) -> dict[int, int]:
    """Units that are short by the end of each day on which more are short than ever before.

    Of what is used from the first day on, or from the day after a date on, as much is short as what is on
    hand then and what is delivered do not cover.
    """
    short: dict[int, int] = {}
    came = most = 0
    left = {0: good.on_hand, **dict(good.lasting)}
    for d, row in enumerate(count):
        used = sum(n * cards.uses(cards.batches[m]).get(good.name, 0) for m, n in enumerate(row) if n)
        came += good.delivered[d]
        left = {first: units - used * (first <= d) for first, units in left.items()}
        lacking = -came - min(units for first, units in left.items() if first <= d)
        if lacking > most:
            most = short[d] = lacking
    return short


def _bought(g: int, good: GoodCard, short: Mapping[int, int]) -> list[Bought]:
    # Nothing can come by a day before the first: it keeps its own, for which the model has no purchase.
    by_coming: dict[int, list[int]] = {}
    for d in short:
        by_coming.setdefault(max((c for c in good.comes if c <= d), default=d), []).append(d)
    rows, got = [], 0
    rest = packs_for(good, max(short.values(), default=0))
    for comes, days in by_coming.items():
        lacking = [d for d in days if short[d] > got * good.pack]
        if not lacking:
            continue
        packs = max(good.least, -(-short[lacking[-1]] // good.pack) - got)
        if rest - packs < good.least:
            packs = rest
        rows.append(Bought(g, comes, lacking[0], packs * good.pack))
        got, rest = got + packs, rest - packs
    return rows


def packs_for(good: GoodCard, units: int) -> int:
    """The fewest packs that hold so many units and can be bought."""
    return max(good.least, -(-units // good.pack)) if units else 0


def cost(cards: Cards, bought: Iterable[Bought]) -> int:
    """Card money paid for purchases."""
    return sum(cards.goods[each.good].price * each.units for each in bought)
