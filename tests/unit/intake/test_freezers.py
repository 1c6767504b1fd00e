"""Freezers in a scenario folder: read, and every fault of theirs told once; just inside and just over."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from scheduler.cli import check
from scheduler.domain.kitchen import Freezer, FreezerBox
from scheduler.domain.scenario import Scenario
from scheduler.intake import read_scenario
from scheduler.intake.check_freezers import still_to_leave
from tests.unit.intake.spoil import Case, Change, K, add, assert_told_once, columns, faults_of, swap

TUESDAY = date(2026, 8, 25)
FREEZER = "[freezer]\nkg = 280\nlitres = 600\nfreeze_kg_per_day = 25\ntray_litres_per_kg = 4\n"
SECOND = "[second_freezer]\nkg = 40\nlitres = 100\n"


def freezer(*keys: str, second: str = "") -> Change:
    """More keys in [freezer], and a second freezer."""
    return swap(K, FREEZER, FREEZER + "".join(f"{key}\n" for key in keys) + "\n" + second)


def read(folder: Path, *keys: str, second: str = "") -> Scenario:
    freezer(*keys, second=second)(folder)
    return read_scenario(folder).scenario


def test_without_the_new_keys_there_is_one_freezer_in_use_every_day(folder: Path) -> None:
    kitchen = read_scenario(folder).scenario.kitchen
    assert kitchen.freezers == (Freezer(280, 600, 25, 4),)
    assert (kitchen.room_free_kg, kitchen.room_free_from) == (0.0, None)


def test_a_second_freezer_is_read_with_its_own_usual_figures(folder: Path) -> None:
    second = SECOND + 'name = "shed"\ndefrost_on = 2026-08-26\n'
    kitchen = read(folder, "fails_on = 2026-08-25", second=second).kitchen
    # 2 lb a cubic foot in 24 h (USDA): 0.9072 ÷ 28.317 × 100 = 3.2 kg
    assert kitchen.second_freezer == Freezer(40, 100, 3.2, 4.0, name="shed", defrost_on=date(2026, 8, 26))
    assert kitchen.freezer.fails_on == TUESDAY


def test_room_kept_free_up_to_all_there_is(folder: Path) -> None:
    kitchen = read(folder, "room_free_kg = 320", "room_free_from = 2026-08-30", second=SECOND).kitchen
    assert (kitchen.room_free_kg, kitchen.room_free_from) == (320.0, date(2026, 8, 30))


FAULTS: dict[str, Case] = {
    "more room kept free than there is": (
        freezer("room_free_kg = 320.1", "room_free_from = 2026-08-30", second=SECOND),
        K,
        "[freezer], key room_free_kg",
        "at most 320 kg",
    ),
    "room kept free from no day on": (
        freezer("room_free_kg = 20"),
        K,
        "[freezer], key room_free_from",
        "a planned day",
    ),
    "no room kept free from a day on": (
        freezer("room_free_from = 2026-08-30"),
        K,
        "[freezer], key room_free_kg",
        "above 0",
    ),
    "room kept free from a day outside": (
        freezer("room_free_kg = 20", "room_free_from = 2026-08-31"),
        K,
        "[freezer], key room_free_from",
        "2026-08-24 to 2026-08-30",
    ),
    "room kept free below nothing": (
        freezer("room_free_kg = -1", "room_free_from = 2026-08-30"),
        K,
        "[freezer], key room_free_kg",
        "from 0 to",
    ),
    "a date that is none": (
        freezer('defrost_on = "in spring"'),
        K,
        "[freezer], key defrost_on",
        "YYYY-MM-DD",
    ),
    "a date that the calendar has not": (
        freezer('fails_on = "2026-02-30"'),
        K,
        "[freezer], key fails_on",
        "calendar",
    ),
    "defrosted before the plan": (
        freezer("defrost_on = 2026-08-23"),
        K,
        "[freezer], key defrost_on",
        "planned day",
    ),
    "the second fails after the plan": (
        freezer(second=SECOND + "fails_on = 2026-08-31\n"),
        K,
        "[second_freezer], key fails_on",
        "planned day",
    ),
    "two freezers of one name": (
        freezer(second=SECOND + 'name = "freezer"\n'),
        K,
        "[second_freezer], key name",
        "each name once",
    ),
    "a second freezer of no size": (
        freezer("room_free_kg = 290", "room_free_from = 2026-08-30", second="[second_freezer]\nkg = 40\n"),
        K,
        "[second_freezer], key litres",
        "nothing",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_a_freezer_is_told_once(folder: Path, name: str) -> None:
    assert_told_once(folder, FAULTS[name])


def in_boxes(count: int, name: str = "crate", line: int = 3) -> Change:
    """``count`` crates of 2.5 kg, and the second fruit packed in the box ``name``."""

    def change(folder: Path) -> None:
        add(K, f'[[freezer_box]]\nname = "crate"\nkg = 2.5\ncount = {count}')(folder)
        columns("fruits.csv", line, freezer_box=name)(folder)

    return change


def full_at_the_start(folder: Path) -> int:
    """Crates of 2.5 kg that the second fruit fills."""
    scenario = read_scenario(folder).scenario
    kg = sum(lot.kg for lot in scenario.lots if lot.use_by and lot.fruit == scenario.fruits[1].name)
    assert kg > 0
    return math.ceil(kg / 2.5)


def test_boxes_are_read_and_just_hold_what_lies_in_the_freezer(folder: Path) -> None:
    full = full_at_the_start(folder)
    in_boxes(full)(folder)
    scenario = read_scenario(folder).scenario
    assert scenario.kitchen.freezer_boxes == (FreezerBox("crate", 2.5, full),)
    assert [fruit.freezer_box for fruit in scenario.fruits[:2]] == ["", "crate"]


def test_a_box_too_few_for_what_lies_in_the_freezer(folder: Path) -> None:
    full = full_at_the_start(folder)
    case = (in_boxes(full - 1), K, "freezer_box 1, key count", f"at least {full}")
    assert_told_once(folder, case)


def test_fruit_is_packed_in_a_box_that_there_is(folder: Path) -> None:
    columns("fruits.csv", 3, freezer_box="crate")(folder)
    (fault,) = faults_of(folder)
    assert (fault.file, "kitchen.toml has no boxes" in str(fault)) == ("fruits.csv", True)


def test_a_misspelt_box_is_told_and_the_box_that_nothing_is_packed_in(folder: Path) -> None:
    in_boxes(100, "crata")(folder)
    unknown, unused = faults_of(folder)
    assert "Did you mean 'crate'?" in str(unknown)
    assert "column freezer_box" in unused.remedy


def test_a_box_too_few_is_told_beside_another_fault(folder: Path) -> None:
    in_boxes(full_at_the_start(folder) - 1)(folder)
    swap(K, "kg = 280", "kg = -280")(folder)
    assert [fault.where for fault in faults_of(folder)] == ["[freezer], key kg", "freezer_box 1, key count"]


def test_two_boxes_of_one_name(folder: Path) -> None:
    in_boxes(100)(folder)
    add(K, '[[freezer_box]]\nname = "crate"\nkg = 1\ncount = 1')(folder)
    assert "each name once" in str(faults_of(folder)[0])


def test_trays_of_the_second_are_no_closer_than_boxes(folder: Path) -> None:
    freezer(second=SECOND + "tray_litres_per_kg = 1.9\n")(folder)
    told = faults_of(folder)
    assert {fault.where.partition(", ")[2] for fault in told} == {"column frozen_kg_per_litre"}
    assert "1.9 litres on trays" in str(told[0])


def test_a_freezer_that_is_defrosted_on_the_first_day_holds_nothing(folder: Path) -> None:
    freezer("defrost_on = 2026-08-24")(folder)
    kg, litres = (fault.allowed for fault in faults_of(folder))
    assert (kg, litres) == ("at most 0 kg", "at most 0 litres")


def test_fruit_on_hand_fits_both_freezers_together(folder: Path) -> None:
    kg = sum(lot.kg for lot in read_scenario(folder).scenario.lots if lot.use_by)
    swap(K, "kg = 280", f"kg = {kg - 1:g}")(folder)
    assert "in the freezer" in str(faults_of(folder)[0])
    freezer_and_second = f"kg = {kg - 1:g}\nlitres = 600"
    swap(K, f"[freezer]\n{freezer_and_second}", f"{SECOND}\n[freezer]\n{freezer_and_second}")(folder)
    assert read_scenario(folder).scenario.kitchen.second_freezer is not None


def test_what_must_be_cooked_first_is_warned_of(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lots = [lot for lot in read_scenario(folder).scenario.lots if lot.use_by and lot.use_by > TUESDAY]
    kg = sum(lot.kg for lot in lots)
    free = 280 - kg
    inside = read(folder, f"room_free_kg = {free:.1f}", "room_free_from = 2026-08-25")
    assert list(still_to_leave(inside)) == []
    swap(K, f"room_free_kg = {free:.1f}", f"room_free_kg = {free + 0.1:.1f}")(folder)
    (warning,) = still_to_leave(read_scenario(folder).scenario)
    assert f"{kg:.1f} kg in it keep until 2026-08-25" in warning
    assert f"{kg - 0.1:.1f} kg may stay" in warning
    check(folder)
    assert "must be cooked before, or no plan is possible" in " ".join(capsys.readouterr().out.split())


def test_a_defrost_day_is_warned_of_unless_the_other_freezer_holds_all(folder: Path) -> None:
    alone = read(folder, "defrost_on = 2026-08-28")
    assert "freezer is defrosted" in next(still_to_leave(alone))
    swap(K, "\n[potting]", "\n[second_freezer]\nkg = 280\nlitres = 600\n\n[potting]")(folder)
    assert list(still_to_leave(read_scenario(folder).scenario)) == []
