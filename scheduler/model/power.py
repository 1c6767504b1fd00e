"""Rules of the allocation on what rings draw: kW at once, and gas in the bottles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from scheduler.cards import Cards
from scheduler.model.decisions import Decisions, total, weighted
from scheduler.model.limits import rooms


def rings_draw_what_the_supply_gives(x: Decisions) -> None:
    """power, as watt-minutes of a day: all are drawn while pans are on the heat."""
    cooking = [card.cooking for card in x.cards.batches]
    for room, drawn in rooms(x.cards):
        work = [watts * minutes for watts, minutes in zip(drawn, cooking, strict=True)]
        for d, margin in x.margins.items() if any(work) else ():
            hot = total(heat for _, heat in x.heat[d])
            x.model.add(100 * weighted(x.count[d], work) <= (100 - margin) * room * hot)


def gas_lasts_for_all_days(x: Decisions) -> None:
    """gas: what the rings burn on all days is in the bottles."""
    burnt = [card.burnt for card in x.cards.batches]
    if x.cards.gas is not None and any(burnt):
        x.model.add(total(weighted(day, burnt) for day in x.count) <= x.cards.gas)


def gas_left(
    cards: Cards, counts: Sequence[Sequence[int]], boil_of: Mapping[int, int]
) -> list[tuple[tuple[int, ...], int]]:
    """Watt-minutes that a batch of each card burns, and those that batches so far have left; empty without
    a limit.

    A card that softens fruit burns what boiling its juice will burn too: ``boil_of`` names that card.
    """
    if cards.gas is None:
        return []
    burnt = [card.burnt for card in cards.batches]
    used = sum(n * burnt[m] for day in counts for m, n in enumerate(day))
    with_juice = (b + (burnt[boil_of[m]] if m in boil_of else 0) for m, b in enumerate(burnt))
    return [(tuple(with_juice), cards.gas - used)]
