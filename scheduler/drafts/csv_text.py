"""The text of a CSV file as a grid, and back: its separator and the order of its columns stay."""

from __future__ import annotations

import csv
import io

from scheduler.drafts.grid import Grid, Section
from scheduler.intake.columns import Column, unknown
from scheduler.intake.faults import FaultList
from scheduler.intake.tables import cells_of, separator_of


def begun(section: Section) -> str:
    """The first line of a file that is begun: the columns that must be there."""
    return ",".join(column.name for column in section.columns if column.required) + "\n"


def read(text: str, section: Section) -> Grid | None:
    """The file's rows under all columns it may have; None where the text is no table with a line of names."""
    faults = FaultList()
    lines = list(cells_of(section.file, text, faults))
    if not lines or faults.has(section.file):
        return None
    (_, header), *body = lines
    if len(set(header)) < len(header) or any(len(cells) != len(header) for _, cells in body):
        return None
    columns = (*section.columns, *(unknown(name) for name in header if name not in _names(section.columns)))
    place = {name: at for at, name in enumerate(header)}
    rows = tuple(
        tuple(cells[place[column.name]] if column.name in place else "" for column in columns)
        for _, cells in body
    )
    return Grid(columns, rows, tuple(number for number, _ in body))


def write(text: str, grid: Grid) -> str:
    """The file with the rows of ``grid``.

    Columns keep the order of ``text``, a file as it was; further ones that must be there or are filled
    follow. A column that nothing reads goes once it is empty.
    """
    before = read_header(text)
    columns = {column.name: column for column in grid.columns}
    filled = {name for at, name in enumerate(grid.names) if any(row[at] for row in grid.rows)}
    old = [name for name in before if name in columns and (columns[name].kind or name in filled)]
    new = [name for name in grid.names if name not in before and (name in filled or columns[name].required)]
    at = [grid.names.index(name) for name in (*old, *new)]
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator_of(text), lineterminator="\n")
    writer.writerow((*old, *new))
    writer.writerows([row[place].strip() for place in at] for row in grid.rows)
    return out.getvalue()


def read_header(text: str) -> list[str]:
    """The names in the first line, none where there is no text."""
    return next((cells for _, cells in cells_of("", text, FaultList())), [])


def _names(columns: tuple[Column, ...]) -> set[str]:
    return {column.name for column in columns}
