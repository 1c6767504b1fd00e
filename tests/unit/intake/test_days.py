"""Days with hours of their own, busy times and cleaning: what is read, and what is wrong with it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler.cards import Cards
from scheduler.domain.days import Closure, joined, open_minutes
from scheduler.domain.scenario import Scenario
from scheduler.intake import read_scenario
from scheduler.intake.check_days import idle_shifts
from scheduler.making import make_cards
from tests.unit.intake.spoil import Case, K, add, assert_told_once, swap

DAYS, BUSY = "date,open,close,why\n", "date,start,end,why\n"
MONDAY = date(2026, 8, 24)

FAULTS: dict[str, Case] = {
    "a day that is not planned": (
        add("days.csv", DAYS + "2026-08-31,,,"), "days.csv", "row 2, column date", "2026-08-24 to 2026-08-30",
    ),
    "a day told twice": (
        add("days.csv", DAYS + "2026-08-24,,,\n2026-08-24,10:00,12:00,"),
        "days.csv", "row 3, column date", "busy.csv",
    ),
    "a day that only opens": (
        add("days.csv", DAYS + "2026-08-24,10:00,,"), "days.csv", "row 2, column close", "neither",
    ),
    "a day that only closes": (
        add("days.csv", DAYS + "2026-08-24,,12:00,"), "days.csv", "row 2, column open", "neither",
    ),
    "a day that closes when it opens": (
        add("days.csv", DAYS + "2026-08-24,10:00,10:00,"), "days.csv", "row 2, column close", "after 10:00",
    ),
    "a day that opens before the kitchen": (
        add("days.csv", DAYS + "2026-08-24,07:25,10:00,"), "days.csv", "row 2, column open", "Widen",
    ),
    "a day that closes after the kitchen": (
        add("days.csv", DAYS + "2026-08-24,10:00,24:00,"), "days.csv", "row 2, column close", "Widen",
    ),
    "hours between two steps": (
        add("days.csv", DAYS + "2026-08-24,10:02,12:00,"), "days.csv", "row 2, column open", "steps of 5",
    ),
    "hours with a unit": (
        add("days.csv", DAYS + "2026-08-24,10 h,12:00,"), "days.csv", "row 2, column open", "HH:MM",
    ),
    "a busy time that is not planned": (
        add("busy.csv", BUSY + "2026-08-23,10:00,12:00,"), "busy.csv", "row 2, column date", "planned day",
    ),
    "a busy time that ends when it starts": (
        add("busy.csv", BUSY + "2026-08-24,10:00,10:00,"), "busy.csv", "row 2, column end", "after start",
    ),
    "a busy time before the kitchen opens": (
        add("busy.csv", BUSY + "2026-08-24,06:00,07:30,"), "busy.csv", "row 2, column start", "touches",
    ),
    "a busy time without an end": (
        add("busy.csv", BUSY + "2026-08-24,10:00,,"), "busy.csv", "row 2, column end", "Fill it in",
    ),
    "a full wash that is shorter": (
        swap(K, "[habits]", "[habits]\nfull_wash_minutes = 10"),
        K, "[habits], key full_wash_minutes", "at least wash_minutes (15)",
    ),
    "a clean down in hours": (
        swap(K, "[habits]", "[habits]\nclean_down_minutes = 0.5"),
        K, "[habits], key clean_down_minutes", "from 0 to 240 minutes in steps of 5",
    ),
    "a clean down of the whole day": (
        swap(K, "[habits]", "[habits]\nclean_down_minutes = 240"),
        K, "[habits], key clean_down_minutes", "less than the",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_once(folder: Path, name: str) -> None:
    if name == "a clean down of the whole day":
        _shorten(folder)
    assert_told_once(folder, FAULTS[name])


def _shorten(folder: Path) -> None:
    """Three hours a day, whatever the kitchen's are, and shifts that touch them still."""
    text = (folder / K).read_text(encoding="utf-8")
    lines = ['close = "11:00"' if line.startswith("close =") else line for line in text.splitlines()]
    (folder / K).write_text("\n".join(lines) + "\n", encoding="utf-8")


def read(folder: Path, **files: str) -> Scenario:
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return read_scenario(folder).scenario


def test_hours_of_a_day_close_what_they_leave_of_the_kitchens(folder: Path) -> None:
    kitchen = read(folder).kitchen
    text = "2026-08-24,09:00,12:00,market\n2026-08-25,,,holiday\n2026-08-26,10:00,11:00,\n"
    closures = read(folder, days=DAYS + text, busy=BUSY + "2026-08-26,10:30,10:45,choir\n").closures
    opens, closes = kitchen.open, kitchen.close
    tuesday, wednesday = date(2026, 8, 25), date(2026, 8, 26)
    assert closures == (
        Closure(MONDAY, opens, 540, "market"),
        Closure(MONDAY, 720, closes, "market"),
        Closure(tuesday, opens, closes, "holiday"),
        Closure(wednesday, opens, 600, ""),
        Closure(wednesday, 660, closes, ""),
        Closure(wednesday, 630, 645, "choir"),
    )


def test_the_kitchens_own_hours_close_nothing(folder: Path) -> None:
    kitchen = read(folder).kitchen
    clocks = [f"{minutes // 60:02d}:{minutes % 60:02d}" for minutes in (kitchen.open, kitchen.close)]
    assert read(folder, days=f"{DAYS}2026-08-24,{','.join(clocks)},as ever\n").closures == ()


def test_a_day_without_times_needs_no_columns_for_them(folder: Path) -> None:
    scenario = read(folder, days="date\n2026-08-24\n")
    assert scenario.closed(MONDAY) == ((scenario.kitchen.open, scenario.kitchen.close),)


def test_nobody_is_in_on_a_closed_day_and_check_says_whose_shift_is_idle(folder: Path) -> None:
    offered = {s.person for s in read(folder).shifts if s.day == MONDAY}
    scenario = read(folder, days=DAYS + "2026-08-24,,,market\n")
    assert offered
    told = list(idle_shifts(scenario))
    assert len(told) == sum(s.day == MONDAY for s in scenario.shifts)
    assert all(line.startswith("2026-08-24") and "closed all through the shift" in line for line in told)
    assert {staff.day for staff in cards_of(folder).staff} >= {1}
    assert 0 not in {staff.day for staff in cards_of(folder).staff}


def cards_of(folder: Path) -> Cards:
    return make_cards(read_scenario(folder))


def test_times_that_overlap_or_touch_are_one() -> None:
    assert joined([(600, 660), (480, 500), (500, 510), (650, 700), (610, 620)]) == ((480, 510), (600, 700))
    # 8:00 to 12:00 less 8:00 to 8:30 and 10:00 to 11:40
    assert open_minutes(((480, 510), (600, 700)), 480, 720) == 240 - 30 - 100
    assert open_minutes(((480, 510),), 480, 510) == 0
    assert open_minutes((), 510, 480) == 0
