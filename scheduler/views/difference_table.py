"""Two plans side by side, of the scenario and of a try: what is lost, made, missing, worked and spent."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, message, spoken
from scheduler.plan_rows import Plan, totals
from scheduler.views import tables, words
from scheduler.views.curve_table import goal

HEADS = ("", message("scenario"), message("this try"), message("difference"))


@dataclass(frozen=True, slots=True)
class _Row:
    """A quantity of a plan, and how an amount of it is written, without its sign."""

    name: str
    of: Callable[[Plan, Scenario], float]
    said: Callable[[float], str]


def difference_table(ours: tuple[Plan, Scenario], other: tuple[Plan, Scenario]) -> pd.DataFrame:
    """A row for each quantity: of the scenario's plan (``ours``), of the try's, and what the try has more.

    Hours are those that are paid for, overtime and the least that a shift is paid for included. Money is what
    is spent less what orders pay: with a minus more is earned.
    """
    currency = ours[1].currency
    rows = [row for row in _rows(currency) if row.name != _SHOP or ours[1].shop or other[1].shop]
    cells = [
        (
            measures.worded(spoken(row.name)),
            _signed(row.of(*ours), row.said, ""),
            _signed(row.of(*other), row.said, ""),
            _signed(row.of(*other) - row.of(*ours), row.said, "+"),
        )
        for row in rows
    ]
    return pd.DataFrame(cells, columns=list(map(spoken, HEADS)))


def minutes_paid(plan: Plan, scenario: Scenario) -> int:
    """Minutes that people are paid for, each shift at least ``least_paid_minutes`` (rule 52)."""
    least = scenario.work_rules.least_paid_minutes
    return sum(max(shift.leaves - shift.start, least) for shift in plan.shifts)


def frozen_at_the_end(plan: Plan, scenario: Scenario) -> float:
    """kg as prepared in the freezers on the evening of the last planned day."""
    last = scenario.dates()[-1]
    return sum(row.left for row in plan.freezer if row.day == last)


_SHOP = message("jars missing in the shop")


def _rows(currency: str) -> tuple[_Row, ...]:
    def money(amount: float) -> str:
        return words.money(amount, currency)

    return (
        _Row(message("fruit lost, kg"), lambda plan, _: tables.lost(totals(plan)), _kg),
        _Row(message("value lost on fruit"), lambda plan, _: goal(plan, "spoiled").value, money),
        _Row(message("sold fresh, kg"), lambda plan, _: totals(plan).sold, _kg),
        _Row(message("jars made"), lambda plan, _: totals(plan).made, _count),
        _Row(message("jars missing from orders"), lambda plan, _: totals(plan).short, _count),
        _Row(_SHOP, lambda plan, _: sum(row.missing for row in plan.shop), _count),
        _Row(message("batches cooked"), lambda plan, _: len(plan.batches), _count),
        _Row(message("hours paid"), minutes_paid, words.hours),
        _Row(message("money spent less orders paid"), lambda plan, _: goal(plan, "money").value, money),
        _Row(message("in the freezer at the end, kg"), frozen_at_the_end, _kg),
    )


def _kg(amount: float) -> str:
    return words.number(measures.shown(amount), 1)


def _count(amount: float) -> str:
    return words.number(amount)


def _signed(amount: float, said: Callable[[float], str], plus: str) -> str:
    """An amount with its sign; what is written as nothing has none."""
    text = said(abs(amount))
    if text == said(0.0):
        return text
    return f"{'−' if amount < 0 else plus}{text}"
