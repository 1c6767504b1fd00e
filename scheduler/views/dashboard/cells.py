"""Editors of one table of a draft: as a table, as fields for small screens and screen readers, as text.

A table is drawn from what it was when it was last drawn afresh, and the browser keeps what was typed since;
were it given the edited rows each time, the cursor would be lost after every cell. It is drawn afresh where
it must show something else than was typed: after a step back, a row removed, an amount in another unit.
"""

from __future__ import annotations

import re
from typing import Any

import pandas as pd
import streamlit as st

from scheduler.drafts.draft import Draft
from scheduler.drafts.grid import Grid, Section
from scheduler.errors import Fault
from scheduler.intake.columns import Column
from scheduler.languages import message, say, spoken
from scheduler.views.dashboard import parts

ROW = message("row")
"""Heading of the column that says where a row stands, as faults count rows."""
NEW = message("a new row")
WHOLE = 15
"""Rows up to which a table is shown whole instead of scrolling inside the page."""


def draw_afresh() -> None:
    """Have every editor show the draft as it is now."""
    st.session_state["version"] = st.session_state.get("version", 0) + 1


def as_table(draft: Draft, section: Section) -> None:
    """The section as a table: of rows, or of keys and values where it stands there once."""
    key, base = _base(draft, section)
    frame = _keys_and_values(base) if section.once else _rows(base)
    fixed = [name for name in frame.columns if name != "value"] if section.once else [ROW]
    if section.once:
        st.caption(say("Choose a value and type; empty it to do without."))
    else:
        st.caption(
            say(
                "Choose a cell and type. The empty row at the end is for a new one; to remove rows, "
                "tick them at the left and press Delete."
            )
        )
    st.data_editor(
        frame,
        key=key,
        num_rows="fixed" if section.once else "dynamic",
        hide_index=True,
        disabled=fixed,
        height="content" if len(frame) <= WHOLE else "auto",
        column_config=_of_keys() if section.once else _of_rows(base),
        on_change=_keys_edited if section.once else _rows_edited,
        args=(draft, section, base, key),
        placeholder="",
        alt=f"{section.file}: {section.title}",
    )


def as_fields(draft: Draft, section: Section) -> None:
    """One row as labelled fields."""
    grid = draft.grid(section)
    assert grid is not None
    memory = st.session_state
    at: int | None = 0 if section.once else None
    if not section.once:
        options = [*range(len(grid.rows)), None]
        asked = memory.get("row", 0)
        at = st.selectbox(
            say("Row"),
            options,
            index=options.index(asked) if asked in options else 0,
            format_func=lambda place: spoken(NEW) if place is None else row_name(grid, place),
            key=f"row {section.file} {section.title} {memory.get('version', 0)}",
        )
        memory["row"] = at
    there = at is not None and at < len(grid.rows)
    row = grid.rows[at] if there and at is not None else ("",) * len(grid.columns)
    number = grid.numbers[at] if there and at is not None and not section.once else None
    for place, column in enumerate(grid.columns):
        _field(draft, section, at, column, row[place])
        for fault in draft.faults_of(section):
            if there and _is_of(fault, column, number):
                allowed = parts.allowed(fault)
                parts.note(parts.found(fault), [allowed[0].upper() + allowed[1:]], "bad")
    if not section.once and at is not None:
        st.button(say("Remove this row"), on_click=_remove, args=(draft, section, at))


def as_text(draft: Draft, file: str) -> None:
    """A whole file as it is written."""
    key = f"text {file} {st.session_state.get('version', 0)}"
    text = draft.texts.get(file, "")
    st.text_area(
        say("{file} as it is written", file=file),
        text,
        height=420,
        key=key,
        on_change=_text_edited,
        args=(draft, file, key, text),
    )


def _base(draft: Draft, section: Section) -> tuple[str, Grid]:
    """The key of the table's editor, and the rows that it was drawn afresh from."""
    memory = st.session_state
    version = memory.get("version", 0)
    drawn = memory.get("drawn")
    if drawn is None or drawn[:3] != (draft.folder, section, version):
        grid = draft.grid(section)
        assert grid is not None
        if drawn is not None and drawn[2] == version:
            draw_afresh()  # another table was shown meanwhile, and the browser forgot this one
            version = memory["version"]
        memory["drawn"] = drawn = (draft.folder, section, version, grid)
    return f"table {version}", drawn[3]


def _rows(base: Grid) -> pd.DataFrame:
    cells = [[str(number or ""), *row] for number, row in zip(base.numbers, base.rows, strict=True)]
    return pd.DataFrame(cells, columns=[ROW, *base.names], dtype=str)


def _of_rows(base: Grid) -> dict[str, Any]:
    config: dict[str, Any] = {
        ROW: st.column_config.TextColumn(
            spoken(ROW), help=say("Where it stands in the file"), width=56, pinned=True
        )
    }
    for at, column in enumerate(base.columns):
        present = {row[at] for row in base.rows} - {""}
        if column.options:
            # A word that is not allowed stays to be seen, and to be chosen away.
            words = [*column.options, *sorted(present - set(column.options))]
            config[column.name] = st.column_config.SelectboxColumn(help=column.help, options=words)
        else:
            config[column.name] = st.column_config.TextColumn(
                help=column.help, alignment="right" if column.number else "left"
            )
    return config


def _keys_and_values(base: Grid) -> pd.DataFrame:
    row = base.rows[0] if base.rows else ("",) * len(base.columns)
    cells = [
        (column.name, cell, column.what.replace("`", ""), column.default, column.unit, column.allowed)
        for column, cell in zip(base.columns, row, strict=True)
    ]
    names = ["key", "value", "what it is", "if empty", "unit", "allowed"]
    return pd.DataFrame(cells, columns=names, dtype=str)


def _of_keys() -> dict[str, Any]:
    return {
        "key": st.column_config.TextColumn(say("key"), width=180, pinned=True),
        "value": st.column_config.TextColumn(say("value"), width=140),
        "what it is": st.column_config.TextColumn(say("what it is"), width=500),
        "if empty": st.column_config.TextColumn(
            say("if empty"), width=110, help=say("What holds where nothing is given")
        ),
        "unit": st.column_config.TextColumn(say("unit"), width=130),
        "allowed": st.column_config.TextColumn(say("allowed"), width=620),
    }


def _rows_edited(draft: Draft, section: Section, base: Grid, key: str) -> None:
    told = st.session_state[key]
    rows = [list(row) for row in base.rows]
    numbers = list(base.numbers)
    for at, cells in told["edited_rows"].items():
        for name, value in cells.items():
            if name in base.names:
                rows[int(at)][base.names.index(name)] = _typed(value)
    for at in sorted(map(int, told["deleted_rows"]), reverse=True):
        del rows[at], numbers[at]
    for cells in told["added_rows"]:
        rows.append([_typed(cells.get(name)) for name in base.names])
        numbers.append(None)
    turned = draft.edit(section, base.with_rows([tuple(row) for row in rows], numbers))
    if turned or told["deleted_rows"]:
        draw_afresh()


def _keys_edited(draft: Draft, section: Section, base: Grid, key: str) -> None:
    row = list(base.rows[0] if base.rows else ("",) * len(base.columns))
    for at, cells in st.session_state[key]["edited_rows"].items():
        row[int(at)] = _typed(cells.get("value"))
    if draft.edit(section, base.with_rows([tuple(row)], [1])):
        draw_afresh()


def _typed(value: object) -> str:
    return "" if value is None else str(value).strip()


def row_name(grid: Grid, at: int) -> str:
    """``2: O-101, farm shop``: where a row stands and what its first columns say, figures left out."""
    first = [(column, cell) for column, cell in zip(grid.columns[:3], grid.rows[at][:3], strict=True) if cell]
    told = [cell for column, cell in first if not column.number] or [cell for _, cell in first]
    return f"{grid.numbers[at]}: {', '.join(told)}"


def _is_of(fault: Fault, column: Column, number: int | None) -> bool:
    """Whether a fault of a section is of this column, in the row of this number where rows are counted."""
    counted = "(.*, )?" if number is None else rf".*\b{number}, "
    return re.fullmatch(rf"{counted}(column|key) {re.escape(column.name)}", fault.where) is not None


def _field(draft: Draft, section: Section, at: int | None, column: Column, cell: str) -> None:
    key = f"cell {section.file} {section.title} {at} {column.name} {st.session_state.get('version', 0)}"
    args = (draft, section, at, column.name, key, cell)
    label = ": ".join(filter(None, (column.name, column.what.replace("`", ""))))
    usual = say("usually {default}", default=column.default) if column.default else ""
    if column.options:
        words = ["", *dict.fromkeys([*column.options, *([cell] if cell else [])])]
        st.selectbox(
            label,
            words,
            words.index(cell),
            format_func=lambda word: word or usual or say("not said"),
            key=key,
            help=column.help,
            on_change=_cell_edited,
            args=args,
        )
    else:
        st.text_input(
            label, cell, key=key, help=column.help, placeholder=usual, on_change=_cell_edited, args=args
        )


def _cell_edited(draft: Draft, section: Section, at: int | None, name: str, key: str, drawn: str) -> None:
    typed = _typed(st.session_state[key])
    if typed == drawn:
        return  # said by a field of a page that was drawn anew before it was ready, not by anybody's hand
    grid = draft.grid(section)
    assert grid is not None
    rows, numbers = list(grid.rows), list(grid.numbers)
    if at is None or at >= len(rows):
        at = len(rows)
        rows.append(("",) * len(grid.columns))
        numbers.append(None)
        st.session_state["row"] = at
        draw_afresh()
    row = list(rows[at])
    row[grid.names.index(name)] = typed
    rows[at] = tuple(row)
    if draft.edit(section, grid.with_rows(rows, numbers)):
        draw_afresh()


def _remove(draft: Draft, section: Section, at: int) -> None:
    grid = draft.grid(section)
    assert grid is not None
    rows, numbers = list(grid.rows), list(grid.numbers)
    del rows[at], numbers[at]
    draft.edit(section, grid.with_rows(rows, numbers))
    st.session_state["row"] = max(0, at - 1)
    draw_afresh()


def _text_edited(draft: Draft, file: str, key: str, drawn: str) -> None:
    if (typed := str(st.session_state[key])) != drawn:
        draft.write(file, typed)
