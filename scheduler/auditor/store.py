"""Rules 33 to 35: the dry store, what is bought for it, jars and orders."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.auditor.case import Case, Product, product_of, product_on, repeated
from scheduler.auditor.finding import KG, Finding
from scheduler.domain.trade import LEMONS, PECTIN, SUGAR

MONEY = 0.01 + 1e-9


def goods_used(case: Case) -> dict[tuple[str, date], float]:
    """What the batches of each day take from the store, by good."""
    used: dict[tuple[str, date], float] = defaultdict(float)
    for batch in case.plan.batches:
        recipe = case.farm.recipes[batch.recipe]
        for good, quantity in (
            (SUGAR, batch.sugar_kg),
            (LEMONS, float(batch.lemons)),
            (PECTIN, float(batch.pectin_g)),
            *((size.jar, float(n)) for size, n in zip(recipe.sizes, batch.filled, strict=False)),
            *((size.lid, float(n)) for size, n in zip(recipe.sizes, batch.filled, strict=False)),
        ):
            if quantity:
                used[good, batch.day] += quantity
    return used


def the_store_never_runs_out(case: Case) -> Iterator[Finding]:
    """Rule 33: used so far ≤ on hand + delivered so far + purchases needed so far."""
    used, came = goods_used(case), goods_coming(case)
    for name in sorted({good for good, _ in used} | case.farm.goods.keys()):
        good = case.farm.goods.get(name)
        stock = good.on_hand if good else 0.0
        taken = 0.0
        for day in case.farm.days:
            stock += came.get((name, day), 0.0)
            taken += used.get((name, day), 0.0)
            if taken > stock + KG:
                found, allowed = f"{taken:g} used so far", f"at most {stock:g}"
                yield Finding("store", f"{day.isoformat()}, {name}", found, allowed)


def goods_coming(case: Case) -> dict[tuple[str, date], float]:
    """What is delivered and bought, by good and by the day from which it may be used."""
    came: dict[tuple[str, date], float] = defaultdict(float)
    for delivery in case.farm.scenario.deliveries:
        usable = delivery.counts_from(case.farm.kitchen.open)
        came[delivery.good, max(usable, case.farm.first)] += delivery.quantity
    for purchase in case.plan.purchases:
        came[purchase.good, purchase.needed] += purchase.quantity
    return came


def purchases_are_of_something(case: Case) -> Iterator[Finding]:
    """Rule 33: nothing is sold back to fill another day."""
    for row in case.plan.purchases:
        if row.quantity < 0:
            where = f"{row.needed.isoformat()}, {row.good}"
            yield Finding("store", where, f"{row.quantity:g} bought", "0 or more")


def purchases_keep_their_lead_time(case: Case) -> Iterator[Finding]:
    """Rule 34: comes no sooner than it can, ordered in time, at its price."""
    for row in case.plan.purchases:
        good = case.farm.goods[row.good]
        where = f"{row.needed.isoformat()}, {row.good}"
        soonest = case.farm.first + timedelta(days=good.lead_days)
        if row.arrives < soonest:
            found = f"comes {row.arrives.isoformat()}"
            yield Finding("lead-time", where, found, f"{soonest.isoformat()} or later")
        order_by = row.arrives - timedelta(days=good.lead_days)
        if row.order_by != order_by:
            found = f"order by {row.order_by.isoformat()}"
            yield Finding("lead-time", where, found, order_by.isoformat())
        if abs(row.cost - row.quantity * good.price) > MONEY:
            found, allowed = f"cost {row.cost:.2f}", f"{row.quantity * good.price:.2f}"
            yield Finding("lead-time", where, found, allowed)


def each_order_has_its_line(case: Case) -> Iterator[Finding]:
    """Rule 35: one line for each order due on a planned day, as ordered; filled between 0 and ordered."""
    for name in repeated(case.plan.orders, lambda line: line.order):
        yield Finding("shipped", f"order {name}", "more than one line", "one line")
    listed = {line.order for line in case.plan.orders}
    for name in case.farm.orders.keys() - listed:
        yield Finding("shipped", f"order {name}", "no line", "one line")
    for line in case.plan.orders:
        where = f"order {line.order}"
        order = case.farm.orders.get(line.order)
        if order is None:
            allowed = f"no line, as it is not due by {case.farm.last.isoformat()}"
            yield Finding("shipped", where, f"a line, due {line.due.isoformat()}", allowed)
            continue
        if (product_of(line), line.due, line.jars) != (product_of(order), order.due, order.jars):
            found = f"{line.jars} {' in '.join(product_of(line))} due {line.due.isoformat()}"
            allowed = f"{order.jars} {' in '.join(product_of(order))} due {order.due.isoformat()}"
            yield Finding("shipped", where, found, allowed)
        if not 0 <= line.filled <= order.jars:
            yield Finding("shipped", where, f"{line.filled} filled", f"0 to {order.jars}")


def shipped_on(case: Case) -> dict[tuple[Product, date], int]:
    """Jars filled of the orders that fall due, by product and day."""
    filled: dict[tuple[Product, date], int] = defaultdict(int)
    for line in case.plan.orders:
        if order := case.farm.orders.get(line.order):
            filled[product_of(order), order.due] += line.filled
    return filled


def jars_balance_day_by_day(case: Case) -> Iterator[Finding]:
    """Rule 35: made as the batches fill, shipped as the orders due are filled, the rest left."""
    for product, day in repeated(case.plan.jars, lambda row: (product_of(row), row.day)):
        yield Finding("shipped", product_on(product, day), "more than one row", "one row")
    for row in case.plan.jars:
        if product_of(row) not in case.farm.products:
            yield Finding("shipped", product_on(product_of(row), row.day), "a row", "a size of the recipe")
    filled = shipped_on(case)
    for product, size in case.farm.products.items():
        level = size.jars_on_hand
        for day in case.farm.days:
            told = case.jar_days.get((product, day))
            made, shipped = case.made(product, day), filled.get((product, day), 0)
            found = (told.made, told.shipped, told.left) if told else (0, 0, level)
            allowed = (made, shipped, level + found[0] - found[1])
            if found != allowed:
                yield Finding("shipped", product_on(product, day), _jars(found), _jars(allowed))
            level = found[2]


def _jars(row: tuple[int, int, int]) -> str:
    return f"{row[0]} made, {row[1]} shipped, {row[2]} left"


def jars_settle_before_they_ship(case: Case) -> Iterator[Finding]:
    """Rule 35: shipped so far ≤ on hand at the start + made up to settle_days ago."""
    filled = shipped_on(case)
    settle = timedelta(days=case.farm.kitchen.settle_days)
    for product, size in case.farm.products.items():
        ready, shipped = size.jars_on_hand, 0
        for day in case.farm.days:
            ready += case.made(product, day - settle)
            shipped += filled.get((product, day), 0)
            if shipped > ready:
                yield Finding(
                    "shipped", product_on(product, day), f"{shipped} jars shipped so far", f"at most {ready}"
                )
