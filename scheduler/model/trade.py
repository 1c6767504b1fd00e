"""Rules of the allocation about trade: whole packs, orders that take no part delivery, stock of the shop.

None of them reaches into a day, so none can make one harder. Names in docstrings are those of the rule book.
"""

from __future__ import annotations

from scheduler.model.decisions import Decisions


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


def orders_without_parts_are_filled_whole(x: Decisions) -> None:
    """part-delivery."""
    for i, whole in x.whole.items():
        x.model.add(x.filled[i] == x.cards.orders[i].jars * whole)


def missing_shop_stock_counts(x: Decisions) -> None:
    """goal-value, short: what the shop asks for beyond the settled jars that are left is missing."""
    for row, missing in zip(x.cards.shop, x.shop_missing, strict=True):
        x.model.add(missing >= row.jars - x.settled(row.day, row.product))
