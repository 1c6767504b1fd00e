"""CSV and TOML text turned into validated rows; every fault is noted and what is sound is kept."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar
from unicodedata import normalize

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from scheduler.intake.faults import FaultList, did_you_mean, listed, nearest, shown
from scheduler.intake.kinds import Kind

M = TypeVar("M", bound=BaseModel)


@dataclass(frozen=True)
class Row(Generic[M]):
    """A sound row or table, and where it stands in which file."""

    file: str
    where: str
    value: M

    def at(self, key: str) -> str:
        """The place of one column or key of this row."""
        return place(self.file, self.where, key)


def place(file: str, where: str, key: str) -> str:
    """Where a key of a table or a column of a row stands."""
    word = "column" if file.endswith(".csv") else "key"
    return f"{where}, {word} {key}" if where else f"{word} {key}"


def validated(
    model: type[M], raw: Mapping[str, Any], file: str, where: str, faults: FaultList
) -> Row[M] | None:
    """``raw`` as a sound ``model``, or None with its faults noted."""
    try:
        return Row(file, where, model.model_validate(dict(raw)))
    except ValidationError as error:
        for detail in error.errors(include_url=False):
            key = str(detail["loc"][0])
            faults.add(file, *_told(model, raw, place(file, where, key), key, detail))
        return None


def _told(
    model: type[BaseModel], raw: Mapping[str, Any], at: str, key: str, detail: ErrorDetails
) -> tuple[str, str, str, str]:
    """Where, found, allowed and remedy of one error."""
    if detail["type"] == "extra_forbidden":
        known = list(model.model_fields)
        at = at.removesuffix(key) + shown(key)
        return at, "an unknown key", "one of " + listed(known, 40), did_you_mean(key, known, "Remove it.")
    if detail["type"] == "missing":
        return at, "nothing", allowed_for(model, key), "Fill it in."
    context = detail["ctx"]
    return at, shown(raw[key]), str(context["allowed"]), str(context["remedy"])


def allowed_for(model: type[BaseModel], key: str) -> str:
    """What a field allows, in the words of its kind."""
    kinds = [meta for meta in model.model_fields[key].metadata if isinstance(meta, Kind)]
    return kinds[0].allowed


# CSV

MOST_ROWS = 20_000


@dataclass(frozen=True)
class Sheet(Generic[M]):
    """The sound rows of a CSV file, and the first cell of every row, sound or not."""

    rows: list[Row[M]]
    names: dict[str, None]


def read_csv(model: type[M], file: str, text: str, faults: FaultList) -> Sheet[M] | None:
    """Read a CSV file whose first line names the columns; None if that line has faults.

    Cells are separated by commas; by semicolons if the first line has semicolons and no comma.
    Blank lines and rows of empty cells are passed over, and an empty cell counts as not given.
    """
    lines = cells_of(file, text, faults)
    header = next(lines, None)
    if header is None or not _sound_header(model, file, header[1], faults):
        return None
    names, first = header[1], next(iter(model.model_fields))
    sheet = Sheet[M]([], {})
    for count, (number, cells) in enumerate(lines):
        where = f"row {number}"
        if count == MOST_ROWS:
            remedy = "Keep only the rows of the planned days."
            faults.add(file, where, "more rows", f"at most {MOST_ROWS} rows", remedy)
        if count == MOST_ROWS or faults.full(file):
            break
        if len(cells) != len(names):
            _note_width(file, where, names, cells, faults)
            continue
        raw = {name: cell for name, cell in zip(names, cells, strict=True) if cell}
        if first in raw:
            sheet.names[normalize("NFC", raw[first])] = None
        row = validated(model, raw, file, where, faults)
        if row:
            sheet.rows.append(row)
    return sheet


def separator_of(text: str) -> str:
    """What separates the cells of a CSV file: its first line says."""
    first = next((line for line in text.split("\n") if line.strip()), "")
    return ";" if ";" in first and "," not in first else ","


def cells_of(file: str, text: str, faults: FaultList) -> Iterator[tuple[int, list[str]]]:
    """Line number and stripped cells of each line that is not blank.

    Spreadsheets write empty cells beyond the last column; these are passed over.
    """
    width = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator_of(text), strict=True)
    try:
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                kept = _without_spare(stripped, width)
                width = width or len(kept)
                yield reader.line_num, kept
    except csv.Error as error:
        where = f"row {reader.line_num}"
        remedy = "Mend the quotes of this row (every opening quote needs its closing one)."
        faults.add(file, where, f"a broken row ({error})", "cells separated by commas", remedy)


def _without_spare(cells: list[str], width: int) -> list[str]:
    """``cells`` without empty ones beyond ``width``."""
    while len(cells) > width and not cells[-1]:
        cells.pop()
    return cells


def _sound_header(model: type[BaseModel], file: str, names: list[str], faults: FaultList) -> bool:
    """Note unknown, repeated and missing columns; a misspelt column is not missing as well."""
    if len(names) == 1 and "\t" in names[0]:
        remedy = "Save it again as CSV, or put commas where the tabs are."
        faults.add(
            file, "row 1", "cells separated by tabs", "cells separated by commas or semicolons", remedy
        )
        return False
    fields = model.model_fields
    known, before, misspelt = list(fields), faults.count(file), set()
    for name in sorted(set(names) - set(known)):
        close = nearest(name, [column for column in known if column not in names])
        misspelt.add(close)
        remedy = f"Did you mean '{close}'?" if close else "Remove the column."
        allowed = "one of " + ", ".join(known)
        faults.add(file, f"column {shown(name)}", "an unknown column", allowed, remedy)
    for name in sorted({name for name in names if names.count(name) > 1} & set(known)):
        faults.add(file, f"column {name}", "the column twice", "each column once", "Remove one of them.")
    for name in known:
        if fields[name].is_required() and name not in names and name not in misspelt:
            remedy = f"Add it: {allowed_for(model, name)}."
            faults.add(file, f"column {name}", "no such column", "this column", remedy)
    return faults.count(file) == before


def _note_width(file: str, where: str, names: list[str], cells: list[str], faults: FaultList) -> None:
    remedy = "Give every column a cell; leave it empty where there is nothing to say."
    if len(cells) > len(names):
        remedy = (
            "A decimal comma splits a cell in two: write 12.5, not 12,5. Put text that has a comma in quotes."
        )
    faults.add(file, where, f"{len(cells)} cells", f"{len(names)} cells ({', '.join(names)})", remedy)


# TOML


def read_toml(file: str, text: str, faults: FaultList) -> dict[str, Any] | None:
    """The whole file as plain values, or None and the first fault of its grammar."""
    try:
        return tomllib.loads(text)
    except RecursionError:
        faults.add(
            file, "", "brackets nested too deep", "plain keys and tables", "Copy another folder's file."
        )
    except ValueError as error:
        _note_grammar(file, text, str(error), faults)
    return None


def _note_grammar(file: str, text: str, message: str, faults: FaultList) -> None:
    place = re.search(r" ?\(at line (\d+), column \d+\)", message)
    number = int(place[1]) if place else text.count("\n") + 1
    lines = text.split("\n")
    line = lines[number - 1] if number <= len(lines) else ""
    what = message[: place.start()] if place else message
    remedy = "Mend this line; what follows it is read once this is mended."
    if re.search(r"=\s*[+-]?\d+,\d", line):
        remedy = "Write a decimal point: 12.5, not 12,5."
    elif "overwrite" in what or "Cannot declare" in what:
        remedy = (
            "The key or table stands there twice: remove one. Pans, rings, recipes and breaks are tables "
        )
        remedy += "in double brackets, each of them, as in [[pan]]."
    found = f"{shown(line.strip())} ({what.lower()})" if line.strip() else what.lower()
    faults.add(file, f"line {number}", found, "key = value, [table] or [[table]]", remedy)


def take_table(raw: dict[str, Any], key: str, file: str, where: str, faults: FaultList) -> dict[str, Any]:
    """Remove and return the table ``key``; an absent one is empty."""
    value = raw.pop(key, {})
    if isinstance(value, dict):
        return value
    faults.add(
        file, f"{where}key {key}", shown(value), f"a table [{key}]", f"Write [{key}] on a line of its own."
    )
    return {}


def take_tables(
    raw: dict[str, Any], key: str, file: str, where: str, faults: FaultList
) -> list[dict[str, Any]]:
    """Remove and return the repeated table ``key``; an absent one is an empty list."""
    value = raw.pop(key, [])
    if isinstance(value, list) and all(isinstance(item, dict) for item in value):
        return value
    remedy = f"Write [[{key}]] in double brackets before each."
    faults.add(file, f"{where}key {key}", "no list of tables", f"tables [[{key}]]", remedy)
    return []
