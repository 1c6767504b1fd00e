"""Deliveries and order dates of a plan as entries of one calendar."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import Delivery
from scheduler.feeds.entry import ORDERS, QUARTER, Entry
from scheduler.plan_rows import OrderLine, Plan, Purchase
from scheduler.views import trade_tables, words

MORNING = 8 * 60
"""When a whole day's alarm sounds: orders go out and vans come from then on (common practice, no source)."""
DELIVERY_ALARM = 30


def trade_entries(plan: Plan, scenario: Scenario) -> list[Entry]:
    """What must be ordered by when, what comes, and which orders fall due."""
    entries = [entry for bought in plan.purchases for entry in _bought(bought, scenario)]
    entries += [_comes(delivery, scenario) for delivery in scenario.deliveries]
    entries += [_due(line, scenario) for line in plan.orders]
    return entries


def _bought(bought: Purchase, scenario: Scenario) -> Iterator[Entry]:
    amount = trade_tables.amount(bought, scenario)
    needed = f"Needed on the morning of {words.day_name(bought.needed)}."
    comes = f"Comes on {words.day_name(bought.arrives)}."
    by = f"Ordered by {words.day_name(bought.order_by)} at the latest."
    yield Entry(
        ORDERS, bought.order_by, f"order {bought.good}", bought.arrives.isoformat(), None, None,
        f"Last day to order {bought.good}: {amount}", scenario.farm, "order", f"{comes}\n{needed}", MORNING,
    )  # fmt: skip
    yield Entry(
        ORDERS, bought.arrives, f"comes {bought.good}", bought.order_by.isoformat(), None, None,
        f"Delivery of {bought.good}: {amount}", scenario.farm, "delivery", f"{by}\n{needed}", MORNING,
    )  # fmt: skip


def _comes(delivery: Delivery, scenario: Scenario) -> Entry:
    """A delivery that is on its way, at its time where it has one."""
    good = next(good for good in scenario.goods if good.name == delivery.good)
    timed = delivery.at is not None
    return Entry(
        ORDERS, delivery.day, f"on its way {good.name}", "", delivery.at,
        None if delivery.at is None else delivery.at + QUARTER,
        f"Delivery of {good.name}: {words.quantity(delivery.quantity, good.unit)}", scenario.farm, "delivery",
        f"Ordered and paid for. Usable from {trade_tables.usable_from(delivery, scenario)}.",
        DELIVERY_ALARM if timed else MORNING,
    )  # fmt: skip


def _due(line: OrderLine, scenario: Scenario) -> Entry:
    product = words.product(line.recipe, line.jar, scenario)
    customer = next(order.customer for order in scenario.orders if order.name == line.order)
    short = line.jars - line.filled
    missing = f", {short} missing" if short else ""
    return Entry(
        ORDERS, line.due, f"due {line.order}", "", None, None,
        f"Due: {line.jars} {product}, {customer} ({line.order}){missing}", scenario.farm, "due",
        f"{words.jars(line.filled)} of {line.jars} ordered{missing}.", MORNING,
    )  # fmt: skip
