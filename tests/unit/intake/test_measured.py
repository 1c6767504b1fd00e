"""The kitchen's own record: what it changes, what it must not, and records that cannot be true."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.physics.setpoint import set_temperature_c
from tests.unit.intake.spoil import Case, add, assert_told_once, write

READINGS = "date,celsius,solids"
BOILS = "date,recipe,pan,ring,kg,minutes"


def records(*minutes: float) -> bytes:
    rows = [f"2026-08-{10 + i},raspberry jam,wide steel,gas left,3,{m:g}" for i, m in enumerate(minutes)]
    return "\n".join([BOILS, *rows, ""]).encode()


def boils(folder: Path) -> list[int]:
    return [card.boil for card in make_cards(read_scenario(folder)).batches if card.recipe == 1]


def test_readings_shift_the_set_temperature(folder: Path) -> None:
    curve = set_temperature_c(0.65, 60.0)
    lines = [f"2026-08-0{i},{curve + off:.3f},0.65" for i, off in ((1, 0.4), (2, 0.6), (3, 0.8))]
    write("readings.csv", "\n".join([READINGS, *lines, ""]).encode())(folder)
    before, measured = make_cards(read_scenario(folder)), read_scenario(folder).scenario.kitchen.measured
    assert measured.set_offset_k == pytest.approx(0.6, abs=1e-3)
    assert measured.set_error_k == pytest.approx(0.2 / 3**0.5, abs=1e-3)
    raspberry = next(card for card in before.batches if card.recipe == 1)
    assert raspberry.set_c == pytest.approx(curve + 0.6, abs=1e-3)


def test_five_slow_boils_make_all_boils_longer_and_four_do_not(folder: Path) -> None:
    usual = boils(folder)
    write("boils.csv", records(15, 16, 17, 16))(folder)
    assert boils(folder) == usual
    write("boils.csv", records(15, 16, 17, 16, 16))(folder)
    assert sum(boils(folder)) > sum(usual)
    measured = read_scenario(folder).scenario.kitchen.measured
    assert measured.batches == 5
    assert 1 < measured.boil_average < measured.boil_factor


FAULTS: dict[str, Case] = {
    "a reading off the curve": (
        add("readings.csv", f"{READINGS}\n2026-08-01,112,0.65"),
        "readings.csv", "row 2, column celsius", "-5 to 5 K",
    ),
    "a reading in Fahrenheit": (
        add("readings.csv", f"{READINGS}\n2026-08-01,220,0.65"),
        "readings.csv", "row 2, column celsius", "80 to 130",
    ),
    "a reading to come": (
        add("readings.csv", f"{READINGS}\n2026-08-24,104.5,0.65"),
        "readings.csv", "row 2, column date", "before 2026-08-24",
    ),
    "a boil of another recipe": (
        add("boils.csv", f"{BOILS}\n2026-08-01,rasberry jam,wide steel,gas left,3,12"),
        "boils.csv", "row 2, column recipe", "raspberry jam",
    ),
    "a boil in another pan": (
        add("boils.csv", f"{BOILS}\n2026-08-01,raspberry jam,wide stel,gas left,3,12"),
        "boils.csv", "row 2, column pan", "wide steel",
    ),
    "a boil in hours": (
        add("boils.csv", f"{BOILS}\n2026-08-01,raspberry jam,wide steel,gas left,3,400"),
        "boils.csv", "row 2, column minutes", "0.2 to 5",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_record_that_cannot_be_true_is_told_once(folder: Path, name: str) -> None:
    assert_told_once(folder, FAULTS[name])
