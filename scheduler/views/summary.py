"""The plan in a terminal, and as the one JSON object of ``--json``."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import pandas as pd
from rich import box
from rich.console import Group, RenderableType
from rich.panel import Panel
from rich.table import Table
from rich.text import Text

from scheduler.domain.scenario import Scenario, Situation
from scheduler.languages import spoken
from scheduler.plan_rows import Plan, Totals, totals
from scheduler.views import curve_table, grading_tables, power_tables, tables, trade_tables, words
from scheduler.views.saving_table import saving_table

_FIGURE = re.compile(r"\W{0,2}\d\S*( [a-z%]+)?")
_DAY_WIDTH = 12
"""Characters of a first column that is never broken, such as a day; longer names give way to figures."""
_KG = ("picked", "opening", "sold", "cooked", "frozen", "trimmed", "given_up", "spoiled", "left", "thawed")


def summary(plan: Plan, situation: Situation) -> RenderableType:
    """What a person wants to know of a plan, in the order in which they ask."""
    scenario = situation.scenario
    parts: list[RenderableType | None] = [
        _head(plan, situation),
        _table("What becomes of the fruit", _fates(plan, situation)),
        _note(
            "kg: sold, given up, spoiled and left as picked; cooked and frozen as prepared; trimmed between."
        ),
        _graded(situation),
        _table("Jars", tables.recipe_table(plan, scenario)),
        _orders(plan, situation),
        _shop(plan, situation.scenario),
        _table("Goals, in their order (all better when lower)", tables.goal_table(plan, scenario)),
        _note(spoken(tables.GOALS_MEAN)),
        _note(" ".join(filter(None, (words.limits(plan, situation.scenario), words.tried(plan.timetables))))),
        _slack_used(plan, situation),
        _table("The days", tables.load_table(plan).drop(columns="hours of work")),
        _table("To buy", tables.purchase_table(plan, scenario))
        if plan.purchases
        else _note("Nothing to buy: the dry store and its deliveries are enough."),
        _past_their_date(plan, situation),
        _gas(plan, situation),
        _saving(plan),
        _cautions(plan),
    ]
    return Group(*[part for part in parts if part is not None])


def curve_summary(plans: Sequence[Plan], situation: Situation) -> RenderableType:
    """The points of a trade-off curve, side by side."""
    frame = curve_table.curve_table(plans, situation.scenario)
    return Group(_table("Fruit, jars or money", frame), _note(curve_table.WHAT_IT_IS))


def as_json(plan: Plan, situation: Situation, findings: Sequence[object]) -> dict[str, Any]:
    """The object that ``maslin plan --json`` prints.

    Keys: ``status``; ``goals`` (name, value, best, bound, gap, unit, slack); ``days`` (timetables placed,
    refuted, undecided); ``kg`` of the whole plan; ``jars`` (made, short); ``seconds``; ``findings`` of the
    auditor as text; ``habit``, the same ``kg`` and ``jars`` for the habit planner, or null.
    Raises ValueError if the plan was not made from ``situation``.
    """
    if plan.input_hash != situation.input_hash:
        raise ValueError("the plan was made from other input than this situation")
    return {
        "status": plan.status,
        "goals": [
            {
                "name": g.name,
                "value": g.value,
                "best": g.best,
                "bound": g.bound,
                "gap": g.gap,
                "unit": g.unit,
                "slack": g.slack,
            }
            for g in plan.goals
        ],
        "days": {
            "placed": plan.timetables.placed,
            "refuted": plan.timetables.refuted,
            "undecided": plan.timetables.undecided,
        },
        **_kg_and_jars(totals(plan)),
        "seconds": round(plan.seconds, 3),
        "findings": [str(finding) for finding in findings],
        "habit": _kg_and_jars(plan.habit) if plan.habit else None,
    }


def _kg_and_jars(of: Totals) -> dict[str, Any]:
    return {"kg": {name: getattr(of, name) for name in _KG}, "jars": {"made": of.made, "short": of.short}}


def _head(plan: Plan, situation: Situation) -> RenderableType:
    scenario = situation.scenario
    dates = scenario.dates()
    found = totals(plan)
    lines = Text()
    lines.append(f"{scenario.farm}, {plan.scenario}", style="bold green")
    lines.append(f"  {words.day_span(dates[0], dates[-1])}, planned from {words.day_name(plan.as_of)}\n")
    lines.append(
        f"{len(plan.batches)} batches, {words.jars(found.made)}, {words.mass(found.sold)} sold fresh, "
    )
    lines.append(f"{words.mass(tables.lost(found))} of fruit lost, {words.jars(found.short)} missing.\n")
    how = "by habit" if plan.method == "habit" else words.how_good(plan)
    lines.append(f"{how[0].upper()}{how[1:]}. Planned in {plan.seconds:.1f} s.", style="dim")
    return Panel(lines, border_style="green", box=box.ROUNDED)


def _fates(plan: Plan, situation: Situation) -> pd.DataFrame:
    """Fates as rows and fruits as columns: it fits a narrow terminal; rows of nothing but 0 are left out."""
    frame = tables.fate_table(plan, situation.scenario)
    frame.loc["all"] = frame.sum()
    turned = frame.T
    return turned[turned["all"].abs() >= 0.05].reset_index(names="kg")


def _graded(situation: Situation) -> RenderableType | None:
    scenario = situation.scenario
    told = [(fruit.name, grading_tables.graded(scenario, fruit.name)) for fruit in scenario.fruits]
    lines = [f"{name}: {line}" for name, line in told if line]
    return _note("\n".join(lines)) if lines else None


def _orders(plan: Plan, situation: Situation) -> RenderableType:
    missing = [line for line in plan.orders if line.filled < line.jars]
    if not plan.orders:
        return _note("No orders fall due.")
    if not missing:
        return _note(f"All {len(plan.orders)} orders are filled.")
    frame = tables.order_table(plan, situation.scenario)
    return _table("Orders with jars missing", frame[frame["jars missing"] > 0])


def _shop(plan: Plan, scenario: Scenario) -> RenderableType | None:
    if not any(row.missing for row in plan.shop):
        return _note(trade_tables.shop_said(plan)) if plan.shop else None
    frame = trade_tables.shop_table(plan, scenario)
    return _table("Jars missing in the shop", frame[frame["jars missing"] > 0])


def _slack_used(plan: Plan, situation: Situation) -> RenderableType | None:
    told = tables.slack_used(plan, situation.scenario)
    if not told:
        return None
    return Text("What a goal gave up for the next:\n" + "\n".join(f"  • {line}" for line in told) + "\n")


def _past_their_date(plan: Plan, situation: Situation) -> RenderableType | None:
    frame = trade_tables.past_their_date(plan, situation)
    return None if frame.empty else _table(trade_tables.PAST_THEIR_DATE, frame)


def _gas(plan: Plan, situation: Situation) -> RenderableType | None:
    told = power_tables.gas_told(plan, situation.scenario)
    return _note(told) if told else None


def _saving(plan: Plan) -> RenderableType:
    if plan.habit is None:
        return _note("No habit plan to compare with.")
    title = "Against habit (oldest fruit first, biggest pan first, freeze the rest)"
    return _table(title, saving_table(plan))


def _cautions(plan: Plan) -> Panel:
    lines = "\n".join(f"• {line}" for line in words.cautions(plan))
    return Panel(lines, title="Take care", border_style="yellow", box=box.ROUNDED)


def _note(line: str) -> Text:
    return Text(line + "\n", style="dim")


def _table(title: str, frame: pd.DataFrame) -> Table:
    """A rich table of a frame: numbers to the right, zeros quiet, long headings over several lines."""
    numbers = [_of_numbers(frame, name) for name in frame.columns]
    table = Table(
        title=title,
        box=box.SIMPLE_HEAD,
        title_justify="left",
        title_style="bold",
        header_style="dim",
        pad_edge=False,
        padding=(0, 0 if all(numbers[1:]) else 1, 0, 0),  # figures are told apart by one space
    )
    for place, (name, number) in enumerate(zip(frame.columns, numbers, strict=True)):
        short = all(len(str(value)) <= _DAY_WIDTH for value in frame[name])
        heading = str(name).replace(" ", "\n") if number else str(name)
        table.add_column(
            heading, justify="right" if number else "left", no_wrap=number or (place == 0 and short)
        )
    for row in frame.itertuples(index=False):
        table.add_row(*[_cell(value) for value in row])
    return table


def _of_numbers(frame: pd.DataFrame, name: str) -> bool:
    """Whether a column holds numbers or short figures, which are never cut: ``£1,460.59``, ``11 starts``."""
    if pd.api.types.is_numeric_dtype(frame[name]) or name in {"this plan", "by habit", "difference"}:
        return True
    return not frame.empty and all(_FIGURE.fullmatch(str(value)) for value in frame[name])


def _cell(value: object) -> Text:
    if isinstance(value, float):
        return Text(f"{value:,.1f}", style="dim" if abs(value) < 0.05 else "")
    if isinstance(value, int):
        return Text(f"{value:,}", style="dim" if value == 0 else "")
    return Text(str(value))
