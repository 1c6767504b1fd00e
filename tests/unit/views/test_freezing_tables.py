"""Hours, electricity and room of freezing, worked by hand for fruit of 10 % solids.

Water 0.90, specific heats and latent heat after Siebel (1892), from memory; from 4 to −18 °C, freezing at −1:

    cooling    (4 + 1) × (0.837 + 3.349 × 0.9) = 5 × 3.8511 = 19.256 kJ/kg
    freezing   335 × 0.9 = 301.5 kJ/kg
    on to −18  17 × (0.837 + 1.256 × 0.9) = 17 × 1.9674 = 33.446 kJ/kg; in all 354.201 kJ/kg

Plank's equation for a slab (Encyclopaedia of Food Sciences and Nutrition), 500 kg/m³, 0.4 W/(m K), air at 8
and 10 W/(m² K): hours = 354 201 × 500 ÷ 17 × (0.5 × thick ÷ air + 0.125 × thick² ÷ 0.4) ÷ 3600

    tray 2 cm  2893.8 × (0.00125 + 0.000125) = 3.979 h; with a fan 2893.8 × (0.001 + 0.000125) = 3.256 h
    box 8 cm   2893.8 × (0.005 + 0.002) = 20.257 h; with a fan 2893.8 × (0.004 + 0.002) = 17.363 h

Electricity: 354.201 ÷ 3600 ÷ 1.5 = 0.06559 kWh/kg with a coefficient of performance of 1.5.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import kilbrack_sample as sample
import pytest

from scheduler.domain.kitchen import Chiller, Freezer, FreezerBox, Thaw
from scheduler.physics import freezing
from scheduler.views import freezing_tables as tables
from scheduler.views import words
from scheduler.views.tables import freezer_table

PLAN = sample.plan()
BASE = sample.situation().scenario
KITCHEN = replace(
    BASE.kitchen, chiller=Chiller(200, 4), freezer=Freezer(120, 320, 25, 3.5), electricity_price_kwh=0.3
)
FRUITS = tuple(replace(fruit, solids=0.1, frozen_kg_per_litre=0.5) for fruit in BASE.fruits)
SCENARIO = replace(BASE, kitchen=KITCHEN, fruits=FRUITS)
STILL, FAN = freezing.STILL_AIR_W_PER_M2_K, freezing.MOVED_AIR_W_PER_M2_K


@pytest.mark.parametrize(
    ("thick_cm", "air", "hours"),
    [(2.0, STILL, 3.979), (2.0, FAN, 3.256), (8.0, STILL, 20.257), (8.0, FAN, 17.363)],
)
def test_hours_worked_by_hand(thick_cm: float, air: float, hours: float) -> None:
    assert tables.hours_to_freeze(FRUITS[0], KITCHEN, thick_cm, air) == pytest.approx(hours, abs=0.002)


def test_boxes_in_use_are_counted_for_each_kind_and_fruit() -> None:
    """Of a day's fruits each fills its own boxes; 2.5 kg a box."""
    day = PLAN.freezer[-1].day
    left = {f.name: sum(r.left for r in PLAN.freezer if (r.day, r.fruit) == (day, f.name)) for f in FRUITS}
    used = {name: math.ceil(kg / 2.5) for name, kg in left.items() if kg > 0}
    assert used
    fruits = tuple(replace(fruit, freezer_box="crate") for fruit in FRUITS)
    kitchen = replace(KITCHEN, freezer_boxes=(FreezerBox("crate", 2.5, 60),))
    rows = tables.box_table(PLAN, replace(SCENARIO, fruits=fruits, kitchen=kitchen)).to_dict("records")
    assert len(rows) == SCENARIO.days
    (row,) = [row for row in rows if row["day"] == words.day_name(day)]
    assert (row["box"], row["in use"], row["of"]) == ("crate", sum(used.values()), 60)
    assert row["by fruit"] == ", ".join(f"{name} {n}" for name, n in used.items())


def test_the_hours_stand_in_a_row_for_each_fruit_that_is_frozen() -> None:
    frozen = tables.fruits_frozen(PLAN, SCENARIO)
    assert [fruit.name for fruit in frozen] == ["strawberry"]
    (row,) = tables.hours_table(frozen, KITCHEN).to_dict("records")
    assert row == {
        "fruit": "S strawberry",
        "tray, still air": "4.0 h",
        "tray, with a fan": "3.3 h",
        "box, still air": "20 h",
        "box, with a fan": "17 h",
    }


def test_the_kitchens_own_layer_box_and_air_are_used() -> None:
    thin = replace(KITCHEN, freezer=replace(KITCHEN.freezer, celsius=-28.0, layer_cm=1.0, box_cm=2.0))
    (row,) = tables.hours_table(FRUITS[:1], thin).to_dict("records")
    # to −28 °C: 19.256 + 301.5 + 27 × 1.9674 = 373.876 kJ/kg; 373 876 × 500 ÷ 27 ÷ 3600 = 1923.2:
    # × (0.000625 + 0.00003125) = 1.262 h; × (0.00125 + 0.000125) = 2.644 h
    assert (row["tray, still air"], row["box, still air"]) == ("1.3 h", "2.6 h")


def test_electricity_and_room_of_a_day_worked_by_hand() -> None:
    days = tables.day_table(PLAN, SCENARIO)
    assert len(days) == 5
    # 9.5 kg of strawberries: 9.5 × 0.06559 = 0.623 kWh; × 0.30 = 0.187; × 3.5 = 33.25 and ÷ 0.5 = 19 litres
    assert days.iloc[0].to_dict() == {
        "day": "Mon 6 Jul",
        "frozen kg": 9.5,
        "kWh": 0.62,
        "cost": "€0.19",
        "litres on trays": pytest.approx(33.2, abs=0.051),
        "litres once boxed": 19.0,
    }
    assert tables.electricity(PLAN, SCENARIO) == pytest.approx(5 * 0.6231, abs=0.001)


def test_trays_are_those_of_the_freezer_that_freezes() -> None:
    """Of 9.5 kg 4.0 in the second: 5.5 × 3.5 + 4.0 × 5 = 39.25 litres."""
    second = replace(KITCHEN.freezer, name="shed", tray_litres_per_kg=5.0)
    farm = replace(SCENARIO, kitchen=replace(KITCHEN, second_freezer=second))
    rows = tuple(replace(row, in_second=4.0 if row.frozen else 0.0) for row in PLAN.freezer)
    days = tables.day_table(replace(PLAN, freezer=rows), farm)
    assert days.iloc[0]["litres on trays"] == pytest.approx(39.2, abs=0.051)


def test_what_to_save_first_is_thawed_on_the_day_it_fails_or_the_one_before() -> None:
    """The sample thaws gooseberries on one day only, Thursday."""
    thursday = BASE.dates()[3]
    assert {row.day for row in PLAN.freezer if row.thawed} == {thursday}
    saved = {}
    for n, day in enumerate(BASE.dates()):
        failing = replace(KITCHEN, freezer=replace(KITCHEN.freezer, fails_on=day))
        saved[n] = tables.save_first(PLAN, replace(SCENARIO, kitchen=failing))
    assert [n for n, rows in saved.items() if rows] == [3, 4]
    assert [row.lot for row in saved[3]] == ["gooseberry bag 2025"]
    assert tables.save_first(PLAN, SCENARIO) == []


def test_the_table_of_lots_says_what_lies_in_which_freezer() -> None:
    assert not [name for name in freezer_table(PLAN, SCENARIO) if name.startswith("in ")]
    second = replace(KITCHEN.freezer, name="shed")
    farm = replace(SCENARIO, kitchen=replace(KITCHEN, second_freezer=second))
    rows = tuple(replace(row, in_second=row.left / 4) for row in PLAN.freezer)
    frame = freezer_table(replace(PLAN, freezer=rows), farm)
    assert list(frame["in freezer kg"] + frame["in shed kg"]) == pytest.approx(
        list(frame["left kg"]), abs=0.11
    )
    assert frame["in shed kg"].iloc[-1] == pytest.approx(9.5 / 4, abs=0.051)


def test_a_plan_that_freezes_nothing_has_no_rows() -> None:
    thawing = replace(PLAN, freezer=tuple(replace(row, frozen=0.0) for row in PLAN.freezer))
    assert tables.fruits_frozen(thawing, SCENARIO) == []
    assert tables.day_table(thawing, SCENARIO).empty
    assert tables.electricity(thawing, SCENARIO) == 0


def test_a_box_in_still_air_freezes_overnight_and_a_tray_in_a_morning() -> None:
    """Common practice, no source: trays are put in boxes the same day, a filled box takes until the next."""
    tray, box = (
        tables.hours_to_freeze(fruit, SCENARIO.kitchen, thick, STILL)
        for fruit, thick in ((FRUITS[0], 2.0), (FRUITS[0], 8.0))
    )
    assert 2 < tray < 6
    assert 12 < box < 24


@pytest.mark.parametrize(("thaw", "days_before"), [(Thaw.OVERNIGHT, 1), (Thaw.PAN, 0)])
def test_fruit_is_taken_out_the_evening_before_or_when_it_is_cooked(thaw: Thaw, days_before: int) -> None:
    scenario = replace(SCENARIO, kitchen=replace(KITCHEN, thaw=thaw))
    thawed = [row for row in PLAN.freezer if row.thawed > 0.05]
    taken = tables.take_out(PLAN, scenario)
    assert [day for day, _, _ in taken] == sorted({row.day - timedelta(days=days_before) for row in thawed})
    for row in thawed:
        (lots,) = [lots for day, lots, _ in taken if day == row.day - timedelta(days=days_before)]
        assert f"{row.lot} {words.mass(row.thawed)}" in lots
