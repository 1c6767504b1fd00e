"""Bars on a clock: rows with their name above them, hours below, one bar per stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import plotly.graph_objects as go

from scheduler.views.look import Fill, Look, dress, pattern
from scheduler.views.words import clock

ROW_TOP = -0.52
"""Where a row begins, in rows, relative to its middle; the name of the row stands just below."""

_NAME = -0.38

_AS_IT_IS = {"marker": {"opacity": 1}}
"""A bar that is clicked on is outlined; all others are not to fade."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A stretch of time on a row: minutes from midnight; ``height`` and ``shift`` in rows."""

    row: int
    start: int
    end: int
    fill: Fill
    hover: str
    id: str
    shift: float
    height: float


@dataclass(frozen=True, slots=True)
class Label:
    """Words centred at minute ``at``, or beginning there if ``beside``; ``ink`` is their colour."""

    row: int
    at: float
    text: str
    ink: str
    shift: float
    beside: bool = False


def clock_figure(
    names: Sequence[str],
    bars: Sequence[Bar],
    labels: Sequence[Label],
    hours: tuple[int, int],
    look: Look,
    row_px: int,
    chosen: str = "",
) -> go.Figure:
    """Draw rows from top to bottom. ``hours`` are opening and closing, minutes from midnight; the bars whose
    id is ``chosen`` are outlined."""
    by_pattern: dict[str, list[Bar]] = {}
    for bar in bars:
        by_pattern.setdefault(bar.fill.pattern, []).append(bar)
    # As dicts, which the library checks once, on their way into the figure.
    traces = [_trace(group, look, chosen) for group in by_pattern.values()]
    figure = go.Figure([*traces, _words(labels)] if labels else traces)
    dress(figure, look, len(names) * row_px + 48)
    ticks = [m for m in range(hours[0] // 60 * 60, hours[1] + 1, 60) if m >= hours[0]]
    every = 120 if len(ticks) > 6 else 60
    named = [m for m in ticks if (m - ticks[0]) % every == 0]
    figure.update_xaxes(
        range=[hours[0] - 4, hours[1] + 4],
        tickvals=named,
        ticktext=[clock(m) for m in named],
        ticklabeloverflow="allow",
        minor={"tickvals": ticks, "showgrid": True, "gridcolor": look.line},
    )
    figure.update_yaxes(range=[len(names) - 1 + 0.48, ROW_TOP], visible=False)
    figure.update_layout(barmode="overlay", margin={"l": 18, "r": 18, "t": 6, "b": 30})
    # All at once: the library checks every one that is there again whenever one is added.
    figure.update_layout(
        annotations=[_row_name(row, name, hours[0], look) for row, name in enumerate(names)],
        shapes=[_row_rule(row, look) for row in range(len(names))],
    )
    return figure


def _row_name(row: int, name: str, opens: int, look: Look) -> dict[str, Any]:
    return {
        "x": opens, "y": row + _NAME, "text": name, "showarrow": False, "xanchor": "left",
        "yanchor": "middle", "font": {"color": look.ink, "size": 12.5},
    }  # fmt: skip


def _row_rule(row: int, look: Look) -> dict[str, Any]:
    top = row + ROW_TOP
    return {
        "type": "line", "x0": 0, "x1": 1, "xref": "paper", "y0": top, "y1": top,
        "line": {"color": look.line, "width": 1}, "layer": "below",
    }  # fmt: skip


def _trace(bars: Sequence[Bar], look: Look, chosen: str) -> dict[str, Any]:
    outlined = [bool(chosen) and bar.id == chosen for bar in bars]
    patterns = [pattern(bar.fill, look) for bar in bars]
    merged: dict[str, Any] = {
        "shape": [p["shape"] for p in patterns],
        "fgcolor": [p["fgcolor"] for p in patterns],
        "fgopacity": 0.6,
        "size": 6,
        "solidity": 0.28,
        "fillmode": "overlay",
    }
    return {
        "type": "bar",
        "orientation": "h",
        "base": [b.start for b in bars],
        "x": [b.end - b.start for b in bars],
        "y": [b.row + b.shift for b in bars],
        "width": [b.height for b in bars],
        "customdata": [[b.id, b.hover] for b in bars],
        "hovertemplate": "%{customdata[1]}<extra></extra>",
        "marker": {
            "color": [b.fill.colour for b in bars],
            "line": {
                "color": [look.ink if mine else look.faint for mine in outlined],
                "width": [2.4 if mine else 0.8 for mine in outlined],
            },
            "pattern": merged,
        },
        "unselected": _AS_IT_IS,
    }


def _words(labels: Sequence[Label]) -> dict[str, Any]:
    return {
        "type": "scatter",
        "x": [label.at for label in labels],
        "y": [label.row + label.shift for label in labels],
        "mode": "text",
        "text": [label.text for label in labels],
        "hoverinfo": "skip",
        "cliponaxis": False,
        "textposition": ["middle right" if label.beside else "middle center" for label in labels],
        "textfont": {"size": 12, "color": [label.ink for label in labels]},
        "unselected": _AS_IT_IS,
    }
