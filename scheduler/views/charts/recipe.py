"""A recipe's charts: minutes against kg in each pan, and solids and temperature through the boil."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

import plotly.graph_objects as go
from plotly.subplots import make_subplots

from scheduler.batch_sheet import Stage, stages_of
from scheduler.cards import SCALE, BatchCard
from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, say, spoken
from scheduler.pan_sheets import PanSheet
from scheduler.panful import Panful, Rule
from scheduler.plan_rows import Part, StageKind
from scheduler.sheet import Course, Sheet
from scheduler.views import recipe_tables as tables
from scheduler.views import words
from scheduler.views.look import Look, dress, fruit_colour, pattern, stage_fill

STACKED: tuple[tuple[StageKind, Callable[[BatchCard], int]], ...] = (
    (StageKind.SOFTEN, lambda card: card.soften),
    (StageKind.STRAIN, lambda card: card.strain),
    (StageKind.DISSOLVE, lambda card: card.dissolve),
    (StageKind.BOIL, lambda card: card.boil),
    (StageKind.SET_TEST, lambda card: (card.reboils + 1) * card.test),
    (StageKind.REBOIL, lambda card: card.reboils * card.reboil),
    (StageKind.STAND, lambda card: card.stand),
    (StageKind.POT_UP, lambda card: card.pot),
)
"""Stages from when cooking begins to the last jar, and their minutes as the plan keeps them."""

_PANEL, _GAP = 250, 46


def minutes_by_kg(sheet: Sheet, pans: Sequence[PanSheet], scenario: Scenario, look: Look) -> go.Figure:
    """A panel for each of ``pans``: minutes as planned stacked by stage, and lines for half and 95 of 100
    batches.

    x is prepared fruit (kg; of juice, the fruit whose juice it is), to the largest batch that the pan takes.
    Where a rule refuses the batch the panel is shaded.
    """
    pans = [pan for pan in pans if pan.curve]
    height = max(1, len(pans)) * _PANEL
    gap = _GAP / height if len(pans) > 1 else 0
    figure = make_subplots(rows=max(1, len(pans)), cols=1, shared_xaxes=True, vertical_spacing=gap)
    colour = fruit_colour(scenario.fruit(sheet.recipe.fruits[0].fruit), look)
    for row, pan in enumerate(pans, 1):
        totals = [stages_of(batch.card, scenario)[1] for batch in pan.curve]
        _areas(figure, pan, tables.stages_in(sheet.recipe, pan.part), colour, look, row)
        _lines(figure, pan, totals, scenario, look, row)
        _refused(figure, pan, look, row)
        _mark(figure, pan, look, row)
        title = f"<b>{tables.pan_name(pan, sheet)}</b>"
        _say(figure, title, 0, 1, row, look.ink, x="paper", y="paper", xanchor="left", yanchor="bottom")
        figure.update_yaxes(range=[0, 1.3 * totals[-1].most], row=row, col=1)
    dress(figure, look, height + 40)
    figure.update_layout(margin={"l": 8, "r": 46, "t": 26, "b": 34})
    figure.update_yaxes(ticksuffix=" min", nticks=6)
    figure.update_xaxes(ticksuffix=f" {measures.symbol('kg')}", showgrid=False, nticks=7)
    return figure


def boil_course(course: Course, look: Look, sets: bool = True) -> go.Figure:
    """Solids (above, per cent of mass) and temperature (below, °C) over the minutes of the boil.

    ``sets`` says whether the end of the boil is a set.
    """
    figure = make_subplots(rows=2, cols=1, shared_xaxes=True, vertical_spacing=0.14)
    thick, hot = 100 * course.solids, measures.all_shown(course.celsius, measures.CELSIUS)
    hover = [
        say(
            "after {minutes} min<br><b>{solids} %</b> solids, boils at <b>{heat}</b>",
            minutes=_said(at, 0),
            solids=_said(solid, 1),
            heat=words.degrees(celsius),
        )
        for at, solid, celsius in zip(course.minutes, thick, course.celsius, strict=True)
    ]
    end_of_boil = (
        say("sets at {heat}", heat=words.degrees(course.celsius[-1]))
        if sets
        else say("done at {heat}", heat=words.degrees(course.celsius[-1]))
    )
    for row, values, colour, end, title in (
        (
            1,
            thick,
            look.leaf,
            say("{share} % in the jar", share=_said(thick[-1], 0)),
            say("<b>Solids</b>, % of mass"),
        ),
        (2, hot, look.berry, end_of_boil, measures.worded(say("<b>Temperature</b>, °C"))),
    ):
        line = {"color": colour, "width": 3, "dash": "solid" if row == 1 else "dot"}
        trace = go.Scatter(
            x=course.minutes, y=values, mode="lines", line=line, customdata=hover,
            hovertemplate="%{customdata}<extra></extra>",
        )  # fmt: skip
        figure.add_trace(trace, row=row, col=1)
        figure.add_hline(y=values[-1], line={"color": look.faint, "width": 1, "dash": "dash"}, row=row, col=1)
        _say(
            figure, end, 0.01, values[-1], row, colour, x="paper", xanchor="left", yanchor="bottom", look=look
        )
        _say(figure, title, 0, 1.02, row, look.ink, x="paper", y="paper", xanchor="left", yanchor="bottom")
        room = max(values[-1] - values[0], 0.5)
        figure.update_yaxes(range=[values[0] - 0.1 * room, values[-1] + 0.35 * room], row=row, col=1)
    dress(figure, look, 420)
    figure.update_layout(margin={"l": 8, "r": 12, "t": 30, "b": 34})
    figure.update_yaxes(ticksuffix=" %", nticks=5, row=1, col=1)
    figure.update_yaxes(ticksuffix=f" {measures.symbol(measures.CELSIUS)}", nticks=5, row=2, col=1)
    figure.update_xaxes(ticksuffix=" min", showgrid=False, nticks=7)
    return figure


def _said(amount: float, decimals: int) -> str:
    return words.number(amount, decimals, grouped=False)


def _kg(batch: Panful) -> float:
    return batch.card.kg / SCALE


def _areas(
    figure: go.Figure, pan: PanSheet, kinds: Sequence[StageKind], colour: str, look: Look, row: int
) -> None:
    for kind, of in STACKED:
        if kind not in kinds:
            continue
        fill = stage_fill(kind, colour, look)
        trace = go.Scatter(
            x=measures.all_shown(map(_kg, pan.curve)), y=[of(batch.card) for batch in pan.curve],
            name=kind.value, mode="lines", stackgroup="stages", hoverinfo="skip", fillcolor=fill.colour,
            fillpattern=pattern(fill, look), line={"color": look.faint, "width": 0.6, "shape": "hv"},
        )  # fmt: skip
        figure.add_trace(trace, row=row, col=1)


def _lines(
    figure: go.Figure, pan: PanSheet, totals: Sequence[Stage], scenario: Scenario, look: Look, row: int
) -> None:
    """The total for half of the batches, as planned, and for 95 in 100; each said once where two agree."""
    sizes = measures.all_shown(map(_kg, pan.curve))
    hover = [_hover(batch, total, scenario) for batch, total in zip(pan.curve, totals, strict=True)]
    kept = words.percent(scenario.kitchen.keep_share).replace(".0", "").replace(",0", "")
    lines = [
        ("planned", kept, look.ink, "solid"),
        ("most", "95 %", look.berry, "dash"),
        ("median", "50 %", look.leaf, "dot"),
    ]
    if not any(batch.card.test for batch in pan.curve):  # nothing is left to chance
        lines = [("planned", say("all"), look.ink, "solid")]
    said: set[int] = set()
    for name, what, colour, dash in lines:
        minutes = [getattr(total, name) for total in totals]
        trace = go.Scatter(
            x=sizes, y=minutes, name=name, mode="lines", customdata=hover,
            hovertemplate="%{customdata}<extra></extra>",
            line={"color": colour, "width": 2.2, "dash": dash, "shape": "hv"},
        )  # fmt: skip
        figure.add_trace(trace, row=row, col=1)
        if minutes[-1] not in said:
            _say(figure, f" {what}", sizes[-1], minutes[-1], row, colour, xanchor="left", yanchor="middle")
        said.add(minutes[-1])


def _hover(batch: Panful, total: Stage, scenario: Scenario) -> str:
    stages, _ = stages_of(batch.card, scenario)
    told = "<br>".join(
        f"{tables.stage_name(stage.name)} {tables.minutes(stage)} min" for stage in (*stages, total)
    )
    refusal = f"<br><b>{say('refused: {rule}', rule=spoken(batch.refusal.rule))}</b>" if batch.refusal else ""
    mass = words.mass(_kg(batch))
    what = (
        say("juice of {mass} of fruit", mass=mass)
        if batch.card.part is Part.BOIL
        else say("{mass} of fruit", mass=mass)
    )
    jars = f", {words.jars(batch.card.jars)}" if batch.card.jars else ""
    return f"<b>{what}</b>{jars}<br>{told}{refusal}"


def _refused(figure: go.Figure, pan: PanSheet, look: Look, row: int) -> None:
    """Shade the kg that a rule refuses, and say which at the top."""
    for rule, *ends, at_end in _stretches(pan.curve):
        first, last = measures.all_shown(ends)
        figure.add_vrect(
            x0=first, x1=last, fillcolor=look.berry, opacity=0.16, line_width=0, layer="above", row=row, col=1
        )
        x, anchor = (last, "right") if at_end else (first, "left")
        _say(figure, spoken(rule), x, 1, row, look.berry, y="paper", xanchor=anchor, yanchor="top")


def _stretches(curve: Sequence[Panful]) -> Iterator[tuple[Rule, float, float, bool]]:
    """Rule, first and last kg of each stretch of refused batches, and whether it ends the curve."""
    place = 0
    for rule, alike in groupby(curve, lambda batch: batch.refusal.rule if batch.refusal else None):
        first, place = place, place + len(list(alike))
        if rule:
            end = min(place, len(curve) - 1)
            yield rule, _kg(curve[first]), _kg(curve[end]), place == len(curve)


def _mark(figure: go.Figure, pan: PanSheet, look: Look, row: int) -> None:
    """The largest batch that is potted in time, where the pan holds so much."""
    if pan.pottable_kg is None:
        return
    kg = pan.pottable_kg[1] * _kg(pan.curve[-1]) / pan.curve[-1].jam_kg
    if _kg(pan.curve[0]) <= kg <= _kg(pan.curve[-1]):
        figure.add_vline(
            x=measures.shown(kg), line={"color": look.amber, "width": 2, "dash": "dash"}, row=row, col=1
        )
        text = f"{say('potted in time up to {mass}', mass=words.mass(kg))} "
        _say(
            figure, text, measures.shown(kg), 0.9, row, look.amber, y="paper", xanchor="right", yanchor="top"
        )


def _say(
    figure: go.Figure, text: str, at: float, height: float, row: int, colour: str,
    *, x: str = "", y: str = "", xanchor: str, yanchor: str, look: Look | None = None,
) -> None:  # fmt: skip
    """Words in a panel, on paper if a look is given: at axis values, or at shares of it where "paper"."""
    axis = "" if row == 1 else str(row)
    figure.add_annotation(
        text=text, x=at, y=height, showarrow=False, xanchor=xanchor, yanchor=yanchor,
        xref=f"x{axis} domain" if x else f"x{axis}", yref=f"y{axis} domain" if y else f"y{axis}",
        font={"color": colour, "size": 12}, bgcolor=look.paper if look else None, borderpad=1,
    )  # fmt: skip
