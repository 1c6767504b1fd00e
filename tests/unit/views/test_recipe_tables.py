"""The batch sheet in a terminal and as JSON says what the sheet holds; the odds of a day."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import kilbrack_sample as sample
import pytest
from rich.console import Console, RenderableType

from scheduler.batch_sheet import BatchSheet, Stage
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.plan_rows import Part, StageKind
from scheduler.sheet import label_draft, sheet
from scheduler.views import recipe_tables as tables
from scheduler.views.dashboard.calendar import odds
from scheduler.views.recipe_sheet import as_json, full, short

SITUATION = read_scenario(Path(__file__).parents[2] / "farm" / "quiet-week")
FARM = SITUATION.scenario
SHEETS = [sheet(make_cards(SITUATION), recipe) for recipe in FARM.recipes]
DRAFTS = [label_draft(FARM, recipe) for recipe in FARM.recipes]
THURSDAY = date(2026, 7, 9)


def text(shown: RenderableType, width: int = 80) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    console.print(shown)
    return console.export_text()


def test_all_recipes_in_short_have_a_row_for_each_pan() -> None:
    found = text(short(SHEETS, FARM), width=160)
    for each in SHEETS:
        rows = [line for line in found.splitlines() if line.strip().startswith(f"{each.recipe.name} ")]
        assert len(rows) == len(each.pans)
        for row, pan in zip(rows, each.pans, strict=True):
            assert pan.largest is not None
            assert f"{pan.largest.kg:.1f} kg" in row
            assert f"{pan.largest.card.last_jar_c:.1f}" in row


def test_the_sheet_weighs_out_spices_and_vinegar_too() -> None:
    (each,) = [each for each in SHEETS if each.recipe.others]
    (other,) = each.recipe.others
    batch = each.pans[0].largest
    assert batch is not None
    found = " ".join(text(full(each, label_draft(FARM, each.recipe), FARM), 120).split())
    assert f"{other.name} {other.g_per_kg * batch.kg:.0f} g" in found


@pytest.mark.parametrize(
    ("least", "said"),
    [
        (0.0, "every batch up to a full pan is potted in time"),
        (0.04, "every batch up to a full pan is potted in time"),
        (0.06, "a batch of 0.1 kg of preserve or more is potted in time, up to a full pan"),
    ],
)
def test_no_batch_of_0_kg_is_told_to_be_potted_in_time(least: float, said: str) -> None:
    assert tables.pottable(replace(SHEETS[0].pans[0], pottable_kg=(least, 1000.0))) == said


@pytest.mark.parametrize("width", [80, 120])
def test_the_full_sheet_fits_and_tells_what_is_asked(width: int) -> None:
    found = text(full(SHEETS[0], DRAFTS[0], FARM), width)
    assert max(len(line) for line in found.splitlines()) <= width
    told = " ".join(found.replace("│", " ").split())
    batch = SHEETS[0].pans[0].largest
    assert batch is not None
    for wanted in (
        f"{batch.fruit[0].picked_kg:.1f} kg", f"{batch.card.set_c:.1f} °C", tables.minutes(batch.total),
        "a jar, with pay", "may be called jam", "Draft of the label, European Union", "Boiling sugar",
        "no legal advice",
    ):  # fmt: skip
        assert wanted in told, wanted


def test_a_table_has_a_column_for_each_batch_and_leaves_out_what_is_not_used() -> None:
    found = tables.quantity_table(SHEETS[0], FARM, Part.WHOLE).set_index("")
    columns = tables.batches(SHEETS[0], Part.WHOLE)
    assert list(found) == [column.name for column in columns]
    for column in columns:
        assert found.loc["full jars", column.name] == f"{column.batch.card.jars}"
    for each in SHEETS:
        rows = set(tables.quantity_table(each, FARM, Part.WHOLE)[""])
        assert ("lemons" in rows) == (each.recipe.lemons_per_kg > 0)
        assert ("water" in rows) == (each.recipe.water_per_kg > 0)


def test_one_number_where_chance_has_no_part() -> None:
    assert tables.minutes(Stage("boil", 40, 40, 40)) == "40"
    assert tables.minutes(Stage("tests and re-boils", 5, 20, 35)) == "5 / 20 / 35"


def test_refusals_are_told_pan_by_pan() -> None:
    recipe = replace(FARM.recipes[0], longest_boil_minutes=5)
    farm = replace(FARM, recipes=(recipe, *FARM.recipes[1:]))
    found = sheet(make_cards(replace(SITUATION, scenario=farm)), recipe)
    told = tables.remarks(found)
    assert sum("no safe batch" in line and "Boils longer" in line for line in told) == len(found.pans)
    assert "none" in text(short([found], farm))


def test_json_holds_the_numbers_of_the_sheet() -> None:
    found = json.loads(json.dumps(as_json(SHEETS, DRAFTS, FARM)))
    assert [recipe["name"] for recipe in found["recipes"]] == [recipe.name for recipe in FARM.recipes]
    for each, told in zip(SHEETS, found["recipes"], strict=True):
        for pan, batch in zip(each.pans, told["pans"], strict=True):
            assert isinstance(pan.full, BatchSheet)
            assert batch["full"]["jars"] == pan.full.card.jars
            assert batch["full"]["minutes"]["dissolve to last jar"]["planned"] == pan.full.card.chain
            assert bool(batch["refused"]) == (pan.full.refusal is not None)
        assert told["label"]["name"] == DRAFTS[SHEETS.index(each)].text("name")


def test_the_odds_of_a_day_are_those_of_its_batches() -> None:
    """0.96 of batches keep to one re-boil where 0.8 set at the first test; four of them, by hand: 0.849."""
    plan = sample.plan()
    told = odds(plan, sample.situation().scenario, THURSDAY)
    assert len([batch for batch in plan.batches if batch.day == THURSDAY]) == 4
    assert told.startswith("all 4 batches keep to the planned minutes on 85 such days in 100")


def test_twelve_batches_at_four_fifths_all_keep_on_seven_days_in_a_hundred() -> None:
    """0.8 to the power of 12 is 0.0687."""
    plan = sample.plan()
    batch = next(batch for batch in plan.batches if batch.day == THURSDAY)
    twelve = tuple(replace(batch, id=f"b{number}") for number in range(12))
    bare = replace(
        plan, batches=twelve, stages=tuple(s for s in plan.stages if s.kind is not StageKind.REBOIL)
    )
    told = odds(bare, sample.situation().scenario, THURSDAY)
    assert "all 12 batches keep to the planned minutes on 7 such days in 100" in told
    assert odds(replace(plan, batches=()), sample.situation().scenario, THURSDAY) == ""
