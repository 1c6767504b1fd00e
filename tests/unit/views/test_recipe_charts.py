"""Charts of a recipe draw the cards' own minutes, and a boil that ends at the set."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from scheduler.batch_sheet import stages_of
from scheduler.domain.scenario import Situation
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.pan_sheets import PanSheet
from scheduler.panful import Rule
from scheduler.plan_rows import StageKind
from scheduler.sheet import Sheet, course_of, sheet
from scheduler.views import charts, words
from scheduler.views.charts.recipe import STACKED
from scheduler.views.look import DARK, LIGHT, Look

FARM = Path(__file__).parents[2] / "farm" / "quiet-week"
SITUATION = read_scenario(FARM)
LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])


def first_sheet(**kitchen: Any) -> tuple[Sheet, Situation]:
    scenario = SITUATION.scenario
    changed = replace(scenario, kitchen=replace(scenario.kitchen, **kitchen))
    situation = replace(SITUATION, scenario=changed)
    return sheet(make_cards(situation), changed.recipes[0]), situation


def rows_of(figure: Any, row: int) -> list[Any]:
    axis = "y" if row == 1 else f"y{row}"
    return [trace for trace in figure.data if (trace.yaxis or "y") == axis]


def shaded(figure: Any) -> list[tuple[float, float]]:
    return [(shape.x0, shape.x1) for shape in figure.layout.shapes if shape.type == "rect"]


def said(figure: Any) -> str:
    return " ".join(note.text for note in figure.layout.annotations)


@LOOKS
def test_the_stack_ends_at_the_planned_minutes_of_every_card(look: Look) -> None:
    found, situation = first_sheet()
    figure = charts.minutes_by_kg(found, found.pans, situation.scenario, look)
    for row, pan in enumerate(found.pans, 1):
        traces = rows_of(figure, row)
        stacks = [trace for trace in traces if trace.stackgroup]
        kinds = [kind for kind, _ in STACKED if kind not in {StageKind.SOFTEN, StageKind.STRAIN}]
        assert [trace.name for trace in stacks] == [kind.value for kind in kinds]
        lines = {trace.name: trace for trace in traces if not trace.stackgroup}
        for place, batch in enumerate(pan.curve):
            assert sum(trace.y[place] for trace in stacks) == batch.card.chain
            total = stages_of(batch.card, situation.scenario)[1]
            for name in ("median", "planned", "most"):
                assert lines[name].x[place] == batch.card.kg / 10
                assert lines[name].y[place] == getattr(total, name)


def test_what_a_rule_refuses_is_shaded_and_named() -> None:
    found, situation = first_sheet()
    recipe = replace(found.recipe, longest_boil_minutes=40)
    scenario = replace(situation.scenario, recipes=(recipe, *situation.scenario.recipes[1:]))
    found = sheet(make_cards(replace(situation, scenario=scenario)), recipe)
    figure = charts.minutes_by_kg(found, found.pans, scenario, LIGHT)
    refused = [
        (batch.card.kg / 10, pan) for pan in found.pans for batch in pan.curve
        if batch.refusal and batch.refusal.rule is Rule.BOILS_TOO_LONG
    ]  # fmt: skip
    assert refused
    assert all(any(low <= kg <= high for low, high in shaded(figure)) for kg, _ in refused)
    assert Rule.BOILS_TOO_LONG.value in said(figure)


def test_the_largest_batch_potted_in_time_is_marked_where_the_pan_holds_it() -> None:
    roomy, situation = first_sheet()
    assert "potted in time up to" not in said(
        charts.minutes_by_kg(roomy, roomy.pans, situation.scenario, LIGHT)
    )
    deep = replace(min(SITUATION.scenario.kitchen.pans, key=lambda pan: pan.diameter_cm), litres=40.0)
    slow, situation = first_sheet(pans=(deep,), fillers=1, jars_per_filler_hour=75.0, potting_limit_c=86.0)
    figure = charts.minutes_by_kg(slow, slow.pans, situation.scenario, LIGHT)
    marked = [pan for pan in slow.pans if 0 < pan.pottable_kg[1] <= pan.curve[-1].jam_kg]
    assert marked
    for pan in marked:
        assert f"potted in time up to {words.mass(_fruit_kg(pan))}" in said(figure)
        assert pan.largest is None or pan.largest.kg <= _fruit_kg(pan) + 0.1


def _fruit_kg(pan: PanSheet) -> float:
    return pan.pottable_kg[1] * pan.curve[-1].card.kg / 10 / pan.curve[-1].jam_kg


def test_a_recipe_that_no_pan_takes_still_draws() -> None:
    found, situation = first_sheet(
        rings=tuple(replace(r, largest_pan_cm=10.0) for r in SITUATION.scenario.kitchen.rings)
    )
    assert not any(pan.curve for pan in found.pans)
    assert not charts.minutes_by_kg(found, found.pans, situation.scenario, LIGHT).data


@LOOKS
def test_the_boil_is_drawn_to_its_end_with_solids_and_temperature_apart(look: Look) -> None:
    found, situation = first_sheet()
    batch = found.pans[0].largest
    assert batch is not None
    course = course_of(batch.panful, found.recipe, situation.scenario.kitchen)
    figure = charts.boil_course(course, look)
    (thick,), (hot,) = rows_of(figure, 1), rows_of(figure, 2)
    assert thick.y[-1] == pytest.approx(100 * found.recipe.final_solids)
    assert hot.y[-1] == pytest.approx(batch.card.set_c)
    assert thick.x[-1] == hot.x[-1] == pytest.approx(batch.panful.boil_minutes)
    assert thick.line.dash != hot.line.dash
    assert f"sets at {batch.card.set_c:.1f} °C" in said(figure)
