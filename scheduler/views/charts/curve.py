"""The trade-off curve: value lost on fruit against money, jars missing as the size of a point."""

from __future__ import annotations

from collections.abc import Sequence

import plotly.graph_objects as go

from scheduler.domain.scenario import Scenario
from scheduler.languages import say
from scheduler.plan_rows import Plan
from scheduler.views.curve_table import goal, in_short, is_close, proved
from scheduler.views.look import Look, dress, ink_on

SMALLEST, LARGEST = 22, 46
"""Pixels across of a point that misses no jar, and of the one that misses most."""


def trade_off(plans: Sequence[Plan], chosen: int | None, scenario: Scenario, look: Look) -> go.Figure:
    """A numbered disc per point: to the left less is lost, further down less is spent, larger misses more.

    The point ``chosen`` (from 1) is berry; one that is not proved is drawn without filling.
    """
    lost, missing, money = (
        [goal(plan, name).value for plan in plans] for name in ("spoiled", "short", "money")
    )
    most = max([*missing, 1.0])
    colours = [look.berry if n == chosen else look.leaf for n in range(1, len(plans) + 1)]
    fills = [colour if is_close(plan) else look.paper for colour, plan in zip(colours, plans, strict=True)]
    figure = go.Figure(
        go.Scatter(
            x=lost,
            y=money,
            mode="markers+text",
            text=[f"<b>{n}</b>" for n in range(1, len(plans) + 1)],
            textfont={"color": [_number_on(fill, look) for fill in fills], "size": 13},
            customdata=[
                f"<b>{say('Point {n}', n=n)}</b><br>"
                + in_short(plan, scenario).replace(", ", "<br>")
                + f"<br>{say('proved: {answer}', answer=proved(plan))}"
                for n, plan in enumerate(plans, 1)
            ],
            hovertemplate="%{customdata}<extra></extra>",
            marker={
                "size": [SMALLEST + (LARGEST - SMALLEST) * (each / most) ** 0.5 for each in missing],
                "color": fills,
                "line": {"width": 2, "color": colours},
                "opacity": 0.92,
            },
        )
    )
    dress(figure, look, 340)
    currency = scenario.currency
    axis = {"font": {"color": look.faint, "size": 12}, "standoff": 8}
    lost_title, money_title = (
        say("value lost on fruit, {currency}", currency=currency),
        say("money spent less orders paid, {currency}", currency=currency),
    )
    figure.update_xaxes(**_padded(lost), nticks=5, title={"text": lost_title, **axis})
    figure.update_yaxes(**_padded(money), nticks=6, title={"text": money_title, **axis})
    figure.update_layout(margin={"l": 8, "r": 12, "t": 8, "b": 8})
    return figure


def _number_on(fill: str, look: Look) -> str:
    return look.ink if fill == look.paper else ink_on(fill)


def _padded(values: Sequence[float]) -> dict[str, list[float]]:
    """A range with room for the discs."""
    spread = max(max(values) - min(values), 1.0)
    return {"range": [min(values) - 0.12 * spread, max(values) + 0.12 * spread]}
