"""Batches one below the other: each with all of its stages on the clock, from preparing to the washed pan."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.plan_rows import Batch, Plan
from scheduler.views import words
from scheduler.views.charts.lanes import Bar, clock_figure
from scheduler.views.charts.people import ROW_PX, row_of_stages
from scheduler.views.held_tables import SIGN, is_held
from scheduler.views.look import Look


def by_batch(plan: Plan, scenario: Scenario, days: Sequence[date], look: Look, chosen: str = "") -> go.Figure:
    """A row for each batch of these days, the first to begin on top; that with id ``chosen`` is outlined."""
    stages = {
        batch.id: [stage for stage in plan.stages if stage.batch == batch.id]
        for batch in plan.batches
        if batch.day in days
    }

    def order(batch: Batch) -> tuple[date, int, str]:
        return batch.day, min((stage.start for stage in stages[batch.id]), default=0), batch.id

    batches = sorted((batch for batch in plan.batches if batch.id in stages), key=order)
    bars: list[Bar] = []
    for row, batch in enumerate(batches):
        # Letters inside the bars would all be those of the row's name.
        drawn, _ = row_of_stages(stages[batch.id], row, plan, scenario, look)
        bars += drawn
    ends = [stage.end for mine in stages.values() for stage in mine]
    starts = [stage.start for mine in stages.values() for stage in mine]
    kitchen = scenario.kitchen
    hours = min([kitchen.open, *starts]), max([kitchen.close, *ends])
    names = []
    for row, batch in enumerate(batches):
        first = len(days) > 1 and (row == 0 or batches[row - 1].day != batch.day)
        day = f"<b>{words.day_name(batch.day)}</b>  " if first else ""
        names.append(day + _name(batch, plan, scenario))
    return clock_figure(names, bars, [], hours, look, ROW_PX, chosen)


def _name(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    """``◆ S 23 strawberry jam, big copper`` as HTML."""
    sign = f"{SIGN} " if is_held(batch, plan, scenario) else ""
    jars = f" {batch.jars}" if batch.jars else ""
    return f"{sign}<b>{words.letters(batch, plan, scenario)}</b>{jars} {batch.recipe}, {batch.pan}"
