"""The freezer draw-down: its level by fruit against its room, and what is frozen and thawed each day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import plotly.graph_objects as go

from scheduler.auditor.freezer_room import most_frozen_kg, most_left_kg, most_litres
from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, say
from scheduler.plan_rows import Plan
from scheduler.views import words
from scheduler.views.freezing_tables import litres_taken
from scheduler.views.look import Look, dress, fruit_fill, ink_on, pattern

_HEIGHT = 330
_FEW = 14
"""Days that have room for a letter in each bar."""
_SAID: dict[str, Callable[[float], str]] = {"kg": words.mass, "l": words.volume}


def freezer_level(plan: Plan, scenario: Scenario, look: Look) -> go.Figure:
    """kg as prepared in all freezers at the end of each day, stacked by fruit; the dashed line is their room,
    less what is kept free and while one is out of use.
    """
    figure = go.Figure()
    days = scenario.dates()
    for fruit in scenario.fruits:
        left = daily(plan, fruit.name, "left", days)
        if any(left):
            _stack(figure, left, fruit.name, say("in the freezer"), scenario, look)
    room = [most_left_kg(scenario.kitchen, day) for day in days]
    _limit(figure, days, room, say("room for {mass}", mass=words.mass(max(room))), look)
    top = max([*room, *_sums(plan, days, "left")])
    return _days(dress(figure, look, _HEIGHT), days, [0, top * 1.16])


def freezer_litres(plan: Plan, scenario: Scenario, look: Look) -> go.Figure:
    """Litres taken in all freezers at the end of each day, by fruit; the dashed line is what they have."""
    figure = go.Figure()
    days, taken = scenario.dates(), [0.0] * scenario.days
    for fruit in scenario.fruits:
        litres = litres_taken(plan, scenario, fruit.name, days)
        if any(litres):
            _stack(figure, litres, fruit.name, say("in the freezer"), scenario, look, "l")
        taken = [sum(both) for both in zip(taken, litres, strict=True)]
    room = [most_litres(scenario.kitchen, day) for day in days]
    _limit(figure, days, room, say("room for {mass}", mass=words.volume(max(room))), look, "l")
    return _days(dress(figure, look, _HEIGHT), days, [0, max([*room, *taken]) * 1.16], "l")


def freezing_per_day(plan: Plan, scenario: Scenario, look: Look) -> go.Figure:
    """kg frozen (up) and thawed (down) on each day; the dashed line is the most it freezes in a day."""
    figure = go.Figure()
    days = scenario.dates()
    for fruit in scenario.fruits:
        into = daily(plan, fruit.name, "frozen", days)
        out = [-x for x in daily(plan, fruit.name, "thawed", days)]
        if any(into):
            _stack(figure, into, fruit.name, say("frozen"), scenario, look)
        if any(out):
            _stack(figure, out, fruit.name, say("thawed"), scenario, look)
    deepest, top = (max([0.0, *_sums(plan, days, what)]) for what in ("thawed", "frozen"))
    if top > 0:  # where nothing is frozen the limit would only push the thawed bars aside
        most = [most_frozen_kg(scenario.kitchen, day) for day in days]
        _limit(figure, days, most, say("freezes {mass} a day at most", mass=words.mass(max(most))), look)
        top = max(top, *most)
    figure.add_hline(y=0, line={"color": look.faint, "width": 1})
    return _days(dress(figure, look, _HEIGHT), days, [-deepest * 1.1, top * 1.2])


def daily(plan: Plan, fruit: str, what: str, days: tuple[date, ...]) -> list[float]:
    """kg of ``what`` (a field of ``FreezerDay``) of a fruit on each of ``days``."""
    found = dict.fromkeys(days, 0.0)
    for row in plan.freezer:
        if row.fruit == fruit and row.day in found:
            found[row.day] += getattr(row, what)
    return [round(found[day], 3) for day in days]


def _sums(plan: Plan, days: tuple[date, ...], what: str) -> list[float]:
    return [sum(getattr(row, what) for row in plan.freezer if row.day == day) for day in days]


def _stack(
    figure: go.Figure,
    values: list[float],
    fruit: str,
    verb: str,
    scenario: Scenario,
    look: Look,
    unit: str = "kg",
) -> None:
    known, days = scenario.fruit(fruit), scenario.dates()
    fill = fruit_fill(known, scenario, look)
    hover = [
        f"{words.day_name(day)}<br><b>{known.letter} {fruit}</b>: {_SAID[unit](abs(value))} {verb}"
        for day, value in zip(days, values, strict=True)
    ]
    few = len(days) <= _FEW
    figure.add_trace(
        go.Bar(
            x=list(days),
            y=measures.all_shown(values, unit),
            name=f"{known.letter} {fruit}",
            customdata=hover,
            hovertemplate="%{customdata}<extra></extra>",
            offsetgroup="one",
            text=[known.letter if value else "" for value in values] if few else None,
            textposition="inside",
            insidetextanchor="middle",
            textangle=0,
            constraintext="both",
            insidetextfont={"size": 13, "color": ink_on(fill.colour)},
            marker={
                "color": fill.colour,
                "line": {"color": look.paper, "width": 1 if few else 0},
                "pattern": pattern(fill, look),
            },
        )
    )


def _limit(
    figure: go.Figure,
    days: tuple[date, ...],
    levels: list[float],
    text: str,
    look: Look,
    unit: str = "kg",
) -> None:
    """A dashed line at the level of each day; from edge to edge where it is one."""
    line = {"color": look.berry, "width": 1.5, "dash": "dash"}
    at = measures.all_shown(levels, unit)
    if len(set(levels)) == 1:
        figure.add_hline(y=at[0], line=line)
    else:
        hover = [
            f"{words.day_name(day)}: {_SAID[unit](most)}" for day, most in zip(days, levels, strict=True)
        ]
        figure.add_trace(
            go.Scatter(
                x=list(days),
                y=at,
                mode="lines",
                line=line | {"shape": "hvh"},
                name=text,
                customdata=hover,
                hovertemplate=f"{say('{amount} at most', amount='%{customdata}')}<extra></extra>",
            )
        )
    figure.add_annotation(
        x=0,
        xref="paper",
        y=max(at),
        text=text,
        showarrow=False,
        xanchor="left",
        yanchor="bottom",
        font={"color": look.berry, "size": 12},
    )


def _days(figure: go.Figure, days: tuple[date, ...], span: list[float], unit: str = "kg") -> go.Figure:
    # A season's bars are a few pixels wide on a phone: gaps between them would only flicker.
    figure.update_layout(barmode="relative", bargap=0.28 if len(days) <= _FEW else 0)
    figure.update_yaxes(range=measures.all_shown(span, unit), ticksuffix=f" {measures.symbol(unit)}")
    figure.update_xaxes(
        showgrid=False,
        ticklabelstandoff=6,
        tickvals=(named := _named(days)),
        ticktext=[words.two_lines(day) for day in named],
    )
    return figure


def _named(days: tuple[date, ...]) -> list[date]:
    """The days whose names fit below an axis on a phone: seven at most."""
    if len(days) <= _FEW:
        return list(days[:: 1 if len(days) <= 7 else 2])
    mondays = [day for day in days if day.weekday() == 0]
    return mondays[:: max(1, -(-len(mondays) // 6))]
