"""The sheet of a batch: its kg, its clock, its temperature, its cautions and what is to be written down."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from scheduler.domain.recipes import OtherIngredient
from scheduler.domain.scenario import Units
from scheduler.law.cautions import CAUTIONS, Hazard
from scheduler.law.safety import Judge
from scheduler.paper import Wish, print_pdf
from scheduler.paper.batches import batches
from scheduler.paper.lots import lot_marks
from scheduler.plan_rows import StageKind
from scheduler.views import words
from scheduler.views.batch_text import essentials
from scheduler.views.tables import clock_times
from tests.unit.paper.reading import pieces, reader, text
from tests.unit.views import jelly_days
from tests.unit.views import kilbrack_sample as sample

PLAN, FARM = sample.plan(), sample.situation().scenario
FOUND = batches(PLAN, FARM, None)
assert FOUND is not None
SHEETS = FOUND["sheets"]
MARKS = lot_marks(PLAN)


def test_lot_marks_are_the_day_and_the_order_in_which_batches_go_on_the_ring() -> None:
    assert len(set(MARKS.values())) == len(PLAN.batches)
    times = clock_times(PLAN)
    for day in FARM.dates():
        of_day = sorted((b for b in PLAN.batches if b.day == day), key=lambda b: times[b.id][0])
        assert [MARKS[b.id] for b in of_day] == [f"{day:%y%m%d}-{n}" for n in range(1, len(of_day) + 1)]


def test_a_page_for_each_batch() -> None:
    pages = reader(print_pdf("batches", PLAN, FARM)).pages
    assert len(pages) == len(PLAN.batches) == len(SHEETS)
    for page, sheet in zip(pages, SHEETS, strict=True):
        assert sheet["lot"] in page.extract_text()
    (one,) = reader(print_pdf("batches", PLAN, FARM, Wish(of="260709-2"))).pages
    assert "L 260709-2" in one.extract_text()


def test_the_kg_of_lots_on_all_sheets_are_what_the_plan_draws() -> None:
    told: Counter[str] = Counter()
    for sheet in SHEETS:
        for lot in sheet["lots"]:
            told[lot["lot"]] += float(lot["kg"].removesuffix(" kg"))
    drawn: Counter[str] = Counter()
    for draw in PLAN.draws:
        drawn[draw.lot] += draw.kg
    assert told.keys() == drawn.keys()
    for lot, kg in drawn.items():
        assert told[lot] == pytest.approx(kg, abs=0.11)  # each sheet rounds to 0.1 kg


def test_a_frozen_lot_says_its_date() -> None:
    (sheet,) = (s for s in SHEETS if "from the freezer" in s["recipe"])
    assert sheet["lots"] == [
        {"lot": "gooseberry bag 2025", "kg": "9.0 kg", "how": "frozen, use by Thu 20 Aug 2026"}
    ]


def test_what_goes_in_is_what_calendars_say() -> None:
    by_lot = {sheet["lot"]: sheet for sheet in SHEETS}
    for batch in PLAN.batches:
        said = essentials(batch, PLAN, FARM)
        sheet = by_lot[f"L {MARKS[batch.id]}"]
        assert "; ".join(sheet["goes_in"]) in said[0]
        assert sheet["boiled"] in said


def test_the_temperature_is_the_plans() -> None:
    plan = replace(PLAN, batches=tuple(replace(b, set_temperature_c=103.26) for b in PLAN.batches))
    told = text(print_pdf("batches", plan, FARM, Wish(of="260706-1")))
    assert "set at 103.3 °C" in told
    assert "last jar 85 °C or hotter" in told


def test_every_stage_of_a_batch_is_a_step_with_its_clock_and_hands() -> None:
    by_lot = {sheet["lot"]: sheet["steps"] for sheet in SHEETS}
    for batch in PLAN.batches:
        wanted = sorted(
            (f"{words.clock(s.start)}–{words.clock(s.end)}", ", ".join(s.people))
            for s in PLAN.stages
            if s.batch == batch.id
        )
        assert sorted((step["when"], step["who"]) for step in by_lot[f"L {MARKS[batch.id]}"]) == wanted


def test_each_hot_step_points_to_the_caution_about_burns() -> None:
    burns = {caution.text for caution in CAUTIONS if caution.hazard is Hazard.HOT_SUGAR}
    glass = {caution.text for caution in CAUTIONS if caution.hazard is Hazard.GLASS}
    for sheet in SHEETS:
        for step in sheet["steps"]:
            pointed = {sheet["cautions"][number - 1] for number in step["cares"]}
            if step["what"] in ("dissolve", "boil", "pot up") or step["what"].startswith("re-boil"):
                assert pointed & burns
            if step["what"] in (StageKind.LOAD_JARS, StageKind.POT_UP):
                assert pointed & glass
    told = text(print_pdf("batches", PLAN, FARM, Wish(of="260706-1")))
    for said in SHEETS[0]["cautions"]:
        assert said.split(".")[0] in told


def test_an_allergen_is_not_overlooked() -> None:
    almonds = OtherIngredient("ground almonds", 20, allergen=True)
    farm = replace(FARM, recipes=(replace(FARM.recipes[0], others=(almonds,)), *FARM.recipes[1:]))
    told = text(print_pdf("batches", PLAN, farm, Wish(of="260706-1")))
    assert "Allergen in this batch: ground almonds." in told
    assert "ground almonds (ALLERGEN) 200 g" in told


def test_readings_have_a_row_for_each_set_test_and_boxes_for_what_is_counted() -> None:
    sheet = SHEETS[0]
    assert sheet["tests"] == ["set test 1", "set test 2"]
    boxes = {box["what"]: box["unit"] for box in sheet["boxes"]}
    assert boxes["filled: jar 340"] == "of 46"
    assert "seals on Tue 7 Jul: sound" in boxes
    assert boxes["pH when cold, at most 4.3"] == "pH"
    assert {"first jar", "last jar, 85 °C or hotter", "heat off at"} <= set(boxes)


def test_a_sample_and_a_refractometer_have_their_boxes_where_the_kitchen_has_them() -> None:
    recipe = replace(FARM.recipes[0], judged_by=Judge.REFRACTOMETER)
    farm = replace(FARM, kitchen=replace(FARM.kitchen, sample_jars=1), recipes=(recipe, *FARM.recipes[1:]))
    found = batches(PLAN, farm, "260706-1")
    assert found is not None
    boxes = {box["what"]: box["unit"] for box in found["sheets"][0]["boxes"]}
    assert boxes["kept as a sample"] == "of 1"
    assert "refractometer checked with water" in boxes


def test_the_two_days_of_a_jelly_have_sheets_that_name_each_other() -> None:
    plan, farm = jelly_days.plan(), jelly_days.situation().scenario
    found = batches(plan, farm, None)
    assert found is not None
    soft, boiled = (s for s in found["sheets"] if s["recipe"] == jelly_days.JELLY)
    assert soft["part"] == "soften and strain"
    assert soft["figures"] == []
    assert soft["reads"] == ["clock", "°C", "initials"]
    assert "boiled Fri 10 Jul" in soft["juice"]
    assert "softened Thu 9 Jul" in boiled["juice"]
    assert boiled["goes_in"][0].startswith("the juice of 4.0 kg")
    assert boiled["lots"] == []


IMPERIAL = replace(FARM, units=Units.IMPERIAL)


def test_a_farm_of_pounds_weighs_by_either() -> None:
    told = text(print_pdf("batches", PLAN, IMPERIAL, Wish(of="260706-1")))
    batch = next(batch for batch in PLAN.batches if MARKS[batch.id] == "260706-1")
    pounds, ounces = divmod(round(16 * batch.sugar_kg / 0.45359237), 16)
    assert f"sugar {batch.sugar_kg:.1f} kg ({pounds} lb {ounces} oz)" in told
    assert f"{batch.set_temperature_c:.1f} °C ({1.8 * batch.set_temperature_c + 32:.1f} °F)" in told
    assert " lb" not in text(print_pdf("batches", PLAN, FARM, Wish(of="260706-1")))


def test_its_lists_have_room_for_both_and_its_labels_stay_metric() -> None:
    """Net quantity is in metric units (Directive 76/211/EEC, Annex I, from memory)."""
    page = reader(print_pdf("picks", PLAN, IMPERIAL)).pages[0]
    amounts = [piece.text for piece in pieces(page) if "kg" in piece.text and "(" in piece.text]
    assert amounts
    assert all(said.endswith(")") for said in amounts), "an amount is broken over lines"
    assert print_pdf("labels", PLAN, IMPERIAL, Wish(of="260706-1")) == print_pdf(
        "labels", PLAN, FARM, Wish(of="260706-1")
    )
