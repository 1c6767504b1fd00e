"""A workbook into the texts of a scenario's files, with comments and order of the files there were."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from scheduler.drafts import csv_text, toml_text
from scheduler.drafts.draft import Draft, begun
from scheduler.drafts.grid import Cells, Grid, Section, csv_section, kitchen_sections, recipe_sections
from scheduler.drafts.workbook import (
    CSV_SHEETS,
    OF_RECIPE_SHEETS,
    ONCE_NAMES,
    ONCE_SHEET,
    RECIPE_SHEET,
)
from scheduler.drafts.workbook_in import Table, tables_of, text_of, texts_under, unchanged_where_equal
from scheduler.intake.columns import LISTS, Column, unknown
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.files import OPTIONAL
from scheduler.intake.gathered import RECIPES

ABOUT = "the workbook"


def take_workbook(draft: Draft, data: bytes) -> None:
    """Put what an .xlsx file says into ``draft`` as one step; a file without a sheet stays as it was.

    Raises InputFaults with everything that keeps the workbook from being read; the draft is then as it was.
    """
    draft.take(texts_from(data, draft.texts), ABOUT)


def scenario_from(data: bytes, folder: Path) -> Draft:
    """A draft of a new scenario in ``folder`` from an .xlsx file; errors as for ``take_workbook``."""
    draft = Draft(folder)
    take_workbook(draft, data)
    return draft


def texts_from(data: bytes, texts: Mapping[str, str]) -> dict[str, str]:
    """``texts`` of files by name, with what an .xlsx file says in them; raises InputFaults."""
    faults = FaultList()
    tables = tables_of(data, faults)
    made = dict(texts)
    for name, file in CSV_SHEETS.items():
        if name in tables and (tables[name][1] or file in texts or file not in OPTIONAL):
            made[file] = _csv(csv_section(file), texts.get(file, ""), tables[name])
    _kitchen(tables, made, faults)
    if RECIPE_SHEET in tables:
        _recipes(tables, made, faults)
    faults.raise_if_any()
    return made


def _csv(section: Section, before: str, table: Table) -> str:
    old = csv_text.read(before, section) if before else None
    return csv_text.write(before or csv_text.begun(section), _grid(section.columns, table, old))


def _grid(known: tuple[Column, ...], table: Table, old: Grid | None) -> Grid:
    """A sheet as the rows of a section, its row in a place taking the place of the row that was there."""
    names = {column.name for column in known}
    columns = (*known, *(unknown(name) for name in table[0] if name not in names))
    # Columns that nothing reads and that the sheet no longer has are cleared.
    spare = [column for column in old.columns if column.kind is None] if old else []
    columns += tuple(column for column in spare if column.name not in table[0])
    stood = [] if old is None else [_under(columns, old, row) for row in old.rows]
    rows = unchanged_where_equal(texts_under(columns, table), stood, columns)
    return Grid(columns, rows, tuple(at + 1 if at < len(stood) else None for at in range(len(rows))))


def _under(columns: tuple[Column, ...], grid: Grid, row: Cells) -> Cells:
    cells = dict(zip(grid.names, row, strict=True))
    return tuple(cells.get(column.name, "") for column in columns)


def _replace(texts: dict[str, str], section: Section, table: Table) -> None:
    """Put a sheet in the place of tables of a TOML file; a file that is no TOML is begun anew."""
    text = texts.get(section.file, "")
    if not text or toml_text.read(text, section) is None:
        text = begun(section.file)
    old = toml_text.read(text, section)
    grid = _grid(section.columns, table, old)
    texts[section.file] = toml_text.write(text, section, grid.with_rows(grid.rows, grid.numbers))


def _kitchen(tables: dict[str, Table], texts: dict[str, str], faults: FaultList) -> None:
    sections = {".".join(section.path): section for section in kitchen_sections()}
    if ONCE_SHEET in tables:
        for name, values in _once(tables[ONCE_SHEET], sections, faults).items():
            _replace(texts, sections[name], (list(values), [list(values.values())]))
    for name in LISTS:
        if name in tables:
            _replace(texts, sections[name], tables[name])


def _once(table: Table, sections: Mapping[str, Section], faults: FaultList) -> dict[str, dict[str, object]]:
    """Values of sheet ``kitchen`` by table and key, for every table that it names."""
    header, rows = table
    file, needed = f"sheet {ONCE_SHEET}", ONCE_NAMES[:3]
    if missing := [name for name in needed if name not in header]:
        faults.add(file, "row 1", f"no column {missing[0]}", "columns " + ", ".join(needed), "Add it.")
        return {}
    at_table, at_key, at_value = (header.index(name) for name in needed)
    found: dict[str, dict[str, object]] = {}
    for row in rows:
        name, key = (str(row[at] or "").strip() for at in (at_table, at_key))
        known = [each for each, section in sections.items() if section.once]
        if name not in known:
            remedy = did_you_mean(name, known, "Remove the row.")
            faults.add(file, f"key {key}", f"table {shown(name)}", "one of " + listed(known[1:], 40), remedy)
        elif not key:
            faults.add(file, f"table {name}", "a row without a key", "a key in each row", "Remove the row.")
        elif key in found.setdefault(name, {}):
            faults.add(file, f"key {key}", "the key twice", "each key of a table once", "Remove one of them.")
        else:
            found[name][key] = row[at_value]
    return found


def _recipes(tables: dict[str, Table], texts: dict[str, str], faults: FaultList) -> None:
    """The four sheets of recipes go together: one that is not there says that there is none of its kind."""
    (whole,) = recipe_sections(())
    _replace(texts, whole, tables[RECIPE_SHEET])
    grid = toml_text.read(texts[RECIPES], whole)
    assert grid is not None
    names = [row[0] for row in grid.rows]
    for sheet, key in OF_RECIPE_SHEETS.items():
        header, rows = tables.get(sheet, ([RECIPE_SHEET], []))
        if RECIPE_SHEET not in header:
            faults.add(f"sheet {sheet}", "row 1", "no column recipe", "a column recipe", "Add it.")
            continue
        at = header.index(RECIPE_SHEET)
        of = [text_of(row[at], whole.columns[0]) for row in rows]
        for name in dict.fromkeys(of):
            if name not in names:
                remedy = did_you_mean(name, names, "Remove the row, or add the recipe.")
                allowed = f"a recipe of sheet {RECIPE_SHEET}: {listed(names)}"
                faults.add(f"sheet {sheet}", "column recipe", shown(name), allowed, remedy)
        rest = [*header[:at], *header[at + 1 :]]
        for section in recipe_sections(names):
            if section.path == (key,) and section.recipe is not None:
                own = [
                    [*row[:at], *row[at + 1 :]]
                    for row, name in zip(rows, of, strict=True)
                    if name == names[section.recipe]
                ]
                _replace(texts, section, (rest, own))
