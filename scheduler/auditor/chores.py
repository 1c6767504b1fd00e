"""Rules 66 to 68: labels, and fruit taken out of the freezer on the day before it is cooked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.auditor.case import Case, Product, product_of, product_on
from scheduler.auditor.finding import KG, Finding
from scheduler.auditor.panful import up_to_five
from scheduler.domain.kitchen import BLOCK, Thaw
from scheduler.plan_rows import StageKind


def labelled(case: Case, product: Product, day: date) -> int:
    """Jars of a product labelled by the end of a day."""
    return sum(row.labelled for (of, when), row in case.jar_days.items() if of == product and when <= day)


def jars_are_labelled_in_their_days(case: Case) -> Iterator[Finding]:
    """Rule 66: none before the day after potting, all by within_days after it; none without labels."""
    labels = case.farm.kitchen.labels
    for (product, day), row in case.jar_days.items():
        if row.labelled < 0 or (row.labelled and labels is None):
            allowed = "none, as the kitchen has no labels" if labels is None else "0 or more"
            yield Finding("labelled", product_on(product, day), f"{row.labelled} jars labelled", allowed)
    if labels is None:
        return
    for product in case.farm.products:
        for day in case.farm.days:
            done = labelled(case, product, day)
            most = _made_by(case, product, day - timedelta(days=1))
            least = _made_by(case, product, day - timedelta(days=labels.within_days))
            if not least <= done <= most:
                found = f"{done} jars labelled so far"
                yield Finding("labelled", product_on(product, day), found, f"{least} to {most}")


def only_labelled_jars_leave(case: Case) -> Iterator[Finding]:
    """Rule 66: shipped so far ≤ on hand at the start + labelled so far."""
    if case.farm.kitchen.labels is None:
        return
    orders = case.farm.orders
    lines = [(orders[line.order], line.filled) for line in case.plan.orders if line.order in orders]
    for product, size in case.farm.products.items():
        mine = [(order.due, jars) for order, jars in lines if product_of(order) == product]
        for day in sorted({due for due, _ in mine}):
            shipped = sum(jars for due, jars in mine if due <= day)
            ready = size.jars_on_hand + labelled(case, product, day)
            if shipped > ready:
                found = f"{shipped} jars shipped so far"
                yield Finding("labelled", product_on(product, day), found, f"at most {ready} labelled")


def _made_by(case: Case, product: Product, day: date) -> int:
    """Jars of a product for sale that are made by the end of a day."""
    return sum(case.made(product, each) for each in case.farm.days if each <= day)


def labels_have_their_minutes(case: Case) -> Iterator[Finding]:
    """Rule 67: ⌈60 × jars ÷ jars_per_hour⌉5 minutes in pieces of 30 min and one of the rest."""
    labels = case.farm.kitchen.labels
    for day in case.farm.days:
        jars = sum(row.labelled for (_, when), row in case.jar_days.items() if when == day)
        minutes = up_to_five(60 * max(0, jars) / labels.jars_per_hour) if labels else 0
        wanted = [BLOCK] * (minutes // BLOCK) + [minutes % BLOCK] * (minutes % BLOCK > 0)
        yield from _pieces(case, "label-work", day, StageKind.LABEL, wanted)


def fruit_is_taken_out_the_day_before(case: Case) -> Iterator[Finding]:
    """Rule 68: one stage of take_out_minutes on the day before anything thawed overnight is cooked."""
    kitchen = case.farm.kitchen
    minutes = up_to_five(kitchen.take_out_minutes) if kitchen.thaw == Thaw.OVERNIGHT else 0
    for day in case.farm.days:
        tomorrow = day + timedelta(days=1)
        thawed = sum(row.thawed for (_, when), row in case.freezer_days.items() if when == tomorrow)
        wanted = [minutes] if minutes and thawed > KG else []
        yield from _pieces(case, "take-out", day, StageKind.TAKE_OUT, wanted)


def _pieces(case: Case, rule: str, day: date, kind: StageKind, wanted: list[int]) -> Iterator[Finding]:
    """Stages of a day other than of the minutes wanted, longest first."""
    stages = [stage for stage in case.stages_on.get(day, []) if stage.kind == kind]
    found = sorted((stage.end - stage.start for stage in stages), reverse=True)
    if found != wanted:
        yield Finding(rule, f"{day.isoformat()}, {kind}", _told(found), _told(wanted))


def _told(minutes: list[int]) -> str:
    return " + ".join(str(each) for each in minutes) + " min" if minutes else "none"
