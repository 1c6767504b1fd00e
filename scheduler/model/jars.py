"""Rules of the allocation about where jars stand: on racks until they are cold, then on shelves.

They bind the jars of whole days, so none of them reaches into a day or makes one harder. Names in docstrings
are those of the rule book.
"""

from __future__ import annotations

from scheduler.model.decisions import Decisions, total, weighted


def racks_hold_the_jars_of_a_day(x: Decisions) -> None:
    """cooling-racks: all jars filled on a day, sample and scrap among them."""
    racks = x.cards.kitchen.rack_jars
    filled = [card.jars for card in x.cards.batches]
    for d in range(x.cards.days) if racks is not None else ():
        x.model.add(weighted(x.count[d], filled) <= racks)


def shelves_hold_the_jars_left(x: Decisions) -> None:
    """shelf-room: jars of all products left in the evening, without those that cool on racks."""
    cards, room = x.cards, x.cards.kitchen.shelf_jars
    on_racks = cards.kitchen.rack_jars is not None
    products = range(len(cards.products))
    for d in range(cards.days) if room is not None else ():
        made = total(x.jars_made(e, p) for e in range(d + 1 - on_racks) for p in products)
        shipped = total(x.shipped(d, p) for p in products)
        x.model.add(sum(of.jars_on_hand for of in cards.products) + made - shipped <= room)


RULES = (racks_hold_the_jars_of_a_day, shelves_hold_the_jars_left)
