"""Orders: jars filled and jars missing, by due day."""

from __future__ import annotations

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import say, spoken
from scheduler.law.composition import Kind
from scheduler.plan_rows import Plan
from scheduler.views import words
from scheduler.views.look import Fill, Look, dress, ink_on, pattern

_ROW = 66


def jars_by_order(plan: Plan, scenario: Scenario, look: Look) -> go.Figure:
    """A row per order: jars filled, and hatched what is missing."""
    lines = sorted(plan.orders, key=lambda line: (line.due, line.order))
    customers = {order.name: order.customer for order in scenario.orders}
    filled, missing = Fill(look.leaf), Fill(look.amber, "/")
    figure = go.Figure()
    for name, fill, values in (
        (say("filled"), filled, [o.filled for o in lines]),
        (say("missing"), missing, [o.jars - o.filled for o in lines]),
    ):
        figure.add_trace(
            go.Bar(
                orientation="h",
                name=name,
                x=values,
                y=list(range(len(lines))),
                width=0.4,
                customdata=[
                    f"{o.order}, {words.product(o.recipe, o.jar, scenario)}: {words.jars(v)} {name}"
                    for o, v in zip(lines, values, strict=True)
                ],
                hovertemplate="%{customdata}<extra></extra>",
                text=[str(v) if v else "" for v in values],
                textposition="inside",
                insidetextanchor="middle",
                textangle=0,
                insidetextfont={"color": ink_on(fill.colour)},
                marker={
                    "color": fill.colour,
                    "line": {"color": look.faint, "width": 0.8},
                    "pattern": pattern(fill, look),
                },
            )
        )
    for row, line in enumerate(lines):
        recipe = scenario.recipe(line.recipe)
        what = words.recipe_letters(recipe, scenario)
        if recipe.kind is not Kind.JAM:
            what += f" {spoken(recipe.kind)}"
        if recipe.more_sizes:
            what += f", {line.jar},"
        who = customers.get(line.order, "")
        figure.add_annotation(
            x=0,
            y=row - 0.36,
            showarrow=False,
            xanchor="left",
            yanchor="middle",
            text=f"<b>{words.day_name(line.due)}</b>  {say('{what} for {who}', what=what, who=who)}",
            bgcolor=look.paper,
        )
    dress(figure, look, len(lines) * _ROW + 48)
    figure.update_layout(barmode="stack", margin={"l": 16, "r": 24, "t": 6, "b": 30})
    figure.update_yaxes(visible=False, range=[len(lines) - 0.6, -0.55])
    figure.update_xaxes(ticksuffix=f" {say('jars')}", nticks=5, rangemode="tozero", ticklabeloverflow="allow")
    return figure
