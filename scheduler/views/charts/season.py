"""A season in pictures: what became of each week's fruit, and the hours of all hands."""

from __future__ import annotations

from collections.abc import Sequence

import plotly.graph_objects as go

from scheduler.languages import measures, say, say_many, spoken
from scheduler.views import words
from scheduler.views.charts.fruit import fate_bar
from scheduler.views.look import FATES, Look, dress
from scheduler.views.season_table import Week

WEEKLY = tuple(fate for fate in FATES if fate != "left")
"""What becomes of fruit in a week; what is left is told of again in the next."""
_NAMED = 6
"""Weeks whose first days have room below an axis on a phone."""
_FEW = 4
"""Weeks that fill the width; bars of fewer are no wider, so that one week is no wall."""


def fates_by_week(weeks: Sequence[Week], look: Look) -> go.Figure:
    """kg of each week by what became of them, all fruits together; fresh fruit only."""
    figure = go.Figure()
    for fate in WEEKLY:
        values = [week.fates[fate] for week in weeks]
        if any(value > 0.05 for value in values):
            hover = [
                f"{words.day_name(week.days[0])}<br>{spoken(fate)}: {words.mass(value)}"
                for week, value in zip(weeks, values, strict=True)
            ]
            figure.add_trace(
                fate_bar(
                    fate, values, hover, look, {"x": list(range(len(weeks))), "y": measures.all_shown(values)}
                )
            )
    return _by_week(figure, weeks, look, f" {measures.symbol('kg')}")


def hours_by_week(weeks: Sequence[Week], look: Look) -> go.Figure:
    """Hours that all people are there in each week."""
    values = [round(week.minutes / 60, 2) for week in weeks]
    hover = [
        f"{words.day_name(week.days[0])}<br>{words.hours(week.minutes)}, "
        + say_many("{n} batch", "{n} batches", week.batches)
        for week in weeks
    ]
    bar = go.Bar(
        x=list(range(len(weeks))),
        y=values,
        customdata=hover,
        hovertemplate="%{customdata}<extra></extra>",
        marker={"color": look.leaf, "line": {"color": look.faint, "width": 0.8}},
        name=say("hours present"),
    )
    return _by_week(go.Figure(bar), weeks, look, " h")


def _by_week(figure: go.Figure, weeks: Sequence[Week], look: Look, unit: str) -> go.Figure:
    dress(figure, look, 300)
    step = max(1, -(-len(weeks) // _NAMED))
    figure.update_layout(barmode="stack", uniformtext={"mode": "hide", "minsize": 11}, bargap=0.2)
    figure.update_yaxes(ticksuffix=unit, rangemode="tozero", nticks=6)
    figure.update_xaxes(
        tickvals=list(range(0, len(weeks), step)),
        ticktext=[words.two_lines(week.days[0]) for week in weeks[::step]],
        showgrid=False,
        zeroline=False,
        range=[
            (len(weeks) - max(len(weeks), _FEW)) / 2 - 0.5,
            (len(weeks) + max(len(weeks), _FEW)) / 2 - 0.5,
        ],
    )
    return figure
