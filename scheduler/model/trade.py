"""Rules of the allocation about trade: whole packs, dates of goods, orders without parts, stock of the shop.

None of them reaches into a day, so none can make one harder. Names in docstrings are those of the rule book.
"""

from __future__ import annotations

from scheduler.model.decisions import Decisions, Linear, total, weighted


def goods_come_in_whole_packs(x: Decisions) -> None:
    """packs: a whole number, none or at least the least order.

    Cost counts packs, not the days on which they come, so that one number a good says it all: everything on
    the first day on which it can come. Purchases are spread over their days when they are read out.
    """
    for g, (packs, ordered) in x.packs.items():
        good = x.cards.goods[g]
        x.model.add(x.bought[g, good.comes[0]] == good.pack * packs)
        if good.least > 1:
            x.model.add(packs >= good.least * ordered)
            x.model.add(packs == 0).only_enforce_if(~ordered)


def goods_are_used_within_their_dates(x: Decisions) -> None:
    """good-date: what is used after a date is on hand for longer, delivered, or bought.

    Exact, as the soonest date goes first: what is used from one day to another can have come from all that
    outlasts the day before the first of them and is there by the last.
    """
    for g, good in enumerate(x.cards.goods):
        per_batch = [x.cards.uses(card).get(good.name, 0) for card in x.cards.batches]
        for first, units in good.lasting if any(per_batch) else ():
            bought = [(d, var) for (of, d), var in x.bought.items() if of == g]
            used: list[Linear] = []
            for d in range(first, x.cards.days):
                used.append(weighted(x.count[d], per_batch))
                came = sum(good.delivered[: d + 1]) + total(var for day, var in bought if day <= d)
                x.model.add(total(used) <= units + came)


def orders_without_parts_are_filled_whole(x: Decisions) -> None:
    """part-delivery."""
    for i, whole in x.whole.items():
        x.model.add(x.filled[i] == x.cards.orders[i].jars * whole)


def missing_shop_stock_counts(x: Decisions) -> None:
    """goal-value, short: what the shop asks for beyond the settled jars that are left is missing."""
    for row, missing in zip(x.cards.shop, x.shop_missing, strict=True):
        x.model.add(missing >= row.jars - x.settled(row.day, row.product))
