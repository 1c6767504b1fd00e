"""What is given of a day before it is planned: pans and rings out of use, batches held and ruled out.

Classes have a place for each pan or ring in use; a number counts along these places on that day.
"""

from __future__ import annotations

from collections.abc import Mapping

from scheduler.cards import BatchCard, Cards
from scheduler.domain.held import HeldBatch
from scheduler.model.day import ANY, Barred, DayWork, Pin, Place, Presence


def out_of_use(cards: Cards, day: int) -> tuple[Place, ...]:
    """The classes of pans and rings that are short of a place on a day, once for each place."""
    short: list[Place] = []
    for p, pans in enumerate(cards.pans):
        short += [("pan", p)] * (len(pans.names) - len(cards.pans_in_use[day][p]))
    for q, rings in enumerate(cards.rings):
        short += [("ring", q)] * (len(rings.names) - len(cards.rings_in_use[day][q]))
    return tuple(short)


def places(cards: Cards, day: int, card: BatchCard) -> list[tuple[str, str]]:
    """Pan and ring, by name, that a batch of the card may have on a day."""
    recipe, barred = cards.scenario.recipes[card.recipe].name, _ruled_out(cards, day)
    return [
        (pan, ring)
        for pan in cards.pans_in_use[day][card.pan]
        for ring in cards.rings_in_use[day][card.ring]
        if not any(row.recipe == recipe and row.stands(pan, ring) for row in barred)
    ]


def without_place(cards: Cards, day: int) -> frozenset[int]:
    """Cards that have no place on a day, as all their pans or rings are out or ruled out."""
    if not cards.scenario.out and not cards.scenario.held:
        return frozenset()
    return frozenset(m for m, card in enumerate(cards.batches) if not places(cards, day, card))


def _ruled_out(cards: Cards, day: int) -> list[HeldBatch]:
    return [row for row in cards.scenario.held if not row.hold and row.day == cards.dates[day]]


def barred(cards: Cards, day: int) -> tuple[Barred, ...]:
    """Numbers of pans and rings that are ruled out while others of their class are not."""
    names = [recipe.name for recipe in cards.scenario.recipes]
    found = []
    for row in _ruled_out(cards, day):
        pan = _place(row.pan, cards.pans_in_use[day])
        ring = _place(row.ring, cards.rings_in_use[day])
        if pan and ring and (pan[1] != ANY or ring[1] != ANY):
            found.append(Barred(names.index(row.recipe), *pan, *ring))
    return tuple(sorted(found))


def _place(name: str, in_use: tuple[tuple[str, ...], ...]) -> tuple[int, int] | None:
    """Class and number of a name, ANY where nothing is to tell; None if it is not in use."""
    if not name:
        return ANY, ANY
    return next(((c, _number(name, names)) for c, names in enumerate(in_use) if name in names), None)


def _number(name: str, names: tuple[str, ...]) -> int:
    return names.index(name) if name and len(names) > 1 else ANY


def pin(cards: Cards, row: HeldBatch, m: int) -> Pin:
    """What a held row asks of the batch of a card that meets it."""
    day, card = cards.dates.index(row.day), cards.batches[m]
    return Pin(
        m,
        ANY if row.start is None else row.start,
        _number(row.pan, cards.pans_in_use[day][card.pan]),
        _number(row.ring, cards.rings_in_use[day][card.ring]),
    )


def pins(cards: Cards, day: int, held: Mapping[int, int]) -> tuple[Pin, ...]:
    """The pins of a day; ``held`` says by held row which card meets it."""
    rows = cards.scenario.held
    mine = (pin(cards, rows[h], m) for h, m in held.items() if rows[h].day == cards.dates[day])
    return tuple(sorted(each for each in mine if not each.free))


def day_work(
    cards: Cards,
    day: int,
    batches: tuple[int, ...],
    freezing: int,
    people: tuple[Presence, ...],
    held: Mapping[int, int] | None = None,
    labelling: int = 0,
    taking_out: int = 0,
) -> DayWork:
    """What a day must place, with all that is given of it."""
    return DayWork(
        batches, freezing, people, cards.closed[day], labelling, taking_out, out_of_use(cards, day),
        pins(cards, day, held or {}), barred(cards, day),
    )  # fmt: skip
