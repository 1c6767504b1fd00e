"""What a kg of each fruit is worth on a day: a bar for each fruit."""

from __future__ import annotations

import pandas as pd
import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, say
from scheduler.views import words
from scheduler.views.look import Look, dress, fruit_fill, pattern

_ROW = 54


def worth_by_fruit(table: pd.DataFrame, scenario: Scenario, look: Look) -> go.Figure:
    """Bars of ``worth_of_fruit``, the dearest on top, each named above with its kg and worth."""
    table = table.sort_values(measures.worded(say("worth a kg")), ascending=False, kind="stable")
    names, kg, worth = (
        table[name].tolist() for name in (say("fruit"), say("kg there"), measures.worded(say("worth a kg")))
    )
    figure = go.Figure()
    for row, (name, there, value) in enumerate(zip(names, kg, worth, strict=True)):
        fruit = scenario.fruit(name)
        told = (
            measures.worded(say("{amount} a kg")).format(amount=words.money(value, scenario.currency))
            if value
            else say("nothing")
        )
        text = f"<b>{fruit.letter} {name}</b>  {told}, {say('{mass} there', mass=words.mass(there))}"
        fill = fruit_fill(fruit, scenario, look)
        figure.add_trace(
            go.Bar(
                orientation="h", x=[value], y=[row], width=0.42, hovertemplate=f"{text}<extra></extra>",
                marker={"color": fill.colour, "pattern": pattern(fill, look)},
            )
        )  # fmt: skip
        figure.add_annotation(
            x=0, y=row - 0.4, text=text, showarrow=False, xanchor="left", yanchor="middle", bgcolor=look.paper
        )
    dress(figure, look, len(names) * _ROW + 46)
    figure.update_layout(margin={"l": 16, "r": 24, "t": 6, "b": 30})
    figure.update_yaxes(visible=False, range=[len(names) - 0.6, -0.65])
    figure.update_xaxes(
        title={
            "text": measures.worded(say("{amount} a kg")).format(amount=scenario.currency),
            "font": {"color": look.faint, "size": 12},
        },
        nticks=5,
        rangemode="tozero",
    )
    if not any(worth):
        figure.update_xaxes(range=[0, 1])
    return figure
