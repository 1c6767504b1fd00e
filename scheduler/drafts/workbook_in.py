"""The sheets of a workbook as tables of values; what stands in the way is told as faults of its sheets."""

from __future__ import annotations

import datetime as dt
import io
import warnings
import zipfile
from collections.abc import Mapping, Sequence
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.drafts.workbook import SHEET_NAMES
from scheduler.intake.columns import Column
from scheduler.intake.faults import FaultList, did_you_mean, shown
from scheduler.intake.files import LARGEST_BYTES
from scheduler.intake.tables import MOST_ROWS

MOST_UNPACKED = 60_000_000
"""Bytes of a workbook once unpacked; beyond it is refused unread."""
MOST_COLUMNS = 100

Table = tuple[list[str], list[list[Any]]]
"""The names in the first row of a sheet, and the values of the rows below."""


def tables_of(data: bytes, faults: FaultList) -> dict[str, Table]:
    """The sheets of an .xlsx file by name, without blank rows; what cannot be read is noted and left out."""
    if not _sound(data, faults):
        return {}
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of looks that are not read, such as colours
            book = load_workbook(io.BytesIO(data))
            values = load_workbook(io.BytesIO(data), data_only=True)
    except (
        InvalidFileException,
        KeyError,
        ValueError,
        TypeError,
        IndexError,
        zipfile.BadZipFile,
        SyntaxError,
    ):
        faults.add(WORKBOOK, "", "a damaged workbook", "an .xlsx file", "Save it again from the spreadsheet.")
        return {}
    found = {}
    for sheet in book.worksheets:
        name = sheet.title.strip()
        if name not in SHEET_NAMES:
            remedy = did_you_mean(name, SHEET_NAMES, "Remove the sheet, or keep it in another workbook.")
            faults.add(f"sheet {name}", "", "an unknown sheet", "one of " + ", ".join(SHEET_NAMES), remedy)
        elif _layout(sheet, faults):
            table = _table(sheet, values[sheet.title], faults)
            if table:
                found[name] = table
    return found


WORKBOOK = "workbook"


def _sound(data: bytes, faults: FaultList) -> bool:
    """Whether the file may be opened: a workbook of a readable size, without macros."""
    if len(data) > LARGEST_BYTES:
        seen = f"a file of {len(data) / 1e6:.1f} MB"
        remedy = "Keep only the sheets and rows of this scenario."
        faults.add(WORKBOOK, "", seen, f"at most {LARGEST_BYTES / 1e6:g} MB", remedy)
        return False
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            names = packed.namelist()
            size = sum(item.file_size for item in packed.infolist())
    except zipfile.BadZipFile:
        remedy = "Save it as .xlsx, without a password."
        faults.add(WORKBOOK, "", "a file that is no workbook", "an .xlsx file", remedy)
        return False
    if any(name.endswith("vbaProject.bin") for name in names):
        faults.add(
            WORKBOOK, "", "a workbook with macros", "an .xlsx file", "Save it as .xlsx, without macros."
        )
    elif size > MOST_UNPACKED:
        seen, allowed = f"{size / 1e6:.0f} MB once unpacked", f"at most {MOST_UNPACKED / 1e6:g} MB"
        faults.add(WORKBOOK, "", seen, allowed, "Keep only the sheets and rows of this scenario.")
    elif "xl/workbook.xml" not in names:
        remedy = "Save it as .xlsx from the spreadsheet."
        faults.add(WORKBOOK, "", "a packed file that is no workbook", "an .xlsx file", remedy)
    return not faults.has(WORKBOOK)


def _layout(sheet: Worksheet, faults: FaultList) -> bool:
    """Whether a sheet is a plain table of a readable size."""
    file = f"sheet {sheet.title}"
    if sheet.max_row > MOST_ROWS + 1 or sheet.max_column > MOST_COLUMNS:
        seen = f"{sheet.max_row} rows of {sheet.max_column} columns"
        allowed = f"at most {MOST_ROWS} rows of {MOST_COLUMNS} columns"
        remedy = "Delete the rows and columns beyond the table (not only what is in them)."
        faults.add(file, "", seen, allowed, remedy)
    for merged in sheet.merged_cells.sorted():
        faults.add(file, str(merged), "merged cells", "single cells", "Split them, each with its own value.")
    return not faults.has(file)


def _table(sheet: Worksheet, values: Worksheet, faults: FaultList) -> Table | None:
    file = f"sheet {sheet.title}"
    rows = [list(row) for row in values.iter_rows(values_only=True)]
    for cells in sheet.iter_rows():
        for cell in cells:
            if cell.data_type == "f" and values[cell.coordinate].value is None:
                remedy = "Paste its value, or open and save the workbook in the spreadsheet."
                faults.add(file, f"cell {cell.coordinate}", "a formula without its value", "a value", remedy)
            elif cell.data_type == "e" or values[cell.coordinate].data_type == "e":
                seen = shown(values[cell.coordinate].value)
                faults.add(file, f"cell {cell.coordinate}", seen, "a value", "Mend the formula.")
    header = [str(value).strip() if value is not None else "" for value in rows[0]] if rows else []
    while header and not header[-1]:
        header.pop()
    body = [row for row in rows[1:] if any(_filled(value) for value in row)]
    if not header:
        faults.add(file, "row 1", "no names of columns", "the names in the first row", "Write them there.")
        return None
    for name in sorted({name for name in header if header.count(name) > 1}):
        seen = f"the column {shown(name)} twice" if name else "columns without a name"
        faults.add(file, "row 1", seen, "a name of its own for each column", "Mend the first row.")
    if any(_filled(value) for row in body for value in row[len(header) :]) or "" in header:
        faults.add(file, "row 1", "a column without a name", "a name above each column", "Name or clear it.")
    return None if faults.has(file) else (header, [row[: len(header)] for row in body])


def _filled(value: object) -> bool:
    return value is not None and str(value).strip() != ""


def texts_under(columns: Sequence[Column], table: Table) -> list[tuple[str, ...]]:
    """The rows of a table as text cells under ``columns``, empty where the sheet has no such column."""
    header, rows = table
    place = {name: at for at, name in enumerate(header)}
    return [
        tuple(text_of(row[place[column.name]], column) if column.name in place else "" for column in columns)
        for row in rows
    ]


def text_of(value: object, column: Column) -> str:
    """A cell's value as the files write it: dates, times and yes or no as their column has them."""
    text = "" if value is None else str(value).strip()
    match value:
        case bool():
            yes, no = column.options if len(column.options) == 2 else ("true", "false")
            text = yes if value else no
        case dt.timedelta() if column.clock:
            minutes = round(value.total_seconds() / 60)
            text = f"{minutes // 60:02d}:{minutes % 60:02d}"
        case dt.datetime() | dt.time() if column.clock:
            text = value.strftime("%H:%M")
        case dt.datetime() if column.day and value.time() == dt.time():
            text = value.date().isoformat()
        case float() if value.is_integer():
            text = str(int(value))
    return text


def unchanged_where_equal(
    rows: Sequence[tuple[str, ...]], before: Sequence[tuple[str, ...]], columns: Sequence[Column]
) -> tuple[tuple[str, ...], ...]:
    """Numbers that say the same as the row in the same place before stay written as they were: 6.0, not 6."""
    kept = []
    for at, row in enumerate(rows):
        old: Mapping[int, str] = dict(enumerate(before[at])) if at < len(before) else {}
        kept.append(
            tuple(
                old[place] if column.number and _equal(cell, old.get(place, "")) else cell
                for place, (cell, column) in enumerate(zip(row, columns, strict=True))
            )
        )
    return tuple(kept)


def _equal(one: str, other: str) -> bool:
    try:
        return float(one) == float(other)
    except ValueError:
        return False
