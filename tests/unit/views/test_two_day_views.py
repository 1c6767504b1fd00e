"""Two days of a jelly on calendar, people, tables, files and cautions; who stands by fills no time."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from typing import Any

import jelly_days as days
import kilbrack_sample as sample
import pytest
from rich.console import Console

from scheduler.law.composition import Kind
from scheduler.plan_rows import Stage, StageKind
from scheduler.views import charts, tables, words
from scheduler.views.charts.calendar import batch_hover
from scheduler.views.dashboard.calendar import odds, overnight
from scheduler.views.files import plan_texts
from scheduler.views.look import DARK, LIGHT, Look, stage_fill
from scheduler.views.summary import summary

PLAN, SITUATION = days.plan(), days.situation()
FARM = SITUATION.scenario
POTTED = ("jars", "sugar kg", "lemons", "pectin g", "boiled to °C", "last jar °C")


def bars(figure: Any, batch: str) -> dict[tuple[int, int], tuple[float, str]]:
    """(start, end) → height and hover of the bars of one batch."""
    return {
        (base, base + length): (width, data[1])
        for trace in figure.data if trace.type == "bar"
        for data, base, length, width in zip(
            trace.customdata, trace.base, trace.x, trace.width, strict=True
        )
        if data[0] == batch
    }  # fmt: skip


def labels(figure: Any) -> list[str]:
    return [text for trace in figure.data if trace.type == "scatter" for text in trace.text]


def test_juice_is_named_on_both_days() -> None:
    first, second = (
        batch_hover(batch, PLAN, FARM).replace("<br>", " ") for batch in (days.SOFTENED, days.BOILED)
    )
    assert "drips overnight; its juice is boiled Fri 10 Jul in steel twelve on back left" in first
    assert "the juice of what was softened Thu 9 Jul in little one on front left" in second
    assert "4.0 kg fruit, of today's mix; 1.6 kg water" in first
    assert "juice of 4.0 kg fruit; 3.2 kg sugar" in second


def test_where_nothing_is_potted_no_jars_and_no_temperature_are_told() -> None:
    hover = batch_hover(days.SOFTENED, PLAN, FARM)
    assert "jar" not in hover
    assert "°C" not in hover
    table = tables.batch_table(PLAN, FARM, (days.THURSDAY, days.FRIDAY)).set_index("batch")
    assert table.loc["soft", list(POTTED)].isna().all()
    assert table.loc["soft", "potted by"] == ""
    assert table.loc["juice", list(POTTED)].tolist() == [14, 3.2, 0, 0, 104.1, 88.0]
    assert table.loc["soft", "part"] == "soften and strain"
    assert table.loc["soft", "juice"] == words.juice(days.SOFTENED, PLAN)


def test_a_plan_of_whole_batches_has_no_column_for_parts() -> None:
    table = tables.batch_table(PLAN, FARM, (days.sample.START,))
    assert {"part", "juice"}.isdisjoint(table.columns)
    assert {"part", "juice"}.isdisjoint(tables.batch_table(PLAN, FARM, ()).columns)


def test_a_batch_is_timed_from_its_ring_to_its_jar_or_bag() -> None:
    times = tables.clock_times(PLAN)
    assert times["soft"] == (860, 915)
    assert times["juice"] == (800, 890)


def test_the_calendar_draws_softening_and_says_that_it_drips() -> None:
    figure = charts.day_by_ring(PLAN, FARM, days.THURSDAY, LIGHT)
    drawn = bars(figure, "soft")
    assert set(drawn) == {(860, 905), (905, 915), (915, 930)}
    assert drawn[860, 905][0] == drawn[905, 915][0] > drawn[915, 930][0]
    assert "<b>C</b> drips overnight" in labels(figure)


def test_the_label_is_short_where_the_next_batch_is_near_or_the_day_ends() -> None:
    later = replace(days.SOFTENED, id="later")
    near = Stage(days.THURSDAY, "later", StageKind.SOFTEN, 950, 995, ("Aoife",))
    crowded = replace(PLAN, batches=(*PLAN.batches, later), stages=(*PLAN.stages, near))
    assert labels(charts.day_by_ring(crowded, FARM, days.THURSDAY, LIGHT)).count("<b>C</b> drips") == 2


def test_who_stands_by_is_on_no_ring_and_thin_beside_other_work() -> None:
    figure = charts.day_by_ring(PLAN, FARM, days.FRIDAY, LIGHT)
    assert (860, 875) not in bars(figure, "juice")
    people = charts.day_by_person(PLAN, FARM, days.FRIDAY, LIGHT)
    drawn = bars(people, "juice")
    strip, hover = drawn[860, 875]
    assert strip < 0.2 * min(height for span, (height, _) in drawn.items() if span != (860, 875))
    assert "within call" in hover


def test_who_stands_by_and_washes_meanwhile_keeps_the_whole_row_for_it() -> None:
    wash = Stage(days.FRIDAY, "juice", StageKind.WASH, 860, 875, ("Maeve",))
    alone = replace(PLAN, stages=tuple(s for s in PLAN.stages if s.kind is not StageKind.STAND_BY))
    with_wash, without = (replace(p, stages=(*p.stages, wash)) for p in (PLAN, alone))
    heights = [
        max(
            trace.width[place]
            for trace in charts.day_by_person(plan, FARM, days.FRIDAY, LIGHT).data if trace.type == "bar"
            for place, base in enumerate(trace.base)
            if (base, base + trace.x[place]) == (860, 875) and trace.customdata[place][0] == "juice"
        )
        for plan in (with_wash, without)
    ]  # fmt: skip
    assert heights[0] == heights[1]


def test_the_key_has_only_stages_of_the_plan_and_draws_standing_by_thin() -> None:
    whole = charts.stages_drawn(sample.plan(), StageKind)
    assert {StageKind.SOFTEN, StageKind.STRAIN, StageKind.STAND_BY}.isdisjoint(whole)
    here = charts.stages_drawn(PLAN, StageKind)
    assert {StageKind.SOFTEN, StageKind.STRAIN, StageKind.STAND_BY} <= set(here)
    key = charts.stage_key(LIGHT, here)
    assert key.count("height:.35rem") == 1
    assert "within call to pot up" in key.split("height:.35rem")[1].split("</li>")[0]


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_every_stage_has_a_fill_of_its_own(look: Look) -> None:
    fills = {
        (fill.colour, fill.pattern) for kind in StageKind for fill in [stage_fill(kind, "#94264a", look)]
    }
    assert len(fills) == len(StageKind)
    assert stage_fill(StageKind.SOFTEN, "#94264a", look).pattern
    assert stage_fill(StageKind.STRAIN, "#94264a", look).pattern


def test_letters_of_juice_are_those_of_the_fruit_that_was_softened() -> None:
    farm = replace(
        FARM, recipes=tuple(
            replace(r, fruits=FARM.recipes[1].fruits) if r.name == days.JELLY else r for r in FARM.recipes
        ),
    )  # fmt: skip
    assert words.letters(days.BOILED, PLAN, farm) == "C"


def test_the_odds_of_a_day_leave_out_what_is_not_tested() -> None:
    """0.96 of batches keep to one re-boil where 0.8 set at the first test: of three and four, by hand."""
    assert odds(PLAN, FARM, days.THURSDAY) == odds(sample.plan(), FARM, days.THURSDAY).replace(
        "batches keep", "tested batches keep"
    )
    assert "all 4 batches keep to the planned minutes on 85 " in odds(PLAN, FARM, days.FRIDAY)
    soft = replace(PLAN, batches=(days.SOFTENED,))
    assert odds(soft, FARM, days.THURSDAY) == ""


def test_the_way_of_the_juice_is_told_once() -> None:
    both = overnight(PLAN, FARM, (days.THURSDAY, days.FRIDAY))
    assert both == [
        "Thu 9 Jul, C redcurrant jelly in little one on front left drips overnight; its juice is boiled "
        "Fri 10 Jul in steel twelve on back left."
    ]
    assert overnight(PLAN, FARM, (days.THURSDAY,)) == both
    [friday] = overnight(PLAN, FARM, (days.FRIDAY,))
    assert friday.endswith("back left: the juice of what was softened Thu 9 Jul in little one on front left.")
    assert overnight(PLAN, FARM, (sample.START,)) == []


def test_files_leave_temperatures_of_what_is_not_potted_empty() -> None:
    text = plan_texts(PLAN)["batches.csv"].removeprefix("\ufeff")
    rows = {row["id"]: row for row in csv.DictReader(io.StringIO(text, newline=""))}
    soft, juice = rows["soft"], rows["juice"]
    assert (soft["part"], soft["set_temperature_c"], soft["last_jar_c"]) == ("soften and strain", "", "")
    assert (juice["part"], juice["juice_of"], juice["set_temperature_c"]) == (
        "boil the juice",
        "soft",
        "104.1",
    )


@pytest.mark.parametrize(("plan", "told"), [(PLAN, True), (sample.plan(), False)], ids=["jelly", "jam"])
def test_hot_fruit_is_warned_of_where_a_plan_softens_any(plan: Any, told: bool) -> None:
    console = Console(width=200, record=True, file=io.StringIO())
    console.print(summary(plan, SITUATION))
    text = " ".join(console.export_text().replace("│", " ").split())
    assert ("never press a hot bag" in text) is told
    assert ("smells of yeast" in text) is told
    assert "Boiling sugar burns badly" in text


@pytest.mark.parametrize(("kind", "told"), [(Kind.JELLY, " jelly for "), (Kind.JAM, " for ")])
def test_an_order_tells_a_jelly_from_a_jam_of_the_same_fruit(kind: Kind, told: str) -> None:
    plan, farm = sample.plan(), sample.situation().scenario
    line = plan.orders[0]
    recipes = tuple(replace(r, kind=kind) if r.name == line.recipe else r for r in farm.recipes)
    figure = charts.jars_by_order(plan, replace(farm, recipes=recipes), LIGHT)
    letters = words.recipe_letters(farm.recipe(line.recipe), farm)
    assert f"{letters}{told}" in figure.layout.annotations[0].text
