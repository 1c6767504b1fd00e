"""The commands that make folders and workbooks."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from scheduler.cli import app
from scheduler.errors import InputFaults
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import swap

RUN = CliRunner()


def test_a_folder_goes_through_a_workbook(folder: Path, tmp_path: Path) -> None:
    book, back = tmp_path / "week.xlsx", tmp_path / "new" / "quiet-week"
    assert RUN.invoke(app, ["workbook", str(folder), "--out", str(book)]).exit_code == 0
    assert RUN.invoke(app, ["scenario-from", str(book), "--out", str(back)]).exit_code == 0
    assert read_scenario(back).scenario == read_scenario(folder).scenario
    assert {path.name for path in back.parent.iterdir()} == {"quiet-week"}


def test_nothing_that_is_there_is_written_over(folder: Path, tmp_path: Path) -> None:
    book = tmp_path / "week.xlsx"
    book.write_bytes(b"mine")
    assert RUN.invoke(app, ["workbook", str(folder), "--out", str(book)]).exit_code == 2
    assert RUN.invoke(app, ["scenario-from", str(book), "--out", str(folder)]).exit_code == 2
    assert RUN.invoke(app, ["new", str(folder)], input="\n" * 10).exit_code == 2
    assert book.read_bytes() == b"mine"


def test_with_faults_nothing_is_written(folder: Path, tmp_path: Path) -> None:
    swap("picks.csv", "table,22.0", "table,-1")(folder)
    made = RUN.invoke(app, ["workbook", str(folder), "--out", str(tmp_path / "week.xlsx")])
    assert isinstance(made.exception, InputFaults)
    assert not (tmp_path / "week.xlsx").exists()


@pytest.mark.parametrize("given", [[], ["--farm", "Kilbrack", "--days", "3"]])
def test_ten_questions_make_a_folder(tmp_path: Path, given: list[str]) -> None:
    made = RUN.invoke(app, ["new", str(tmp_path / "first"), *given], input="\n" * (10 - len(given) // 2))
    assert made.exit_code == 0, made.output
    assert "licensed process authority" in made.output
    assert read_scenario(tmp_path / "first").scenario.farm == "Kilbrack"
