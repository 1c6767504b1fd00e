"""Shifts put in and taken out: what is left of them, and the file that holds them."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest

from scheduler.drafts import shifts
from scheduler.drafts.draft import EARLIER, Draft
from scheduler.drafts.shifts import Offer
from scheduler.errors import InputFaults
from scheduler.intake import read_scenario

MORNING = Offer(480, 750, 30)
DAY = date(2026, 8, 25)
NOW = datetime(2026, 8, 20, 18, 30)


@pytest.mark.parametrize(
    ("gone", "left"),
    [
        ((0, 1440), []),
        ((480, 750), []),
        ((480, 600), [Offer(600, 750, 30)]),
        ((600, 750), [Offer(480, 600)]),
        ((570, 660), [Offer(480, 570), Offer(660, 750, 30)]),
        ((525, 700), []),
        ((540, 690), [Offer(480, 540), Offer(690, 750, 30)]),
        ((750, 800), [Offer(480, 750)]),
        ((780, 900), [MORNING]),
        ((300, 480), [MORNING]),
    ],
    ids=[
        "all day", "just the shift", "its beginning", "its end", "its middle", "nothing of an hour is left",
        "just an hour is left", "its overtime", "after it", "before it",
    ],
)  # fmt: skip
def test_what_is_left_of_a_shift(gone: tuple[int, int], left: list[Offer]) -> None:
    assert shifts.without([MORNING], *gone) == left


def test_parts_that_are_alike_are_offered_once() -> None:
    both = [Offer(480, 750), Offer(480, 930)]
    assert shifts.without(both, 600, 1440) == [Offer(480, 600)]


def test_a_shift_is_added_once() -> None:
    once = shifts.with_offer([MORNING], 840, 1080)
    assert once == [MORNING, Offer(840, 1080)]
    assert shifts.with_offer(once, 840, 1080) == once


@pytest.mark.parametrize(
    ("after", "said"),
    [
        ([], "takes out 08:00 to 12:30"),
        ([MORNING], "changes no shift"),
        ([MORNING, Offer(840, 1080)], "puts in 14:00 to 18:00"),
        ([Offer(480, 600)], "takes out 08:00 to 12:30; puts in 08:00 to 10:00"),
    ],
)
def test_what_becomes_of_a_day_is_told(after: list[Offer], said: str) -> None:
    assert shifts.told([MORNING], after) == said


def test_a_day_is_taken_out_and_the_file_before_is_kept(folder: Path) -> None:
    before = (folder / "shifts.csv").read_text(encoding="utf-8")
    draft = Draft(folder)
    # The quiet week offers Ciara two shifts to choose from.
    assert shifts.offers(draft, "Ciara", DAY) == [Offer(480, 750), Offer(480, 930)]
    shifts.put(draft, "Ciara", DAY, [])
    kept = draft.save(NOW)
    after = (folder / "shifts.csv").read_text(encoding="utf-8")
    gone = [line for line in before.splitlines() if line not in after.splitlines()]
    assert gone == ["2026-08-25,Ciara,08:00,12:30,0", "2026-08-25,Ciara,08:00,15:30,0"]
    assert len(after.splitlines()) == len(before.splitlines()) - 2
    assert kept is not None
    assert kept.parent.name == EARLIER
    assert (kept / "shifts.csv").read_text(encoding="utf-8") == before
    assert not [
        each for each in read_scenario(folder).scenario.shifts if (each.person, each.day) == ("Ciara", DAY)
    ]


def test_a_shift_is_put_in_and_others_stay_as_they_were_written(folder: Path) -> None:
    before = (folder / "shifts.csv").read_text(encoding="utf-8")
    draft = Draft(folder)
    offered = shifts.offers(draft, "Ciara", DAY)
    shifts.put(draft, "Ciara", DAY, shifts.with_offer(offered, 840, 1080))
    draft.save(NOW)
    after = (folder / "shifts.csv").read_text(encoding="utf-8")
    assert after == before + "2026-08-25,Ciara,14:00,18:00,0\n"


def test_accepting_twice_changes_nothing_more(folder: Path) -> None:
    for _ in range(2):
        draft = Draft(folder)
        shifts.put(draft, "Ciara", DAY, shifts.without(shifts.offers(draft, "Ciara", DAY), 0, 1440))
        kept = draft.save(NOW)
    assert kept is None


def test_a_shift_on_no_planned_day_is_a_fault_and_nothing_is_written(folder: Path) -> None:
    before = (folder / "shifts.csv").read_bytes()
    draft = Draft(folder)
    shifts.put(draft, "Ciara", date(2026, 9, 30), [Offer(480, 750)])
    with pytest.raises(InputFaults, match=r"shifts\.csv"):
        draft.save(NOW)
    assert (folder / "shifts.csv").read_bytes() == before
    with pytest.raises(InputFaults, match=r"shifts\.csv"):
        shifts.offers(draft, "Ciara", DAY)
