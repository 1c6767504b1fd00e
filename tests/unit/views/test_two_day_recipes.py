"""The batch sheet of two days in a terminal, as JSON, as tables and as charts."""

from __future__ import annotations

import io
import json
from dataclasses import replace

import jelly_days as days
import pytest
from rich.console import Console, RenderableType

from scheduler.batch_sheet import stages_of
from scheduler.domain.kitchen import DripStands
from scheduler.domain.trade import Good
from scheduler.law.composition import Kind
from scheduler.making import make_cards
from scheduler.plan_rows import Part, StageKind
from scheduler.sheet import Sheet, course_of, label_draft, sheet
from scheduler.views import charts, words
from scheduler.views import recipe_tables as tables
from scheduler.views.look import LIGHT
from scheduler.views.recipe_sheet import as_json, full, short

SITUATION = days.situation()
GOODS = tuple(
    Good(name, "each", 400, 0.4, 3) for name in ("sugar", "lemons", "pectin", "jar 340", "lid 63")
)  # fmt: skip
KITCHEN = replace(SITUATION.scenario.kitchen, jars_per_filler_hour=200.0, stand_minutes=5)
FARM = replace(SITUATION.scenario, goods=GOODS, kitchen=KITCHEN)
RECIPE = FARM.recipe(days.JELLY)


def of(kind: Kind = Kind.JELLY, stands: DripStands = FARM.kitchen.drip_stands, **recipe: object) -> Sheet:
    made = replace(RECIPE, kind=kind, **recipe)  # type: ignore[arg-type]
    kitchen = replace(FARM.kitchen, drip_stands=stands)
    farm = replace(FARM, recipes=(*FARM.recipes[:-1], made), kitchen=kitchen)
    return sheet(make_cards(replace(SITUATION, scenario=farm)), made)


JELLY = of()


def text(shown: RenderableType, width: int = 80) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    console.print(shown)
    return console.export_text()


def test_each_day_has_its_own_rows() -> None:
    first = tables.quantity_table(JELLY, FARM, Part.SOFTEN).set_index("")
    second = tables.quantity_table(JELLY, FARM, Part.BOIL).set_index("")
    assert list(first.index) == [
        "redcurrant, prepared", "redcurrant, as picked", "water", "juice by the morning",
        "fruit that the pan takes", "fruit that a drip stand takes",
    ]  # fmt: skip
    assert {"juice", "of fruit, prepared", "softened in", "sugar", "full jars", "sets here at"} <= set(
        second.index
    )
    assert "water" not in second.index
    for column in tables.batches(JELLY, Part.BOIL):
        batch = column.batch
        juice = RECIPE.kept_share * batch.kg * (1 + RECIPE.water_per_kg)
        assert second.loc["juice", column.name] == words.mass(juice)
        assert second.loc["softened in", column.name] in {tables.pan_name(p, JELLY) for p in JELLY.pans}


def test_only_what_sets_is_told_to_set() -> None:
    rows = set(tables.quantity_table(of(Kind.CORDIAL), FARM, Part.BOIL)[""])
    assert "sets here at" not in rows
    assert "boiled here to" in rows
    assert "tests and re-boils" not in set(tables.minutes_table(of(Kind.CORDIAL), Part.BOIL)[""])
    assert "tests and re-boils" in set(tables.minutes_table(JELLY, Part.BOIL)[""])


def test_only_the_day_of_potting_has_a_cost_a_jar() -> None:
    first = set(tables.cost_table(JELLY, "EUR", Part.SOFTEN)[""])
    second = set(tables.cost_table(JELLY, "EUR", Part.BOIL)[""])
    assert first == {"redcurrant", "energy", "pay"}
    assert first | {"a jar, without pay", "a jar, with pay", "sugar"} <= second


def test_a_butter_shows_its_softening_in_one_day() -> None:
    found = of(Kind.BUTTER, strained_share=0.8, longest_boil_minutes=120)
    assert found.parts == (Part.WHOLE,)
    assert "sieved pulp" in set(tables.quantity_table(found, FARM, Part.WHOLE)[""])
    names = list(tables.minutes_table(found, Part.WHOLE)[""])
    assert names[:4] == ["prepare", "soften", "strain", "dissolve"]
    assert names[-1] == "soften to last jar"


def test_refusals_say_on_which_day() -> None:
    told = tables.remarks(of(longest_boil_minutes=5))
    assert sum(line.startswith("Next day: boil the juice. ") and "Boils longer" in line for line in told)
    assert not any(line.startswith("First day") and "Boils longer" in line for line in told)


def test_a_day_without_a_safe_boil_softens_nothing() -> None:
    found = of(longest_boil_minutes=5)
    assert tables.refusals(found, Part.SOFTEN) == [
        "No pan boils the juice safely, so none is softened: see the next day."
    ]


def test_without_stands_the_sheet_says_that_there_is_no_juice() -> None:
    found = of(stands=DripStands(0, 0.0))
    told = " ".join(tables.remarks(found))
    assert "no safe batch. Too little fruit to boil" in told
    assert "so there is no juice to boil" in told
    assert "none" in text(short([found], FARM))
    assert tables.quantity_table(found, FARM, Part.BOIL).columns.tolist() == [""]


def test_more_softened_than_any_pan_boils_is_remarked() -> None:
    """Sugar of 2 kg takes 1.26 litres beside 0.84 of juice: 2.1 litres for each kg, softened with 1.4."""
    sweet = {"sugar_per_kg": 2.0, "final_solids": 0.8, "longest_boil_minutes": 240}
    told = tables.refusals(of(stands=DripStands(2, 20.0), **sweet), Part.SOFTEN)
    assert any("no pan boils the juice of more" in line for line in told)
    assert not any("no pan boils" in line for line in tables.refusals(JELLY, Part.SOFTEN))


@pytest.mark.parametrize("width", [80, 120])
def test_the_full_sheet_tells_both_days(width: int) -> None:
    farm = replace(FARM, recipes=(*FARM.recipes[:-1], JELLY.recipe))
    found = text(full(JELLY, label_draft(farm, JELLY.recipe), farm), width)
    assert max(len(line) for line in found.splitlines()) <= width
    told = " ".join(found.replace("│", " ").split())
    batch = JELLY.of(Part.BOIL)[0].largest
    assert batch is not None
    for wanted in (
        "Made on two days", "First day: soften and strain", "Next day: boil the juice",
        "the fruit is counted once", words.mass(batch.strained_kg), tables.minutes(batch.total),
        "never press a hot bag",
    ):  # fmt: skip
        assert wanted in told, wanted


def test_the_short_sheet_has_a_row_for_each_pan_and_day() -> None:
    found = text(short([JELLY], FARM), width=160)
    for part, does in ((Part.SOFTEN, ": soften "), (Part.BOIL, ": boil ")):
        rows = [line for line in found.splitlines() if does in line]
        assert len(rows) == len(JELLY.of(part))
        assert all(("°C" in row or "€" in row) == (part is Part.BOIL) for row in rows)


def test_json_holds_both_days() -> None:
    drafts = [label_draft(FARM, RECIPE)]
    [told] = json.loads(json.dumps(as_json([JELLY], drafts, FARM)))["recipes"]
    assert told["kind"] == "jelly"
    assert [pan["part"] for pan in told["pans"]] == [pan.part.value for pan in JELLY.pans]
    for pan, found in zip(told["pans"], JELLY.pans, strict=True):
        batch = found.largest
        assert batch is not None
        assert pan["largest"]["strained_kg"] == pytest.approx(batch.strained_kg)
        assert pan["largest"]["cost_a_jar"] == {
            "without_pay": batch.cost.a_jar, "with_pay": batch.cost.a_jar_with_pay,
        }  # fmt: skip
        softens = found.part is Part.SOFTEN
        assert (pan["pottable_kg"] is None) == (pan["largest"]["set_c"] is None) == softens
        assert (pan["largest"]["softened_in"] is None) == softens
        assert bool(pan["largest"]["fruit"]) == softens
        assert ("soften to drip stand" in pan["largest"]["minutes"]) == softens


@pytest.mark.parametrize(
    ("part", "kinds", "lines"),
    [
        (Part.SOFTEN, ["soften", "strain"], {"planned"}),
        (
            Part.BOIL,
            ["dissolve", "boil", "set test", "re-boil", "stand", "pot up"],
            {"planned", "most", "median"},
        ),
    ],
)
def test_the_stack_of_each_day_is_that_of_its_cards(part: Part, kinds: list[str], lines: set[str]) -> None:
    pan = JELLY.of(part)[0]
    figure = charts.minutes_by_kg(JELLY, [pan], FARM, LIGHT)
    stacks = [trace for trace in figure.data if trace.stackgroup]
    assert [trace.name for trace in stacks] == kinds
    assert {trace.name for trace in figure.data if not trace.stackgroup} == lines
    for place, batch in enumerate(pan.curve):
        assert sum(trace.y[place] for trace in stacks) == batch.card.chain
        assert stages_of(batch.card, FARM)[1].planned == batch.card.chain


def test_stages_without_a_test_for_what_does_not_set() -> None:
    cordial = replace(RECIPE, kind=Kind.CORDIAL)
    assert tables.stages_in(cordial, Part.BOIL) == [StageKind.DISSOLVE, StageKind.BOIL, StageKind.POT_UP]
    assert tables.stages_in(cordial, Part.SOFTEN) == [StageKind.SOFTEN, StageKind.STRAIN]


@pytest.mark.parametrize(("kind", "word"), [(Kind.JELLY, "sets at"), (Kind.CORDIAL, "done at")])
def test_the_boil_of_a_cordial_ends_without_a_set(kind: Kind, word: str) -> None:
    found = of(kind)
    batch = found.of(Part.BOIL)[0].largest
    assert batch is not None
    course = course_of(batch.panful, found.recipe, FARM.kitchen)
    figure = charts.boil_course(course, LIGHT, found.recipe.tested)
    assert any(note.text.startswith(word) for note in figure.layout.annotations)


def test_a_cordial_bears_its_plain_name() -> None:
    made = replace(RECIPE, kind=Kind.CORDIAL)
    farm = replace(FARM, recipes=(*FARM.recipes[:-1], made))
    assert "spread" not in label_draft(farm, made).text("name")
