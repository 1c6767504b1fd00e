"""The goals: what the plan reaches, the best that was reached, and the bound that was proved."""

from __future__ import annotations

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import say
from scheduler.plan_rows import Goal, Plan
from scheduler.views import tables, words
from scheduler.views.look import Look, dress

_ROW = 84


def goals(plan: Plan, scenario: Scenario, look: Look) -> go.Figure:
    """One row per goal on a scale of its own: bar = proved bound, ring = best reached, dot = in this plan."""
    figure = go.Figure()
    for row, goal in enumerate(plan.goals):
        low, high = _scale(goal)
        at = {name: (getattr(goal, name) - low) / (high - low) for name in ("bound", "best", "value")}
        hover = _hover(goal, scenario)
        figure.add_trace(
            go.Scatter(
                x=[at["bound"], at["value"]],
                y=[row, row],
                mode="lines",
                hoverinfo="skip",
                line={"color": look.amber, "width": 5},
            )
        )
        figure.add_trace(
            go.Scatter(
                x=[at["bound"], at["best"], at["value"]],
                y=[row, row, row],
                mode="markers",
                customdata=[hover] * 3,
                hovertemplate="%{customdata}<extra></extra>",
                marker={
                    "symbol": ["line-ns", "circle-open", "circle"],
                    "size": [22, 17, 11],
                    "color": [look.ink, look.leaf, look.leaf],
                    "line": {"width": [3, 2.5, 0], "color": [look.ink, look.leaf, look.leaf]},
                },
            )
        )
        title = tables.goal_words(goal.name, scenario)
        title = f"<b>{title}</b>  {words.goal_amount(goal.value, goal.unit, scenario)}"
        figure.add_annotation(x=0, xref="paper", y=row - 0.36, xanchor="left", showarrow=False, text=title)
        figure.add_annotation(
            x=1,
            xref="paper",
            y=row - 0.36,
            xanchor="right",
            showarrow=False,
            text=verdict(goal),
            font={"color": look.faint, "size": 12},
        )
    dress(figure, look, len(plan.goals) * _ROW + 10)
    figure.update_xaxes(visible=False, range=[-0.06, 1.06])
    figure.update_yaxes(visible=False, range=[len(plan.goals) - 0.6, -0.6])
    figure.update_layout(margin={"l": 6, "r": 6, "t": 4, "b": 4})
    return figure


def verdict(goal: Goal) -> str:
    """Proved or not, in a word and a gap."""
    return say("proved best") if goal.gap <= 1e-9 else say("gap {share}", share=words.percent(goal.gap))


def _scale(goal: Goal) -> tuple[float, float]:
    """From below the bound to above the value, and never of no width."""
    values = (goal.bound, goal.best, goal.value)
    spread = max(max(values) - min(values), 0.05 * max(abs(v) for v in values), 1.0)
    return min(values) - 0.5 * spread, max(values) + 0.5 * spread


def _hover(goal: Goal, scenario: Scenario) -> str:
    def amount(value: float) -> str:
        return words.goal_amount(value, goal.unit, scenario)

    return (
        f"<b>{tables.goal_words(goal.name, scenario)}</b><br>"
        + say("in this plan {amount}", amount=amount(goal.value))
        + "<br>"
        + say("best reached {amount}", amount=amount(goal.best))
        + "<br>"
        + say("proved: never below {amount}", amount=amount(goal.bound))
        + "<br>"
        + say(
            "gap {share}; may give up for the next goal: {amount}",
            share=words.percent(goal.gap),
            amount=amount(goal.slack),
        )
    )
