"""Lists by day with boxes to tick: what to pick, what to take from the freezer, what to order."""

from __future__ import annotations

from datetime import date
from typing import Any

from scheduler.domain.fruit import Lot
from scheduler.domain.scenario import Scenario
from scheduler.languages import BOTH, units
from scheduler.plan_rows import FreezerDay, Plan, Purchase
from scheduler.views import chore_tables, freezing_tables, trade_tables, words

Data = dict[str, Any]


def picks_any(_: Plan, scenario: Scenario) -> bool:
    """Whether anything is picked."""
    return bool(scenario.picked or scenario.picks)


def thaws_any(plan: Plan, scenario: Scenario) -> bool:
    """Whether anything is thawed."""
    return bool(freezing_tables.days_taken_out(plan, scenario))


def buys_any(plan: Plan, scenario: Scenario) -> bool:
    """Whether anything is bought or comes."""
    return bool(plan.purchases or scenario.deliveries)


def picks(plan: Plan, scenario: Scenario) -> Data | None:
    """What to pick each day, by fruit and grade, before it is graded; None where nothing is picked."""
    listed = scenario.picked or scenario.picks
    by_day: dict[date, list[Lot]] = {}
    for lot in listed:
        by_day.setdefault(lot.day, []).append(lot)
    if not picks_any(plan, scenario):
        return None
    return {
        "kind": "picks",
        "both": units() == BOTH,
        "note": "kg as picked, as the plan expects them. Write what came in, for the next plan.",
        "days": [
            {
                "name": words.day_name(day),
                "total": words.mass(sum(lot.kg for lot in by_day[day])),
                "rows": [
                    {
                        "letters": scenario.fruit(lot.fruit).letter,
                        "fruit": lot.fruit,
                        "grade": lot.grade.value,
                        "kg": words.mass(lot.kg),
                    }
                    for lot in by_day[day]
                ],
            }
            for day in sorted(by_day)
        ],
    }


def thaw(plan: Plan, scenario: Scenario) -> Data | None:
    """What to take from the freezer, by lot, and what for; None where nothing is thawed."""
    days = freezing_tables.days_taken_out(plan, scenario)
    if not days:
        return None
    return {
        "kind": "thaw",
        "both": units() == BOTH,
        "note": freezing_tables.how_thawed(scenario.kitchen),
        "days": [
            {
                "name": freezing_tables.when_taken_out(plan, scenario, out),
                "for": f"for {words.day_name(day)}",
                "total": words.mass(sum(row.thawed for row in chore_tables.thawed_for(plan, day))),
                "rows": [_taken(row, plan, scenario) for row in chore_tables.thawed_for(plan, day)],
            }
            for out, day in days
        ],
    }


def _taken(row: FreezerDay, plan: Plan, scenario: Scenario) -> Data:
    recipes = dict.fromkeys(d.recipe for d in plan.draws if (d.day, d.lot) == (row.day, row.lot))
    return {
        "letters": scenario.fruit(row.fruit).letter,
        "lot": row.lot,
        "kg": words.mass(row.thawed),
        "use_by": f"{words.day_name(row.use_by)} {row.use_by.year}",
        "for": ", ".join(recipes),
    }


def purchases(plan: Plan, scenario: Scenario) -> Data | None:
    """What to order, by the last day to do so, and what is on its way; None where nothing comes."""
    if not buys_any(plan, scenario):
        return None
    rows = sorted(plan.purchases, key=lambda bought: (bought.order_by, bought.arrives, bought.good))
    units = {good.name: good.unit for good in scenario.goods}
    return {
        "kind": "purchases",
        "total": words.money(sum(bought.cost for bought in rows), plan.currency),
        "days": [
            {
                "name": words.day_name(day),
                "total": words.money(sum(b.cost for b in rows if b.order_by == day), plan.currency),
                "rows": [_bought(bought, plan, scenario) for bought in rows if bought.order_by == day],
            }
            for day in dict.fromkeys(bought.order_by for bought in rows)
        ],
        "on_the_way": [
            {
                "good": row.good,
                "amount": words.quantity(row.quantity, units[row.good]),
                "comes": words.day_name(row.day) + ("" if row.at is None else f", {words.clock(row.at)}"),
            }
            for row in sorted(scenario.deliveries, key=lambda row: (row.day, row.at or 0, row.good))
        ],
    }


def _bought(bought: Purchase, plan: Plan, scenario: Scenario) -> Data:
    return {
        "good": bought.good,
        "amount": trade_tables.amount(bought, scenario),
        "comes": words.day_name(bought.arrives),
        "needed": words.day_name(bought.needed),
        "cost": words.money(bought.cost, plan.currency),
    }
