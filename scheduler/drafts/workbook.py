"""A scenario as one workbook (Office Open XML, ISO/IEC 29500): a sheet for each table of its files.

A CSV file is a sheet of its name without ``.csv``. Of kitchen.toml, sheet ``kitchen`` holds the tables that
stand there once, a key in each row (table, key, value, unit, what it is); ``pan``, ``ring``, ``freezer_box``
and ``work.break`` have a sheet each. Of recipes.toml, sheet ``recipe`` has a row for each recipe;
``recipe.fruit``, ``recipe.other`` and ``recipe.size`` name in their first column the recipe of a row.
"""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.drafts.draft import FILES, Draft
from scheduler.drafts.grid import Section, csv_section, kitchen_sections
from scheduler.errors import InputFaults
from scheduler.intake.columns import LISTS, OF_RECIPE, SHEETS, Column
from scheduler.intake.gathered import RECIPES
from scheduler.intake.kinds import FORMULA_STARTS

ONCE_SHEET = "kitchen"
ONCE_NAMES = ("table", "key", "value", "unit", "what it is")
RECIPE_SHEET = "recipe"
OF_RECIPE_SHEETS = {f"{RECIPE_SHEET}.{key}": key for key in OF_RECIPE}
CSV_SHEETS = {file.removesuffix(".csv"): file for file in FILES if file in SHEETS}
SHEET_NAMES = (ONCE_SHEET, *LISTS, RECIPE_SHEET, *OF_RECIPE_SHEETS, *CSV_SHEETS)

_SPARE_ROWS = 500
"""Rows below the header on which words are offered to choose from."""


@dataclass(frozen=True)
class _Row:
    """Cells of a row, and the column that says of what kind each of them is; None is plain text."""

    cells: tuple[str, ...]
    columns: tuple[Column | None, ...]


def to_workbook(draft: Draft) -> bytes:
    """The draft as an .xlsx file. Raises InputFaults while it has faults."""
    if draft.faults:
        raise InputFaults(list(draft.faults))
    book = Workbook()
    book.remove(book.worksheets[0])
    _kitchen_sheet(book, draft)
    for name in LISTS:
        section = next(section for section in kitchen_sections() if ".".join(section.path) == name)
        _grid_sheet(book, name, section.columns, _rows(draft, section))
    recipes, *within = draft.sections(RECIPES)
    _grid_sheet(book, RECIPE_SHEET, recipes.columns, _rows(draft, recipes))
    for name, key in OF_RECIPE_SHEETS.items():
        sections = [section for section in within if section.path == (key,)]
        _of_recipe_sheet(book, name, sections, draft)
    for name, file in CSV_SHEETS.items():
        section = csv_section(file)
        _grid_sheet(book, name, section.columns, _rows(draft, section))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _rows(draft: Draft, section: Section) -> Iterator[_Row]:
    grid = draft.grid(section)
    assert grid is not None  # a draft without faults has no text that is no table
    return (_Row(row, grid.columns) for row in grid.rows)


def _kitchen_sheet(book: Workbook, draft: Draft) -> None:
    sheet = book.create_sheet(ONCE_SHEET)
    _header(sheet, ONCE_NAMES, ("", "", "Change these; leave a value empty to do without it.", "", ""))
    for section in kitchen_sections():
        if not section.once:
            continue
        (row,) = list(_rows(draft, section)) or [_Row(("",) * len(section.columns), section.columns)]
        for column, cell in zip(section.columns, row.cells, strict=True):
            told = (".".join(section.path), column.name, cell, column.unit, column.help.replace("`", ""))
            _append(sheet, _Row(told, (None, None, column, None, None)))
    for letter, width in zip("ABCDE", (16, 26, 22, 14, 110), strict=True):
        sheet.column_dimensions[letter].width = width


def _of_recipe_sheet(book: Workbook, name: str, sections: Sequence[Section], draft: Draft) -> None:
    sheet = book.create_sheet(name)
    columns = sections[0].columns
    _header(
        sheet,
        (RECIPE_SHEET, *(column.name for column in columns)),
        ("Name of the recipe that the row belongs to.", *(column.help for column in columns)),
    )
    recipes = [row.cells[0] for row in _rows(draft, draft.sections(RECIPES)[0])]
    for section in sections:
        assert section.recipe is not None
        for row in _rows(draft, section):
            _append(sheet, _Row((recipes[section.recipe], *row.cells), (None, *row.columns)))


def _grid_sheet(book: Workbook, name: str, columns: Sequence[Column], rows: Iterator[_Row]) -> None:
    sheet = book.create_sheet(name)
    _header(sheet, [column.name for column in columns], [column.help for column in columns])
    for at, column in enumerate(columns, 1):
        words = '"' + ",".join(column.options) + '"'
        if column.options and len(words) < 255:
            choice = DataValidation(type="list", formula1=words, allow_blank=True, showErrorMessage=False)
            choice.add(f"{get_column_letter(at)}2:{get_column_letter(at)}{_SPARE_ROWS}")
            sheet.add_data_validation(choice)
    for row in rows:
        _append(sheet, row)


def _header(sheet: Worksheet, names: Sequence[str], helps: Sequence[str]) -> None:
    sheet.append(list(names))
    sheet.freeze_panes = "A2"
    for at, (name, text) in enumerate(zip(names, helps, strict=True), 1):
        cell = sheet.cell(1, at)
        cell.font = Font(bold=True)
        if text:
            cell.comment = Comment(text.replace("`", ""), "Maslin", height=120, width=300)
        sheet.column_dimensions[get_column_letter(at)].width = max(12, len(name) + 3)


def _append(sheet: Worksheet, row: _Row) -> None:
    at = sheet.max_row + 1
    for place, (text, column) in enumerate(zip(row.cells, row.columns, strict=True), 1):
        if text:
            cell = sheet.cell(at, place)
            assert isinstance(cell, Cell)
            _fill(cell, text, column)


def _fill(cell: Cell, text: str, column: Column | None) -> None:
    """Numbers, dates and times as a spreadsheet has them; all else as text, which never runs as a formula."""
    value = column.toml_value(text) if column else text
    if column and column.clock and text != "24:00":
        hours, minutes = text.split(":")
        cell.value, cell.number_format = dt.time(int(hours), int(minutes)), "hh:mm"
    elif isinstance(value, dt.date):
        cell.value, cell.number_format = value, "yyyy-mm-dd"
    elif isinstance(value, bool | int | float):
        cell.value = value
    else:
        cell.value = text
        cell.data_type = "s"
        cell.quotePrefix = text[0] in FORMULA_STARTS
        cell.alignment = Alignment(vertical="top")
