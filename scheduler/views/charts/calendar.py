"""The cook calendar: batches on their rings, every stage drawn to scale."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.plan import Batch, Plan, Stage, StageKind
from scheduler.views import words
from scheduler.views.charts.lanes import Bar, Label, clock_figure
from scheduler.views.look import Look, fruit_colour, stage_fill

ON_THE_RING = (StageKind.DISSOLVE, StageKind.BOIL, StageKind.SET_TEST, StageKind.REBOIL)
AFTER_THE_RING = (StageKind.STAND, StageKind.POT_UP, StageKind.WASH)
"""Drawn thinner below: off the heat the next batch may already take the ring."""

_DAY_ROW, _WEEK_ROW = 86, 74


def day_by_ring(plan: Plan, scenario: Scenario, day: date, look: Look) -> go.Figure:
    """One day, a row for every ring of the kitchen."""
    rows = [(day, ring.name) for ring in scenario.kitchen.rings]
    return _figure(plan, scenario, rows, [f"<b>{ring}</b>" for _, ring in rows], look, _DAY_ROW)


def week_by_ring(plan: Plan, scenario: Scenario, days: Sequence[date], look: Look) -> go.Figure:
    """Several days, a row for every ring that is used on a day; days without batches are left out."""
    used = {(batch.day, batch.ring) for batch in plan.batches}
    rows = [(day, ring.name) for day in days for ring in scenario.kitchen.rings if (day, ring.name) in used]
    names, seen = [], set()
    for day, ring in rows:
        names.append(ring if day in seen else f"<b>{words.day_name(day)}</b>  {ring}")
        seen.add(day)
    return _figure(plan, scenario, rows, names, look, _WEEK_ROW)


Row = tuple[date, str]
"""A ring on a day."""


def _figure(
    plan: Plan, scenario: Scenario, rows: Sequence[Row], names: Sequence[str], look: Look, row_px: int
) -> go.Figure:
    place = {row: i for i, row in enumerate(rows)}
    stages: dict[str, list[Stage]] = {}
    for stage in plan.stages:
        stages.setdefault(stage.batch, []).append(stage)
    bars: list[Bar] = []
    labels: list[Label] = []
    for batch in plan.batches:
        row = place.get((batch.day, batch.ring))
        if row is not None:
            colour = batch_colour(batch, plan, scenario, look)
            mine = stages.get(batch.id, [])
            bars += _bars(batch, mine, row, colour, plan, scenario, look)
            labels += _label(batch, mine, row, plan, scenario, look)
    kitchen = scenario.kitchen
    return clock_figure(names, bars, labels, (kitchen.open, kitchen.close), look, row_px)


def batch_colour(batch: Batch, plan: Plan, scenario: Scenario, look: Look) -> str:
    """The colour of the fruit that comes first in the batch's letters."""
    first = words.letters(batch, plan, scenario)[:1]
    fruit = next(fruit for fruit in scenario.fruits if fruit.letter.startswith(first))
    return fruit_colour(fruit, look)


def batch_hover(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    """What a batch is, in a few lines."""
    source = "all from the freezer" if batch.from_freezer else "of today's mix"
    return (
        f"<b>{words.letters(batch, plan, scenario)} {batch.recipe}</b><br>"
        f"{words.kg(batch.kg)} fruit, {source}; {batch.sugar_kg:.1f} kg sugar, {batch.lemons} lemons<br>"
        f"{words.jars(batch.jars)} in {batch.pan} on {batch.ring}<br>"
        f"set at {batch.set_temperature_c:.1f} °C; last jar {batch.last_jar_c:.1f} °C"
    )


def _bars(
    batch: Batch, stages: Sequence[Stage], row: int, colour: str, plan: Plan, scenario: Scenario, look: Look
) -> list[Bar]:
    about = batch_hover(batch, plan, scenario)
    bars = []
    for stage in stages:
        if stage.kind not in ON_THE_RING + AFTER_THE_RING:
            continue
        who = ", ".join(stage.people) or "nobody"
        allowance = " (allowance, if the test does not set)" if stage.kind is StageKind.REBOIL else ""
        hover = (
            f"{about}<br>{words.clock(stage.start)}–{words.clock(stage.end)} "
            f"<b>{stage.kind.value}</b>{allowance}: {who}"
        )
        fill = stage_fill(stage.kind, colour, look)
        if stage.kind in ON_THE_RING:
            bars.append(Bar(row, stage.start, stage.end, fill, hover, batch.id, 0.14, 0.36))
        else:
            bars.append(Bar(row, stage.start, stage.end, fill, hover, batch.id, 0.4, 0.13))
    return bars


def _label(
    batch: Batch, stages: Sequence[Stage], row: int, plan: Plan, scenario: Scenario, look: Look
) -> list[Label]:
    """Letters first, then jars, above the bar in plain ink: legible however short the batch is."""
    if not stages:
        return []
    start = min(stage.start for stage in stages if stage.kind in ON_THE_RING)
    text = f"<b>{words.letters(batch, plan, scenario)}</b> {batch.jars}"
    return [Label(row, start, text, look.ink, -0.15, beside=True)]
