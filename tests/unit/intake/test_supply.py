"""Electricity and gas in a scenario folder: fine, just inside and just over for each check.

The farm to spoil has rings of 7 kW gas and 3.5 kW induction, and an oven that says nothing of its kW.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.domain.kitchen import Heat, Supply
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import Case, Change, K, assert_told_once, faults_of, swap


def told(supply: str, oven: str = "") -> Change:
    """Say something of the supply (keys with commas between), and of the oven."""

    def change(folder: Path) -> None:
        swap(K, "[jar_oven]", "[jar_oven]\n" + oven.replace(", ", "\n"))(folder)
        swap(K, "[chiller]", "[supply]\n" + supply.replace(", ", "\n") + "\n\n[chiller]")(folder)

    return change


def all_electric(change: Change) -> Change:
    """The gas rings become electric ones of 2 kW."""

    def changed(folder: Path) -> None:
        for _ in range(2):
            swap(K, 'heat = "gas"\nkw = 7.0', 'heat = "electric"\nkw = 2.0')(folder)
        change(folder)

    return changed


def test_without_the_new_keys_there_is_no_limit(folder: Path) -> None:
    kitchen = read_scenario(folder).scenario.kitchen
    assert kitchen.supply == Supply(None, None, 0.0, None)
    assert (kitchen.oven.kw, kitchen.oven.heat) == (0.0, Heat.ELECTRIC)


def test_supply_and_oven_are_read(folder: Path) -> None:
    told("electric_kw = 7.4, gas_kw = 21, other_electric_kw = 0.8, gas_kg = 22", 'kw = 2.5, heat = "gas"')(
        folder
    )
    kitchen = read_scenario(folder).scenario.kitchen
    assert kitchen.supply == Supply(7.4, 21.0, 0.8, 22.0)
    assert kitchen.oven.kw == 2.5
    assert kitchen.oven.heat is Heat.GAS


@pytest.mark.parametrize(
    "change",
    [
        told("electric_kw = 3.5"),
        told("gas_kw = 7"),
        told("electric_kw = 6.8, other_electric_kw = 0.8", "kw = 2.5"),
        told("electric_kw = 3.5, gas_kw = 9.5", 'kw = 2.5, heat = "gas"'),
        told("other_electric_kw = 3"),
        told("gas_kg = 0"),
        all_electric(told("electric_kw = 3.5, gas_kw = 2.5", 'kw = 2.5, heat = "gas"')),
    ],
)
def test_a_supply_just_inside_is_read(folder: Path, change: Change) -> None:
    change(folder)
    read_scenario(folder)


JUST_OVER: dict[str, Case] = {
    "watts for kW": (told("electric_kw = 7400"), K, "[supply], key electric_kw", "7400 W as 7.4"),
    "watts for kW of gas": (told("gas_kw = 21000"), K, "[supply], key gas_kw", "0.1 to 500 kW"),
    "watts for the oven's kW": (told("", "kw = 2500"), K, "[jar_oven], key kw", "2500 W as 2.5"),
    "an oven of induction": (told("", 'heat = "induction"'), K, "[jar_oven], key heat", "gas, electric"),
    "less than no gas": (told("gas_kg = -1"), K, "[supply], key gas_kg", "0 to 5000 kg"),
    "watts always on": (
        told("electric_kw = 7.4, other_electric_kw = 300"),
        K,
        "[supply], key other_electric_kw",
        "below electric_kw (7.4 kW)",
    ),
    "always on takes all": (
        told("electric_kw = 4, other_electric_kw = 4"),
        K,
        "[supply], key other_electric_kw",
        "below electric_kw (4 kW)",
    ),
    "an oven above the supply": (
        told("electric_kw = 4, other_electric_kw = 1", "kw = 3.1"),
        K,
        "[jar_oven], key kw",
        "at most 3 kW",
    ),
    "a gas oven above the supply": (
        told("gas_kw = 7", 'kw = 7.5, heat = "gas"'),
        K,
        "[jar_oven], key kw",
        "at most 7 kW, what [supply] gas_kw",
    ),
    "bottles without a gas ring": (
        all_electric(told("gas_kg = 11", 'kw = 2, heat = "gas"')),
        K,
        "[supply], key gas_kg",
        "none where no ring burns gas",
    ),
    "a regulator without anything that burns gas": (
        all_electric(told("gas_kw = 11", 'heat = "gas"')),
        K,
        "[supply], key gas_kw",
        "neither ring nor jar oven",
    ),
    "an unknown key": (told("gas_kgs = 11"), K, "[supply], key 'gas_kgs'", "Did you mean 'gas_kg'?"),
}


@pytest.mark.parametrize("case", JUST_OVER.values(), ids=JUST_OVER)
def test_a_supply_just_over_is_told_once(folder: Path, case: Case) -> None:
    assert_told_once(folder, case)


@pytest.mark.parametrize(
    ("change", "rings", "most"),
    [
        (told("electric_kw = 3.4"), (3, 4), "at most 3.4 kW"),
        (told("electric_kw = 6.7, other_electric_kw = 0.8", "kw = 2.5"), (3, 4), "at most 3.4 kW"),
        (told("gas_kw = 9.4", 'kw = 2.5, heat = "gas"'), (1, 2), "at most 6.9 kW"),
    ],
)
def test_each_ring_that_no_day_can_feed_is_told(
    folder: Path, change: Change, rings: tuple[int, ...], most: str
) -> None:
    change(folder)
    faults = faults_of(folder)
    assert [fault.where for fault in faults] == [f"ring {ring}, key kw" for ring in rings]
    assert all(fault.allowed.startswith(most) for fault in faults)


def test_a_ring_that_no_pan_fits_is_passed_over(folder: Path) -> None:
    for place in ("front", "back"):
        ring = f'name = "induction {place}"\nheat = "induction"\nkw = 3.5\nlargest_pan_cm = '
        swap(K, f"{ring}32", f"{ring}20")(folder)
    told("electric_kw = 1")(folder)
    read_scenario(folder)


def test_gas_is_not_told_of_while_a_ring_may_be_missing_for_a_fault(folder: Path) -> None:
    told("gas_kg = 11")(folder)
    for _ in range(2):
        swap(K, 'heat = "gas"\nkw = 7.0', 'heat = "gas"\nkw = 7000')(folder)
    places = {fault.where for fault in faults_of(folder)}
    assert {"ring 1, key kw", "ring 2, key kw"} <= places
    assert "[supply], key gas_kg" not in places
