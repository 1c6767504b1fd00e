"""Bad input as a whole: all faults of all files at once, huge files, and nothing told twice."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from scheduler.intake import read_scenario
from tests.unit.intake.spoil import FARM, K, R, add, faults_of, swap


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the quiet week that a test may spoil."""
    return Path(shutil.copytree(FARM / "quiet-week", tmp_path / "quiet-week"))


def test_a_good_folder_has_no_faults(folder: Path) -> None:
    assert read_scenario(folder).scenario.name == "quiet-week"


def test_several_faults_in_several_files_are_all_told(folder: Path) -> None:
    swap("picks.csv", "table,22.0", "table,-22")(folder)
    swap("people.csv", "Aoife,prepare cook fill", "Aoife,")(folder)
    swap(R, "ph = 3.4", "ph = 4.4")(folder)
    add("lots.csv", "raspberry July,raspberry,kitchen,3,freezer,2026-07-20,2027-07-20")(folder)
    swap(K, "kw = 7.0", "kw = 7000")(folder)
    swap("punnets.csv", ",kg", ",kilos")(folder)
    told = {(fault.file, fault.where) for fault in faults_of(folder)}
    assert told == {
        ("picks.csv", "row 2, column kg"),
        ("people.csv", "row 2, column skills"),
        (R, "recipe 1, key ph"),
        ("lots.csv", "row 4, column lot"),
        (K, "ring 1, key kw"),
        ("punnets.csv", "column 'kilos'"),
        ("punnets.csv", "column kg"),
    }


def test_all_missing_files_are_named_at_once(tmp_path: Path) -> None:
    files = [fault.file for fault in faults_of(tmp_path)]
    assert files == sorted(path.name for path in (FARM / "quiet-week").iterdir())


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    (fault,) = faults_of(tmp_path / "nowhere")
    assert "no such folder" in str(fault)


def test_a_file_given_for_a_folder(folder: Path) -> None:
    (fault,) = faults_of(folder / K)
    assert "no such folder" in str(fault)


def test_a_folder_named_like_a_formula(folder: Path) -> None:
    (fault,) = faults_of(folder.rename(folder.with_name("=1+1")))
    assert "Rename the folder" in str(fault)


def test_a_fault_in_a_row_is_not_told_again_where_the_row_is_named(folder: Path) -> None:
    swap("fruits.csv", "0.08,0.08", "8,0.08")(folder)
    swap("people.csv", "Ciara,prepare fill", "Ciara,sing")(folder)
    swap(R, "ph = 3.2", "ph = 99")(folder)
    assert {fault.file for fault in faults_of(folder)} == {"fruits.csv", "people.csv", R}
    assert len(faults_of(folder)) == 3


def test_a_50_mb_file_is_refused_without_being_read(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with (folder / "picks.csv").open("wb") as stream:
        stream.truncate(50_000_000)
    opened: list[str] = []
    real = Path.open

    def noted(self: Path, *args: object, **kwargs: object) -> object:
        opened.append(self.name)
        return real(self, *args, **kwargs)  # type: ignore[arg-type]

    monkeypatch.setattr(Path, "open", noted)
    (fault,) = faults_of(folder)
    assert fault.found == "a file of 50.0 MB"
    assert "lots.csv" in opened
    assert "picks.csv" not in opened


def test_a_file_of_nothing_but_faults_stops_after_200(folder: Path) -> None:
    rows = "".join(f"2026-08-24,strawberry,table,-{number}\n" for number in range(1, 500))
    (folder / "picks.csv").write_text("date,fruit,grade,kg\n" + rows, encoding="utf-8")
    faults = faults_of(folder)
    assert len(faults) == 201
    assert faults[0].where == "row 2, column kg"
    assert faults[199].where == "row 201, column kg"
    assert "more than 200 faults" in faults[200].found


def test_more_rows_than_a_season_has_are_refused(folder: Path) -> None:
    rows = "2026-08-25,sugar,0.1\n" * 20_001
    (folder / "deliveries.csv").write_text("date,good,quantity\n" + rows, encoding="utf-8")
    (fault,) = faults_of(folder)
    assert (fault.file, fault.where, fault.allowed) == ("deliveries.csv", "row 20002", "at most 20000 rows")


def test_faults_are_sorted_and_never_doubled(folder: Path) -> None:
    for line in ("2026-08-24,plum,table,1", "2026-08-24,plum,kitchen,1"):
        add("picks.csv", line)(folder)
    swap("picks.csv", "2026-08-24,strawberry,table,22.0", "2026-08-24,plum,table,-1")(folder)
    faults = faults_of(folder)
    assert [fault.where for fault in faults] == [
        "row 2, column kg",
        "row 21, column fruit",
        "row 22, column fruit",
    ]
    assert len(set(faults)) == len(faults)
