"""What happens to each fruit: of the whole plan, and of one fruit day by day."""

from __future__ import annotations

from collections.abc import Mapping

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, say, spoken
from scheduler.plan_rows import Plan
from scheduler.views import tables, words
from scheduler.views.look import FATES, Look, dress, fate_fills, ink_on, pattern

_ROW = 74


def fates_by_fruit(plan: Plan, scenario: Scenario, look: Look) -> go.Figure:
    """A row per fruit that came in fresh, its kg split by what became of them."""
    frame = tables.fates(plan, scenario)
    frame = frame[frame.sum(axis=1) > 0.05]
    figure = go.Figure()
    for fate in FATES:
        values = [float(value) for value in frame[fate].tolist()]
        if any(value > 0.05 for value in values):
            named = zip(frame.index, values, strict=True)
            hover = [f"<b>{name}</b><br>{spoken(fate)}: {words.mass(value)}" for name, value in named]
            axes = {"orientation": "h", "x": measures.all_shown(values), "y": list(range(len(frame)))}
            figure.add_trace(fate_bar(fate, values, hover, look, axes))
    dress(figure, look, len(frame) * _ROW + 50)
    totals = frame.sum(axis=1)
    for row, name in enumerate(frame.index):
        came = words.mass(float(totals.iloc[row]))
        title = f"<b>{scenario.fruit(str(name)).letter} {name}</b>  {say('{mass} came in', mass=came)}"
        figure.add_annotation(
            x=0,
            y=row - 0.36,
            text=title,
            showarrow=False,
            xanchor="left",
            yanchor="middle",
            bgcolor=look.paper,
        )
    figure.update_layout(
        barmode="stack",
        uniformtext={"mode": "hide", "minsize": 11},
        margin={"l": 16, "r": 24, "t": 6, "b": 30},
    )
    figure.update_traces(width=0.46)
    figure.update_yaxes(visible=False, range=[len(frame) - 0.6, -0.55])
    figure.update_xaxes(
        ticksuffix=f" {measures.symbol('kg')}", nticks=5, rangemode="tozero", ticklabeloverflow="allow"
    )
    return figure


def fruit_by_day(plan: Plan, scenario: Scenario, fruit: str, look: Look) -> go.Figure:
    """kg of one fruit on each day by what became of it; left is what stays in the chiller overnight."""
    present = {row.day for row in plan.lots if row.fruit == fruit}
    days = [day for day in scenario.dates() if day in present]
    by_day = {day: tables.fates(plan, scenario, day).loc[fruit].to_dict() for day in days}
    figure = go.Figure()
    for fate in FATES:
        values = [by_day[day][fate] for day in days]
        if any(value > 0.05 for value in values):
            told = say("stays in the chiller overnight") if fate == "left" else spoken(fate)
            dated = zip(days, values, strict=True)
            hover = [f"{words.day_name(day)}<br>{told}: {words.mass(value)}" for day, value in dated]
            figure.add_trace(
                fate_bar(
                    fate, values, hover, look, {"x": list(range(len(days))), "y": measures.all_shown(values)}
                )
            )
    dress(figure, look, 330)
    step = max(1, -(-len(days) // 7))
    figure.update_layout(barmode="stack", uniformtext={"mode": "hide", "minsize": 11})
    figure.update_yaxes(ticksuffix=f" {measures.symbol('kg')}", rangemode="tozero", nticks=6)
    figure.update_xaxes(
        tickvals=list(range(0, len(days), step)),
        ticktext=[words.two_lines(day) for day in days[::step]],
        showgrid=False,
        zeroline=False,
    )
    return figure


def fate_bar(
    fate: str, values: list[float], hover: list[str], look: Look, axes: Mapping[str, object]
) -> go.Bar:
    fill = fate_fills(look)[fate]
    return go.Bar(
        name=fate,
        customdata=hover,
        hovertemplate="%{customdata}<extra></extra>",
        text=[f"{value:.0f}" if value >= 0.5 else "" for value in measures.all_shown(values)],
        textposition="inside",
        insidetextanchor="middle",
        textangle=0,
        constraintext="inside",
        insidetextfont={"size": 12, "color": ink_on(fill.colour)},
        marker={
            "color": fill.colour,
            "line": {"color": look.faint, "width": 0.8},
            "pattern": pattern(fill, look),
        },
        **axes,
    )
