"""The way of fruit as one picture: bands from where it came to what became of it."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd
import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import measures
from scheduler.views import words
from scheduler.views.flow_table import FREEZER, FRESH, place_said
from scheduler.views.look import FONT, Look, dress, fate_fills, fruit_colour, mixed

_ROW = 52
_LEAST = 300
_APART = 36
"""Pixels between two places: room for a name of two lines beside a place as thin as a hair."""
_HALFWAY = 0.5
"""Where the freezer stands across the picture: far enough from the ends for both names on a phone."""


def fruit_flow(table: pd.DataFrame, scenario: Scenario, look: Look) -> go.Figure:
    """Bands of ``flow_table`` in the colours of their fruits, places named with their kg."""
    places = list(dict.fromkeys([*table["from"], *table["to"]]))
    fills = fate_fills(look)
    colours = {
        "sold": fills["sold"].colour, "cooked": fills["cooked"].colour, FREEZER: fills["frozen"].colour,
        "given up": fills["given up"].colour, "spoiled": fills["spoiled"].colour,
        "thrown away": fills["spoiled"].colour,
    }  # fmt: skip
    through = {
        place: max(table.loc[table["from"] == place, "kg"].sum(), table.loc[table["to"] == place, "kg"].sum())
        for place in places
    }
    of = {fruit.name: fruit for fruit in scenario.fruits}
    figure = go.Figure(
        go.Sankey(
            arrangement="snap",
            textfont={"family": FONT, "color": look.ink, "size": 13, "shadow": "none"},
            node={
                "label": [_label(place, float(through[place])) for place in places],
                "color": [colours.get(place, look.faint) for place in places],
                "line": {"color": look.paper, "width": 1},
                "pad": _APART, "thickness": 14,
                # None leaves a place where the library puts it.
                "x": [_HALFWAY if place == FREEZER else None for place in places],
                "y": [_height(through) if place == FREEZER else None for place in places],
                "hovertemplate": "%{label}<extra></extra>",
            },
            link={
                "source": [places.index(place) for place in table["from"]],
                "target": [places.index(place) for place in table["to"]],
                "value": table["kg"].tolist(),
                "color": [mixed(fruit_colour(of[name], look), look.paper, 0.55) for name in table["fruit"]],
                "customdata": [
                    f"<b>{of[name].letter} {name}</b><br>{words.mass(kg)}"
                    for name, kg in zip(table["fruit"].tolist(), table["kg"].tolist(), strict=True)
                ],
                "hovertemplate": "%{customdata}<extra></extra>",
            },
        )
    )  # fmt: skip
    dress(figure, look, max(_LEAST, _ROW * len(places)))
    figure.update_layout(margin={"l": 4, "r": 4, "t": 10, "b": 10})
    return figure


def _height(through: Mapping[str, float]) -> float:
    """How far down the freezer's middle stands, 0 to 1: below what is sold and cooked, and never so far that
    a full freezer would leave the picture."""
    half = through[FREEZER] / max(through.values()) / 2
    return min(max(0.6, half), 1 - half)


def _label(place: str, kg: float) -> str:
    """What stands beside a place, in two lines; what comes fresh has been told by where it comes from."""
    return (
        ""
        if place == FRESH
        else f"{place_said(place)}<br>{words.number(measures.shown(kg))} {measures.symbol('kg')}"
    )
