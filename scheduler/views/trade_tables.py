"""What the shop has left, how goods are bought and which pass their date, as tables and words."""

from __future__ import annotations

from datetime import date

import pandas as pd

from scheduler.auditor.case import Case
from scheduler.auditor.farm import Farm
from scheduler.auditor.good_dates import lost_by_date
from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import ANY_DAY, Delivery, Good, Weekday
from scheduler.languages import message, say, say_many, spoken
from scheduler.plan_rows import Plan, Purchase
from scheduler.views import words


def shop_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """A row for each day and product that the shop asks for, by day; no rows where it asks for nothing."""
    rows = sorted(plan.shop, key=lambda row: (row.day, row.recipe, row.jar))
    return pd.DataFrame(
        {
            say("at the end of"): [words.day_name(row.day) for row in rows],
            say("recipe"): [words.product(row.recipe, row.jar, scenario) for row in rows],
            say("jars asked for"): [row.jars for row in rows],
            say("settled jars left"): [row.settled for row in rows],
            say("jars missing"): [row.missing for row in rows],
        }
    )


def shop_said(plan: Plan) -> str:
    """How the shop fares, in a sentence: its days without enough, and the most missing on one of them."""
    missing: dict[date, int] = {}
    for row in plan.shop:
        missing[row.day] = missing.get(row.day, 0) + row.missing
    days = [day for day, jars in missing.items() if jars]
    if not days:
        return say("The shop has all that it asks for.")
    most = words.jars(max(missing.values()))
    return say(
        "The shop misses jars on {days} of {missing} days, at most {most} on one of them.",
        days=len(days),
        missing=len(missing),
        most=most,
    )


def amount(bought: Purchase, scenario: Scenario) -> str:
    """``20.2 kg``, or in packs ``50 kg (2 packs of 25 kg)``."""
    good = next(good for good in scenario.goods if good.name == bought.good)
    quantity = words.quantity(bought.quantity, good.unit)
    if not bought.packs or good.pack is None:
        return quantity
    packs = say_many("{n} pack of {amount}", "{n} packs of {amount}", bought.packs, amount=pack(good))
    return f"{quantity} ({packs})"


def pack(good: Good) -> str:
    """What a pack holds: ``25 kg``; empty where any quantity can be bought."""
    return "" if good.pack is None else words.quantity(good.pack, good.unit)


def delivery_days(good: Good) -> str:
    """``Mon, Thu``; ``any`` where it comes on any day."""
    if good.delivery_days == ANY_DAY:
        return say("any")
    return ", ".join(spoken(day) for day in Weekday if day in good.delivery_days)


def comes_earlier(plan: Plan) -> bool:
    """Whether anything bought comes on an earlier day than it is needed."""
    return any(bought.arrives < bought.needed for bought in plan.purchases)


PAST_THEIR_DATE = message("Goods that pass their date before they are used")
PAST_READ = message(
    "What is left when its date has passed is not used; it was paid for, so no goal counts it."
)


def past_their_date(plan: Plan, situation: Situation) -> pd.DataFrame:
    """A row for each date of a good that passes within the plan with some of it left; no rows where none."""
    units = {good.name: good.unit for good in situation.scenario.goods}
    return pd.DataFrame(
        {
            say("good"): row.good,
            say("last day of use"): words.day_name(row.use_by),
            say("on hand"): words.quantity(row.on_hand, units[row.good]),
            say("used by then"): words.quantity(row.on_hand - row.lost, units[row.good]),
            say("lost"): words.quantity(row.lost, units[row.good]),
        }
        for row in lost_by_date(Case(Farm(situation), plan))
    )


def opened(good: Good) -> str:
    """``1.5 kg, use by Wed 8 Jul``; empty where nothing is opened."""
    if good.opened_use_by is None:
        return ""
    return say(
        "{quantity}, use by {day}",
        quantity=words.quantity(good.opened, good.unit),
        day=words.day_name(good.opened_use_by),
    )


def usable_from(delivery: Delivery, scenario: Scenario) -> str:
    """The first day on which a delivery may be used; ``after the plan`` where that is no planned day."""
    day = delivery.counts_from(scenario.kitchen.open)
    return words.day_name(day) if day <= scenario.dates()[-1] else say("after the plan")
