"""A scenario as a workbook and back, and workbooks that cannot be read."""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from scheduler.drafts.draft import Draft
from scheduler.drafts.importing import take_workbook, texts_from
from scheduler.drafts.workbook import SHEET_NAMES, to_workbook
from scheduler.errors import InputFaults
from scheduler.intake import read_scenario, situation_of
from tests.unit.intake.spoil import SCENARIOS, add, swap

SHIPPED = ("glut-week", "quiet-week", "winter-draw-down")


def changed(data: bytes, change: Callable[[Any], object]) -> bytes:
    """A workbook after somebody changed it in a spreadsheet."""
    book = openpyxl.load_workbook(io.BytesIO(data))
    change(book)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.fixture
def exported(folder: Path) -> bytes:
    return to_workbook(Draft(folder))


@pytest.mark.parametrize("name", SHIPPED)
def test_a_scenario_comes_back_equal(name: str) -> None:
    folder = SCENARIOS / name
    made = texts_from(to_workbook(Draft(folder)), {})
    assert situation_of(made, name).scenario == read_scenario(folder).scenario


@pytest.mark.parametrize("name", SHIPPED)
def test_a_workbook_that_nobody_changed_changes_nothing(name: str) -> None:
    draft = Draft(SCENARIOS / name)
    take_workbook(draft, to_workbook(draft))
    assert draft.changed == ()


def test_all_that_the_shipped_scenarios_leave_out_comes_back_too(folder: Path) -> None:
    for change in (
        swap(
            "kitchen.toml", "[chiller]", '[second_freezer]\nname = "shed"\nkg = 40\nlitres = 90\n\n[chiller]'
        ),
        add("kitchen.toml", "[[work.break]]\nafter_minutes = 270\nminutes = 30"),
        add("recipes.toml", '[[recipe.other]]\nname = "thyme"\ng_per_kg = 2\nallergen = true'),
        add("recipes.toml", '[[recipe.size]]\njar = "jar 340 g"\nlid = "lid 63 mm"\njar_kg = 0.3'),
        swap("people.csv", "hours_week", "hours_week,born"),
    ):
        change(folder)
    lines = (folder / "people.csv").read_text(encoding="utf-8").splitlines()
    people = [lines[0], *(f"{line},1980-02-29" for line in lines[1:])]
    (folder / "people.csv").write_text("\n".join(people), encoding="utf-8")
    (folder / "days.csv").write_text("date,open,close,why\n2026-08-29,,,market\n", encoding="utf-8")
    draft = Draft(folder)
    assert [fault for fault in draft.faults if "jar 340 g" not in str(fault)] == []
    (folder / "recipes.toml").write_text(
        draft.texts["recipes.toml"].rpartition("[[recipe.size]]")[0], encoding="utf-8"
    )
    made = texts_from(to_workbook(Draft(folder)), {})
    assert situation_of(made, "quiet-week").scenario == read_scenario(folder).scenario


def test_numbers_days_and_times_are_those_of_a_spreadsheet(exported: bytes) -> None:
    book = openpyxl.load_workbook(io.BytesIO(exported))
    assert tuple(book.sheetnames) == SHEET_NAMES
    names, first = [[cell.value for cell in row] for row in book["shifts"].iter_rows(max_row=2)]
    shift = dict(zip(names, first, strict=True))
    assert shift["date"] == dt.datetime(2026, 8, 24)
    assert shift["start"] == dt.time(8)
    assert isinstance(book["picks"]["D2"].value, int | float)
    assert "Allowed: a number from 0 to 20000 kg" in book["picks"]["D1"].comment.text


def test_days_and_times_as_text_and_cells_left_blank_are_read(exported: bytes, folder: Path) -> None:
    def change(book: Any) -> None:
        book["shifts"]["A2"], book["shifts"]["C2"] = "2026-08-24", "08:00"
        book["shifts"]["D2"] = dt.timedelta(hours=12, minutes=30)
        book["picks"].insert_rows(3)
        book["picks"]["Z90"] = "  "
        book["kitchen"]["C1"].comment = None

    draft = Draft(folder)
    take_workbook(draft, changed(exported, change))
    assert draft.changed == ()


def test_text_never_runs_as_a_formula(folder: Path) -> None:
    swap("kitchen.toml", "tray_litres_per_kg = 4", 'tray_litres_per_kg = 4\ncelsius = "-4 °F"')(folder)
    book = openpyxl.load_workbook(io.BytesIO(to_workbook(Draft(folder))))
    (cell,) = [row[2] for row in book["kitchen"].iter_rows() if row[2].value == "-4 °F"]
    assert cell.data_type == "s"
    assert cell.quotePrefix


def test_a_changed_workbook_is_one_step_and_keeps_comments(exported: bytes, folder: Path) -> None:
    def change(book: Any) -> None:
        book["ring"]["C2"] = 7.5
        book["picks"]["D2"] = "half"
        row = next(row for row in book["kitchen"].iter_rows() if row[1].value == "altitude_m")
        row[2].value = 90

    draft = Draft(folder)
    before = draft.texts["kitchen.toml"].splitlines()
    take_workbook(draft, changed(exported, change))
    after = draft.texts["kitchen.toml"].splitlines()
    assert [new for old, new in zip(before, after, strict=True) if old != new] == [
        "altitude_m = 90",
        "kw = 7.5",
    ]
    assert [fault.where for fault in draft.faults] == ["row 2, column kg"]
    draft.undo()
    assert draft.changed == ()


def test_rows_that_come_and_go_are_taken_over(exported: bytes, folder: Path) -> None:
    def change(book: Any) -> None:
        book["pan"].delete_rows(2)
        book["pan"].append(["new pan", 12, 30])
        book["recipe.fruit"].append(["raspberry jam", "blackberry", 0, 0.2])

    draft = Draft(folder)
    take_workbook(draft, changed(exported, change))
    pans = [
        grid
        for section in draft.sections("kitchen.toml")
        if section.title == "pans" and (grid := draft.grid(section))
    ]
    assert [row[0] for row in pans[0].rows][-1] == "new pan"
    assert "low = 0\nhigh = 0.2" in draft.texts["recipes.toml"]


def with_file(data: bytes, name: str, content: bytes) -> bytes:
    out = io.BytesIO(data)
    with zipfile.ZipFile(out, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(name, content)
    return out.getvalue()


def packed(name: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr(name, b"<x/>")
    return out.getvalue()


def set_cell(sheet: str, cell: str, value: object) -> Callable[[Any], None]:
    return lambda book: book[sheet].__setitem__(cell, value)


BAD: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "no zip": (lambda data: b"date,fruit\n", "a file that is no workbook"),
    "another zip": (lambda data: packed("notes.txt"), "a packed file that is no workbook"),
    "half a workbook": (lambda data: packed("xl/workbook.xml"), "a damaged workbook"),
    "macros": (lambda data: with_file(data, "xl/vbaProject.bin", b"x"), "a workbook with macros"),
    "a bomb": (lambda data: with_file(data, "xl/big.xml", b"0" * 61_000_000), "MB once unpacked"),
    "too large": (lambda data: data + b"0" * 5_000_001, "a file of"),
    "unknown sheet": (
        lambda data: changed(data, lambda book: book.create_sheet("pickz")),
        "sheet pickz: found an unknown sheet; .* Did you mean 'picks'?",
    ),
    "no names": (
        lambda data: changed(data, lambda book: book["picks"].delete_rows(1, 99)),
        "sheet picks: row 1: found no names of columns",
    ),
    "a name twice": (
        lambda data: changed(data, set_cell("picks", "B1", "date")),
        "sheet picks: row 1: found the column 'date' twice",
    ),
    "no name above": (
        lambda data: changed(data, set_cell("picks", "K3", "note to myself")),
        "sheet picks: row 1: found a column without a name",
    ),
    "merged": (
        lambda data: changed(data, lambda book: book["picks"].merge_cells("A2:A3")),
        "sheet picks: A2:A3: found merged cells",
    ),
    "a huge sheet": (
        lambda data: changed(data, set_cell("picks", "A900000", 1)),
        "sheet picks: found 900000 rows of",
    ),
    "a formula never worked out": (
        lambda data: changed(data, set_cell("picks", "D2", "=1+1")),
        "sheet picks: cell D2: found a formula without its value",
    ),
    "unknown table": (
        lambda data: changed(data, set_cell("kitchen", "A9", "kitchn")),
        "sheet kitchen: key .*: found table 'kitchn'",
    ),
    "unknown recipe": (
        lambda data: changed(data, set_cell("recipe.fruit", "A2", "strawbery jam")),
        "sheet recipe.fruit: column recipe: found 'strawbery jam'; .* Did you mean 'strawberry jam'?",
    ),
    "no value column": (
        lambda data: changed(data, set_cell("kitchen", "C1", "amount")),
        "sheet kitchen: row 1: found no column value",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_workbook_says_what_is_wrong_and_changes_nothing(
    exported: bytes, folder: Path, name: str
) -> None:
    spoil, said = BAD[name]
    draft = Draft(folder)
    with pytest.raises(InputFaults, match=said) as caught:
        take_workbook(draft, spoil(exported))
    assert all(fault.remedy.endswith((".", "?", ")")) for fault in caught.value.faults)
    assert not draft.can_undo


def test_a_draft_with_faults_is_not_exported(folder: Path) -> None:
    swap("picks.csv", "table,22.0", "table,-1")(folder)
    with pytest.raises(InputFaults, match="column kg"):
        to_workbook(Draft(folder))
