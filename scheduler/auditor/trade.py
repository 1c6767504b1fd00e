"""Rules 47 to 50: orders that take no part delivery, stock of the shop, packs, delivery days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.auditor.case import Case, Product, product_of, product_on, repeated
from scheduler.auditor.chores import labelled
from scheduler.auditor.finding import Finding, same
from scheduler.plan_rows import Purchase


def orders_without_parts_are_filled_whole(case: Case) -> Iterator[Finding]:
    """Rule 47."""
    for line in case.plan.orders:
        order = case.farm.orders.get(line.order)
        if order and not order.parts and line.filled not in (0, order.jars):
            where = f"order {line.order}"
            yield Finding("part-delivery", where, f"{line.filled} filled", f"0 or {order.jars}")


def settled(case: Case, product: Product, day: date) -> int:
    """Jars of a product that have settled, and are labelled where there are labels, and are not shipped by
    the end of a day."""
    last = day - timedelta(days=case.farm.kitchen.settle_days)
    ready = sum(case.made(product, before) for before in case.farm.days if before <= last)
    if case.farm.kitchen.labels:
        ready = min(ready, labelled(case, product, day))
    orders = case.farm.orders
    lines = [(orders[line.order], line.filled) for line in case.plan.orders if line.order in orders]
    shipped = sum(jars for order, jars in lines if product_of(order) == product and order.due <= day)
    return case.farm.products[product].jars_on_hand + ready - shipped


def the_shop_has_its_rows(case: Case) -> Iterator[Finding]:
    """Rule 48: one row for each that the shop asks for, as it asks."""
    asked = {(product_of(row), row.day): row.jars for row in case.farm.shop}
    for product, day in repeated(case.plan.shop, lambda row: (product_of(row), row.day)):
        yield Finding("shop-stock", product_on(product, day), "more than one row", "one row")
    told = {(product_of(row), row.day): row.jars for row in case.plan.shop}
    for product, day in sorted(asked.keys() | told.keys()):
        found, allowed = told.get((product, day)), asked.get((product, day))
        if found != allowed:
            where = product_on(product, day)
            yield Finding("shop-stock", where, _jars_asked(found), _jars_asked(allowed))


def _jars_asked(jars: int | None) -> str:
    return "no row" if jars is None else f"{jars} jars asked for"


def the_shop_has_what_is_settled(case: Case) -> Iterator[Finding]:
    """Rule 48: the jars said to be left for the shop are those settled and not shipped."""
    for row in case.plan.shop:
        product = product_of(row)
        left = settled(case, product, row.day) if product in case.farm.products else 0
        if row.settled != left:
            where = product_on(product, row.day)
            yield Finding("shop-stock", where, f"{row.settled} settled jars left", f"{left}")


def _named(row: Purchase) -> str:
    return f"{row.needed.isoformat()}, {row.good}"


def goods_come_in_whole_packs(case: Case) -> Iterator[Finding]:
    """Rule 49: so many packs, at least the least order; none where any quantity can be bought."""
    for row in case.plan.purchases:
        good = case.farm.goods[row.good]
        if good.pack is None:
            if row.packs != 0:
                yield Finding("packs", _named(row), f"{row.packs} packs", "0, as it comes in no pack")
            continue
        if not same(row.quantity, row.packs * good.pack):
            found, allowed = f"{row.quantity:g} bought", f"{row.packs} packs of {good.pack:g}"
            yield Finding("packs", _named(row), found, allowed)
        if row.packs < good.least_packs:
            yield Finding("packs", _named(row), f"{row.packs} packs", f"{good.least_packs} or more")


def goods_come_on_their_delivery_days(case: Case) -> Iterator[Finding]:
    """Rule 50: on the last delivery day that is not after the day on which it is needed."""
    for row in case.plan.purchases:
        good = case.farm.goods[row.good]
        days = [day for day in case.farm.days if day <= row.needed and good.comes_on(day)]
        if row.arrives not in days[-1:]:
            last = days[-1].isoformat() if days else "a later need, as it cannot have come by then"
            yield Finding("delivery-day", _named(row), f"comes {row.arrives.isoformat()}", last)
