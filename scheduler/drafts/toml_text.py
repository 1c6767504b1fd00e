"""Tables of a TOML file as grids, and back: comments and order stay, and all that did not change."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.items import AoT, Table

from scheduler.drafts.grid import Cells, Grid, Section
from scheduler.intake.columns import Column, as_text, unknown

_HEADING = re.compile(r"\[\[?[\w.]+\]\]?\s*(#|$)")


def loaded(text: str) -> dict[str, Any] | None:
    """The file as plain values; None where its grammar is broken."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError):
        return None


def read(text: str, section: Section) -> Grid | None:
    """The tables of ``section`` as rows, none where absent; None where the file is not laid out so."""
    plain = loaded(text)
    if plain is None:
        return None
    found: Any = plain
    for key in _way(section)[:-1]:
        found = found[key] if isinstance(key, int) else found.get(key, {})
    last = _way(section)[-1:]
    found = found.get(last[0], {} if section.once else []) if last else found
    tables = [found] if section.once else found
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        return None
    if section.once and not any(_is_plain(value) for value in found.values()):
        tables = []
    known = {column.name for column in section.columns}
    strange = {key: None for table in tables for key in table if key not in known and _is_plain(table[key])}
    # The version of the layout is the program's own business.
    strange.pop("schema", None)
    columns = (*section.columns, *map(unknown, strange))
    rows = tuple(tuple(_cell(table, column) for column in columns) for table in tables)
    return Grid(columns, rows, tuple(range(1, len(rows) + 1)))


def write(text: str, section: Section, grid: Grid) -> str:
    """The file with the rows of ``grid`` in place of the tables of ``section``.

    A row that says which table it was changes only the keys whose cells differ from it.
    """
    before = read(text, section)
    assert before is not None
    document = tomlkit.parse(text)
    if section.once:
        empty = ("",) * len(grid.columns)
        _set_once(document, section, before, grid.rows[0] if grid.rows else empty, grid)
    else:
        _set_list(document, section, before, grid)
    return _single_spaced(tomlkit.dumps(document))


def _way(section: Section) -> tuple[str | int, ...]:
    """The keys and numbers that lead to a section."""
    return section.path if section.recipe is None else ("recipe", section.recipe, *section.path)


def _is_plain(value: object) -> bool:
    """Whether a value fits a cell, and is no table."""
    return not isinstance(value, dict) and not (
        isinstance(value, list) and any(isinstance(item, dict) for item in value)
    )


def _cell(table: Mapping[str, Any], column: Column) -> str:
    return as_text(table[column.name]) if column.name in table else ""


def _set_once(document: Any, section: Section, before: Grid, row: Cells, grid: Grid) -> None:
    table = document
    for key in section.path:
        if key not in table:
            table.add(key, tomlkit.table())
        table = table[key]
    _set_keys(table, _cells(before, 0), dict(zip(grid.names, row, strict=True)), grid)
    if section.path and not table:
        del document[section.path[0]]


def _set_list(document: Any, section: Section, before: Grid, grid: Grid) -> None:
    *above, last = _way(section)
    holder = document
    for key in above:
        if isinstance(key, str) and key not in holder:
            holder.add(key, tomlkit.table(is_super_table=True))
        holder = holder[key]
    if last not in holder:
        if not grid.rows:
            return
        holder.append(last, tomlkit.aot())
    tables: AoT = holder[last]
    for at in range(len(before.rows) - 1, -1, -1):
        if at + 1 not in grid.numbers:
            del tables[at]
    place = 0
    for row, number in zip(grid.rows, grid.numbers, strict=True):
        cells = dict(zip(grid.names, row, strict=True))
        if number is None:
            table = tomlkit.table()
            _set_keys(table, {}, cells, grid)
            tables.append(table)
        else:
            _set_keys(tables[place], _cells(before, number - 1), cells, grid)
            place += 1
    if not grid.rows:
        del holder[last]


def _cells(grid: Grid, at: int) -> dict[str, str]:
    return dict(zip(grid.names, grid.rows[at], strict=True)) if at < len(grid.rows) else {}


def _set_keys(table: Table | Any, before: dict[str, str], after: dict[str, str], grid: Grid) -> None:
    columns = {column.name: column for column in grid.columns}
    for name, cell in after.items():
        text = cell.strip()
        if text == before.get(name, ""):
            continue
        if text:
            table[name] = columns[name].toml_value(text)
        else:
            table.remove(name)


def _single_spaced(text: str) -> str:
    """A blank line before each table and none heaped up, where keys and tables came or went."""
    while "\n\n\n" in text:
        text = text.replace("\n\n\n", "\n\n")
    spaced: list[str] = []
    for line in text.strip("\n").split("\n"):
        if _HEADING.match(line) and spaced and spaced[-1] and not spaced[-1].startswith("#"):
            spaced.append("")
        spaced.append(line)
    return "\n".join(spaced) + "\n"
