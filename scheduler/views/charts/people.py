"""Who does what: people as rows, their shift, break and stages on the clock."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import say, spoken
from scheduler.plan_rows import DayShift, Plan, Stage, StageKind
from scheduler.views import chore_tables, words
from scheduler.views.charts.calendar import batch_colour, batch_hover, stage_said
from scheduler.views.charts.lanes import Bar, Label, clock_figure
from scheduler.views.held_tables import SIGN, is_held
from scheduler.views.look import Fill, Look, break_fill, ink_on, stage_fill

ROW_PX = 78
_TOP, _ROOM = -0.17, 0.55
"""Where the bars of a row begin and how much of the row they share."""

_BESIDE, _STRIP = 0.435, 0.06
"""Middle and height of the strip of who stands by, below the bars: other work goes on meanwhile."""

MINUTES_PER_LETTER = 15
"""A stage shorter than this for each of its letters carries none: on a phone they would not fit."""


def day_by_person(plan: Plan, scenario: Scenario, day: date, look: Look, chosen: str = "") -> go.Figure:
    """One day, a row for everybody who comes in; overlapping stages (one cook, two pans) share the row.

    The stages of the batch with id ``chosen`` are outlined.
    """
    return week_by_person(plan, scenario, (day,), look, chosen)


def week_by_person(
    plan: Plan, scenario: Scenario, days: Sequence[date], look: Look, chosen: str = ""
) -> go.Figure:
    """The same of several days, each with a row for everybody who comes in on it."""
    order = [person.name for person in scenario.people]
    shifts = [shift for shift in plan.shifts if shift.day in days]
    shifts.sort(key=lambda shift: (shift.day, order.index(shift.person)))
    bars: list[Bar] = []
    labels: list[Label] = []
    names: list[str] = []
    for row, shift in enumerate(shifts):
        first = row == 0 or shifts[row - 1].day != shift.day
        names.append(
            (f"<b>{words.day_name(shift.day)}</b>  " if first and len(days) > 1 else "") + _name(shift)
        )
        mine = [s for s in plan.stages if s.day == shift.day and shift.person in s.people]
        drawn, written = row_of_stages(mine, row, plan, scenario, look)
        bars += [*_presence(row, shift, look), *drawn]
        labels += written
    kitchen = scenario.kitchen
    hours = (
        min([kitchen.open, *(shift.start for shift in shifts)]),
        max([kitchen.close, *(shift.leaves for shift in shifts)]),
    )
    return clock_figure(names, bars, labels, hours, look, ROW_PX, chosen)


def row_of_stages(
    stages: Sequence[Stage], row: int, plan: Plan, scenario: Scenario, look: Look
) -> tuple[list[Bar], list[Label]]:
    """Stages on a row, those at the same time in lanes beside each other, and letters where there is room."""
    bars = [_standing_by(s, row, plan, scenario, look) for s in stages if s.kind is StageKind.STAND_BY]
    labels: list[Label] = []
    for stage, lane, lanes in lanes_of([s for s in stages if s.kind is not StageKind.STAND_BY]):
        bar, label = _stage(stage, row, lane, lanes, plan, scenario, look)
        bars.append(bar)
        labels += label
    return bars, labels


def lanes_of(stages: Sequence[Stage]) -> list[tuple[Stage, int, int]]:
    """Each stage with its lane and the number of lanes of its cluster; overlapping stages differ in lane."""
    placed: list[tuple[Stage, int, int]] = []
    cluster: list[tuple[Stage, int]] = []
    ends: list[int] = []
    for stage in sorted(stages, key=lambda s: (s.start, s.end, s.batch)):
        if ends and stage.start >= max(ends):
            placed += [(one, lane, len(ends)) for one, lane in cluster]
            cluster, ends = [], []
        lane = next((i for i, end in enumerate(ends) if end <= stage.start), len(ends))
        ends[lane : lane + 1] = [stage.end]
        cluster.append((stage, lane))
    return placed + [(one, lane, len(ends)) for one, lane in cluster]


def _name(shift: DayShift) -> str:
    late = say(", {n} min of it overtime", n=shift.overtime_minutes) if shift.overtime_minutes else ""
    return f"<b>{shift.person}</b>  {words.clock(shift.start)}–{words.clock(shift.leaves)}{late}"


def _presence(row: int, shift: DayShift, look: Look) -> list[Bar]:
    middle = _TOP + _ROOM / 2
    hover = say(
        "<b>{person}</b> is in from {start} to {end}",
        person=shift.person,
        start=words.clock(shift.start),
        end=words.clock(shift.leaves),
    )
    bars = [Bar(row, shift.start, shift.leaves, Fill(look.card), hover, "", middle, _ROOM)]
    if shift.break_start is not None:
        end = shift.break_start + shift.break_minutes
        text = say(
            "<b>{person}</b> has a break, {start}–{end}",
            person=shift.person,
            start=words.clock(shift.break_start),
            end=words.clock(end),
        )
        bars.append(Bar(row, shift.break_start, end, break_fill(look), text, "", middle, _ROOM))
    return bars


def _standing_by(stage: Stage, row: int, plan: Plan, scenario: Scenario, look: Look) -> Bar:
    """A strip below the work that goes on meanwhile."""
    batch = next(b for b in plan.batches if b.id == stage.batch)
    fill = stage_fill(stage.kind, batch_colour(batch, plan, scenario, look), look)
    hover = (
        f"{words.clock(stage.start)}–{words.clock(stage.end)} <b>{spoken(stage.kind)}</b>: "
        + say("within call, in case it sets early;<br>may prepare or wash meanwhile")
        + f"<br>{batch_hover(batch, plan, scenario)}"
    )
    return Bar(row, stage.start, stage.end, fill, hover, stage.batch, _BESIDE, _STRIP)


def _of_no_batch(stage: Stage, plan: Plan) -> str:
    """What is done, in lines that fit a phone."""
    if stage.kind is StageKind.CLEAN_DOWN:
        return say("benches, rings, sink and floor, the day's last work")
    return chore_tables.about(stage, plan).replace(", ", ",<br>") or say("fruit for the freezer")


def _stage(
    stage: Stage, row: int, lane: int, lanes: int, plan: Plan, scenario: Scenario, look: Look
) -> tuple[Bar, list[Label]]:
    batch = next((b for b in plan.batches if b.id == stage.batch), None)
    colour = batch_colour(batch, plan, scenario, look) if batch else look.water
    fill = stage_fill(stage.kind, colour, look)
    about = batch_hover(batch, plan, scenario) if batch else _of_no_batch(stage, plan)
    hover = f"{stage_said(stage)}<br>{about}"
    height = _ROOM / lanes
    middle = _TOP + height * (lane + 0.5)
    bar = Bar(row, stage.start, stage.end, fill, hover, stage.batch, middle, height * 0.94)
    letters = words.letters(batch, plan, scenario) if batch else ""
    if batch and is_held(batch, plan, scenario):
        letters = SIGN + letters
    if not letters or stage.end - stage.start < MINUTES_PER_LETTER * len(letters) or lanes > 2:
        return bar, []
    return bar, [Label(row, (stage.start + stage.end) / 2, letters, ink_on(fill.colour), middle)]
