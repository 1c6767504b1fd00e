"""Labels and taking out in a scenario folder: read, and their faults told once; just inside and just over."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.domain.kitchen import Labels
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import Case, Change, K, assert_told_once, swap


def labels(*keys: str) -> Change:
    return swap(K, "[potting]\n", "[labels]\n" + "".join(f"{key}\n" for key in keys) + "\n[potting]\n")


def habit(*keys: str) -> Change:
    return swap(K, "[habits]\n", "[habits]\n" + "".join(f"{key}\n" for key in keys))


def test_without_them_jars_have_no_labels_and_fruit_takes_nobodys_time(folder: Path) -> None:
    kitchen = read_scenario(folder).scenario.kitchen
    assert kitchen.labels is None
    assert kitchen.take_out_minutes == 0


def test_labels_are_read_with_a_week_to_do_it(folder: Path) -> None:
    labels("jars_per_hour = 72.5")(folder)
    assert read_scenario(folder).scenario.kitchen.labels == Labels(72.5, 7)


def test_labels_are_read_with_their_own_days(folder: Path) -> None:
    labels("jars_per_hour = 5", "within_days = 1")(folder)
    assert read_scenario(folder).scenario.kitchen.labels == Labels(5.0, 1)


@pytest.mark.parametrize(
    "keys", [("take_out_minutes = 60",), ("take_out_minutes = 0", 'thaw = "in the pan"')]
)
def test_minutes_of_taking_out_are_read(folder: Path, keys: tuple[str, ...]) -> None:
    habit(*keys)(folder)
    assert read_scenario(folder).scenario.kitchen.take_out_minutes == int(keys[0].split()[-1])


FAULTS: dict[str, Case] = {
    "no pace": (labels("within_days = 3"), K, "[labels], key jars_per_hour", "nothing"),
    "a pace too slow": (labels("jars_per_hour = 4.9"), K, "[labels], key jars_per_hour", "from 5 to 1000"),
    "on the day itself": (
        labels("jars_per_hour = 60", "within_days = 0"),
        K,
        "[labels], key within_days",
        "from 1 to 365",
    ),
    "a part of a day": (
        labels("jars_per_hour = 60", "within_days = 1.5"),
        K,
        "[labels], key within_days",
        "whole",
    ),
    "an unknown key": (
        labels("jars_per_hour = 60", "within_day = 3"),
        K,
        "[labels], key 'within_day'",
        "within_days",
    ),
    "taking out for too long": (
        habit("take_out_minutes = 61"),
        K,
        "[habits], key take_out_minutes",
        "from 0 to 60",
    ),
    "taking out before it thaws in the pan": (
        habit("take_out_minutes = 10", 'thaw = "in the pan"'),
        K,
        "[habits], key take_out_minutes",
        "0 where fruit thaws in the pan",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_labels_or_of_taking_out_is_told_once(folder: Path, name: str) -> None:
    assert_told_once(folder, FAULTS[name])
