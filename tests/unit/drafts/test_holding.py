"""Holding a batch writes a row of held.csv, letting it go takes it away; what contradicts is not saved."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest

from scheduler.domain.held import HeldBatch
from scheduler.drafts.holding import HELD, settle
from scheduler.errors import FilesChanged, InputFaults
from scheduler.intake import read_scenario
from tests.unit.drafts.test_draft import files

NOW = datetime(2026, 8, 20, 18, 30)
TUESDAY = date(2026, 8, 25)
JAM = HeldBatch(TUESDAY, "strawberry jam", "deep steel", "gas left", 9 * 60 + 5)
LOOSE = HeldBatch(TUESDAY, "raspberry jam")
NO_JAM = HeldBatch(TUESDAY, "strawberry jam", hold=False)


def held(folder: Path) -> tuple[HeldBatch, ...]:
    return read_scenario(folder).scenario.held


def test_a_batch_held_is_a_row_of_the_file(folder: Path) -> None:
    assert settle(folder, NOW, add=[JAM]) is None  # there was no such file to keep
    assert (folder / HELD).read_text(encoding="utf-8").splitlines() == [
        "date,recipe,pan,ring,start,hold",
        "2026-08-25,strawberry jam,deep steel,gas left,09:05,yes",
    ]
    assert held(folder) == (JAM,)


def test_a_second_row_keeps_the_first_and_the_file_as_it_was(folder: Path) -> None:
    settle(folder, NOW, add=[JAM])
    before = (folder / HELD).read_bytes()
    kept = settle(folder, NOW.replace(hour=19), add=[LOOSE])
    assert held(folder) == (JAM, LOOSE)
    assert kept is not None
    assert (kept / HELD).read_bytes() == before


def test_the_size_is_one_that_the_pan_makes_or_nothing_is_saved(folder: Path) -> None:
    before = files(folder)
    with pytest.raises(InputFaults) as caught:
        settle(folder, NOW, add=[HeldBatch(TUESDAY, "strawberry jam", "deep steel", kg=1.3)])
    assert [fault.where for fault in caught.value.faults] == ["row 2, column kg"]
    assert files(folder) == before


def test_rows_that_contradict_each_other_are_told_and_not_saved(folder: Path) -> None:
    settle(folder, NOW, add=[JAM])
    before = files(folder)
    with pytest.raises(InputFaults) as caught:
        settle(folder, NOW, add=[NO_JAM])
    assert [(fault.file, fault.where) for fault in caught.value.faults] == [(HELD, "row 2")]
    assert files(folder) == before


def test_a_row_takes_the_place_of_another_in_one_act(folder: Path) -> None:
    settle(folder, NOW, add=[JAM, LOOSE])
    settle(folder, NOW.replace(hour=19), add=[NO_JAM], let_go=[JAM])
    assert held(folder) == (LOOSE, NO_JAM)


def test_of_equal_rows_one_is_let_go(folder: Path) -> None:
    settle(folder, NOW, add=[LOOSE, LOOSE, JAM])
    settle(folder, NOW.replace(hour=19), let_go=[LOOSE])
    assert held(folder) == (LOOSE, JAM)
    settle(folder, NOW.replace(hour=20), let_go=[JAM, LOOSE])
    assert held(folder) == ()


def test_with_all_let_go_the_scenario_is_what_it_was(folder: Path) -> None:
    before = read_scenario(folder).input_hash
    settle(folder, NOW, add=[JAM])
    assert read_scenario(folder).input_hash != before
    kept = settle(folder, NOW, let_go=[JAM])
    assert read_scenario(folder).input_hash == before
    assert not (folder / HELD).exists()
    assert kept is not None
    assert (kept / HELD).exists()


def test_what_stands_there_no_more_is_not_let_go(folder: Path) -> None:
    settle(folder, NOW, add=[LOOSE])
    before = files(folder)
    for gone in ([JAM], [LOOSE, LOOSE]):
        with pytest.raises(FilesChanged):
            settle(folder, NOW, let_go=gone)
    assert files(folder) == before


def test_faults_elsewhere_are_told_and_nothing_is_saved(folder: Path) -> None:
    (folder / "picks.csv").write_text("date,fruit,grade,kg\n2026-08-24,moonberry,table,3\n", encoding="utf-8")
    before = files(folder)
    with pytest.raises(InputFaults):
        settle(folder, NOW, add=[JAM])
    assert files(folder) == before
