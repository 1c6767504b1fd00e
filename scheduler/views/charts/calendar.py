"""The cook calendar: batches on their rings, every stage drawn to scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import plotly.graph_objects as go

from scheduler.domain.days import Closure
from scheduler.domain.scenario import Scenario
from scheduler.languages import say, spoken
from scheduler.plan_rows import Batch, Part, Plan, Stage, StageKind
from scheduler.views import words
from scheduler.views.charts.lanes import Bar, Label, clock_figure
from scheduler.views.held_tables import SIGN, is_held
from scheduler.views.look import Look, closed_fill, fruit_colour, stage_fill

ON_THE_RING = (
    StageKind.SOFTEN,
    StageKind.STRAIN,
    StageKind.DISSOLVE,
    StageKind.BOIL,
    StageKind.SET_TEST,
    StageKind.REBOIL,
)
AFTER_THE_RING = (StageKind.STAND, StageKind.POT_UP, StageKind.WASH)
"""Drawn thinner below: off the heat the next batch may already take the ring."""

_DAY_ROW, _WEEK_ROW = 86, 74
_MINUTES_A_LETTER = 13
"""Room on the clock that a letter of a label takes on a phone."""


def day_by_ring(plan: Plan, scenario: Scenario, day: date, look: Look, chosen: str = "") -> go.Figure:
    """One day, a row for every ring of the kitchen; the batch with id ``chosen`` is outlined."""
    rows = [(day, ring.name) for ring in scenario.kitchen.rings]
    return _figure(plan, scenario, rows, [f"<b>{ring}</b>" for _, ring in rows], look, _DAY_ROW, chosen)


def week_by_ring(
    plan: Plan, scenario: Scenario, days: Sequence[date], look: Look, chosen: str = ""
) -> go.Figure:
    """Several days, a row for every ring that is used on a day; days without batches are left out."""
    used = {(batch.day, batch.ring) for batch in plan.batches}
    rows = [(day, ring.name) for day in days for ring in scenario.kitchen.rings if (day, ring.name) in used]
    names, seen = [], set()
    for day, ring in rows:
        names.append(ring if day in seen else f"<b>{words.day_name(day)}</b>  {ring}")
        seen.add(day)
    return _figure(plan, scenario, rows, names, look, _WEEK_ROW, chosen)


Row = tuple[date, str]
"""A ring on a day."""


def _figure(
    plan: Plan,
    scenario: Scenario,
    rows: Sequence[Row],
    names: Sequence[str],
    look: Look,
    row_px: int,
    chosen: str,
) -> go.Figure:
    place = {row: i for i, row in enumerate(rows)}
    stages: dict[str, list[Stage]] = {}
    for stage in plan.stages:
        stages.setdefault(stage.batch, []).append(stage)
    bars = [
        _closed(closure, row, look)
        for (day, _), row in place.items()
        for closure in scenario.closures
        if closure.day == day
    ]
    labels: list[Label] = []
    for batch in plan.batches:
        row = place.get((batch.day, batch.ring))
        if row is not None:
            colour = batch_colour(batch, plan, scenario, look)
            mine = stages.get(batch.id, [])
            bars += _bars(batch, mine, row, colour, plan, scenario, look)
            labels += _label(batch, stages, row, plan, scenario, look)
    kitchen = scenario.kitchen
    return clock_figure(names, bars, labels, (kitchen.open, kitchen.close), look, row_px, chosen)


def _closed(closure: Closure, row: int, look: Look) -> Bar:
    """A time in which the kitchen cannot be used, over the whole height of a row."""
    hover = f"<b>{words.closed(closure)}</b>"
    return Bar(row, closure.start, closure.end, closed_fill(look), hover, "", 0.17, 0.6)


def batch_colour(batch: Batch, plan: Plan, scenario: Scenario, look: Look) -> str:
    """The colour of the fruit that comes first in the batch's letters."""
    first = words.letters(batch, plan, scenario)[:1]
    fruit = next(fruit for fruit in scenario.fruits if fruit.letter.startswith(first))
    return fruit_colour(fruit, look)


def batch_hover(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    """What a batch is, in a few lines; a part of two days with where its juice goes or whose it is."""
    part = "" if batch.part is Part.WHOLE else f", {spoken(batch.part)}"
    lines = [f"<b>{words.letters(batch, plan, scenario)} {batch.recipe}{part}</b>", _goes_in(batch, scenario)]
    place = say("in {pan} on {ring}", pan=batch.pan, ring=batch.ring)
    if batch.part is Part.SOFTEN:
        lines.append(place)
    else:
        heat = words.degrees(batch.set_temperature_c)
        end = (
            say("set at {heat}", heat=heat)
            if scenario.recipe(batch.recipe).tested
            else say("boiled at {heat}", heat=heat)
        )
        last = words.degrees(batch.last_jar_c)
        lines += [
            f"{words.filled(batch.filled, scenario.recipe(batch.recipe))} {place}",
            f"{end}; {say('last jar {heat}', heat=last)}",
        ]
    if is_held(batch, plan, scenario):
        lines.append(say("held"))
    if told := words.juice(batch, plan):
        lines.append(told.replace("; ", ";<br>").replace(" in ", "<br>in "))  # fits a phone
    return "<br>".join(lines)


def stage_said(stage: Stage) -> str:
    """``08:30–08:55 boil: Aoife`` as HTML; of a re-boil that it is an allowance."""
    who = ", ".join(stage.people) or say("nobody")
    allowance = f" {say('(allowance, if the test does not set)')}" if stage.kind is StageKind.REBOIL else ""
    return (
        f"{words.clock(stage.start)}–{words.clock(stage.end)} <b>{spoken(stage.kind)}</b>{allowance}: {who}"
    )


def _goes_in(batch: Batch, scenario: Scenario) -> str:
    source = say("all from the freezer") if batch.from_freezer else say("of today's mix")
    sugar = words.mass(batch.sugar_kg)
    store = say("{sugar} sugar, {n} lemons", sugar=sugar, n=batch.lemons)
    if batch.part is Part.BOIL:
        return say("juice of {mass} fruit; {store}", mass=words.mass(batch.kg), store=store)
    if batch.part is Part.SOFTEN:
        store = say("{mass} water", mass=words.mass(batch.kg * scenario.recipe(batch.recipe).water_per_kg))
    return say("{mass} fruit, {source}; {store}", mass=words.mass(batch.kg), source=source, store=store)


def _bars(
    batch: Batch, stages: Sequence[Stage], row: int, colour: str, plan: Plan, scenario: Scenario, look: Look
) -> list[Bar]:
    about = batch_hover(batch, plan, scenario)
    bars = []
    for stage in stages:
        if stage.kind not in ON_THE_RING + AFTER_THE_RING:
            continue
        hover = f"{about}<br>{stage_said(stage)}"
        fill = stage_fill(stage.kind, colour, look)
        if stage.kind in ON_THE_RING:
            bars.append(Bar(row, stage.start, stage.end, fill, hover, batch.id, 0.14, 0.36))
        else:
            bars.append(Bar(row, stage.start, stage.end, fill, hover, batch.id, 0.4, 0.13))
    return bars


def _label(
    batch: Batch, stages: Mapping[str, Sequence[Stage]], row: int, plan: Plan, scenario: Scenario, look: Look
) -> list[Label]:
    """Letters first, then jars, above the bar in plain ink: legible however short the batch is."""
    start = _begins(batch, stages)
    if start is None:
        return []
    text, sign = f"{batch.jars}", f"{SIGN} " if is_held(batch, plan, scenario) else ""
    if batch.part is Part.SOFTEN:
        others = [
            begins
            for each in plan.batches
            if (each.day, each.ring) == (batch.day, batch.ring)
            and (begins := _begins(each, stages)) is not None
            and begins > start
        ]
        free = min([scenario.kitchen.close, *others]) - start
        text = say("drips overnight")
        if free < _MINUTES_A_LETTER * len(text):
            text = say("drips")
    return [
        Label(
            row, start, f"{sign}<b>{words.letters(batch, plan, scenario)}</b> {text}", look.ink, -0.15, True
        )
    ]


def _begins(batch: Batch, stages: Mapping[str, Sequence[Stage]]) -> int | None:
    """When a batch goes on its ring, None if it has no such stage."""
    return min((s.start for s in stages.get(batch.id, ()) if s.kind in ON_THE_RING), default=None)
