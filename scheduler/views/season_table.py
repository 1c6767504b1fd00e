"""A plan by calendar week, for seasons whose days are too many to read: fruit, jars, hands, the freezer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import say
from scheduler.plan_rows import Plan
from scheduler.views import tables, words
from scheduler.views.look import FATES


@dataclass(frozen=True)
class Week:
    """What a plan holds for its days of one calendar week; kg as in ``tables.fates``.

    ``fates`` has no ``left``, which would count each evening. ``out`` left the freezer for the pans, ``gone``
    for the heap; ``level`` is kg in it on the week's last evening. ``due`` are jars of orders due that week,
    ``missing`` those that will not be there. ``minutes`` are those of all people, breaks left out.
    """

    days: tuple[date, ...]
    picked: float
    fates: dict[str, float]
    out: float
    gone: float
    level: float
    batches: int
    jars: int
    due: int
    missing: int
    minutes: int

    @property
    def lost(self) -> float:
        """kg given up, spoiled, or thrown away from the freezer."""
        return self.fates["given up"] + self.fates["spoiled"] + self.gone


def weeks_of(days: Sequence[date]) -> list[tuple[date, ...]]:
    """Days by calendar week, in order."""
    found: dict[tuple[int, int], list[date]] = {}
    for day in days:
        found.setdefault(day.isocalendar()[:2], []).append(day)
    return [tuple(week) for week in found.values()]


def season(plan: Plan, scenario: Scenario) -> list[Week]:
    """Every week of a plan."""
    return [_week(plan, scenario, days) for days in weeks_of(scenario.dates())]


def _week(plan: Plan, scenario: Scenario, days: tuple[date, ...]) -> Week:
    stock = [row for row in plan.freezer if row.day in days]
    batches = [batch for batch in plan.batches if batch.day in days]
    due = [line for line in plan.orders if line.due in days]
    fates = [tables.fates(plan, scenario, day).sum() for day in days]
    shifts = [shift for shift in plan.shifts if shift.day in days]
    return Week(
        days=days,
        picked=sum(row.arrived for row in plan.lots if row.day in days),
        fates={fate: float(sum(of_day[fate] for of_day in fates)) for fate in FATES if fate != "left"},
        out=sum(row.thawed for row in stock),
        gone=sum(row.discarded for row in stock),
        level=sum(row.left for row in stock if row.day == days[-1]),
        batches=len(batches),
        jars=sum(batch.jars for batch in batches),
        due=sum(line.jars for line in due),
        missing=sum(line.jars - line.filled for line in due),
        minutes=sum(shift.leaves - shift.start - shift.break_minutes for shift in shifts),
    )


def season_table(found: Sequence[Week]) -> pd.DataFrame:
    """A row for each week, as it is read; kg that are none in every week have no column."""
    rows = [
        {
            say("week from"): words.day_name(week.days[0]),
            say("picked kg"): round(float(week.picked), 1),
            say("sold kg"): round(week.fates["sold"], 1),
            say("cooked kg"): round(week.fates["cooked"] + week.out, 1),
            say("frozen kg"): round(week.fates["frozen"], 1),
            say("lost kg"): round(week.lost, 1),
            say("in the freezer kg"): round(week.level, 1),
            say("batches"): week.batches,
            say("jars"): week.jars,
            say("jars due"): week.due,
            say("missing"): week.missing,
            say("hours present"): words.hours(week.minutes),
        }
        for week in found
    ]
    table = pd.DataFrame(rows)
    kg = table.select_dtypes("float").columns
    return table.drop(columns=[name for name in kg if not table[name].any()])
