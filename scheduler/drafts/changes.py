"""What one draft says otherwise than another, a line for each cell or row."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from scheduler.drafts.draft import FILES, Draft
from scheduler.drafts.grid import Cells, Grid, Section
from scheduler.languages import message, say, spoken

EMPTY = message("nothing")
_NAMING = 3
"""Cells that name a row."""


def changes(before: Draft, after: Draft) -> list[str]:
    """Lines such as ``picks.csv, 2026-08-24 strawberry table: kg 22.0 → 11.0``, file by file."""
    told: list[str] = []
    for file in FILES:
        if before.texts.get(file) != after.texts.get(file):
            lines = list(_of_file(before, after, file))
            told += lines or [say("{file}: its text, not what it says.", file=file)]
    return told


def _of_file(before: Draft, after: Draft, file: str) -> Iterator[str]:
    ours = {(section.path, section.recipe): section for section in after.sections(file)}
    theirs = {(section.path, section.recipe): section for section in before.sections(file)}
    if not ours or not theirs:
        yield say("{file}: its text.", file=file)
        return
    for key in {**theirs, **ours}:
        section = ours.get(key) or theirs[key]
        old, new = _grid(before, theirs.get(key)), _grid(after, ours.get(key))
        where = file if section.is_csv else f"{file}, {spoken(section.title)}"
        yield from _of_table(where, old, new, section.once)


def _grid(draft: Draft, section: Section | None) -> Grid | None:
    return draft.grid(section) if section else None


def _of_table(where: str, old: Grid | None, new: Grid | None, once: bool) -> Iterator[str]:
    was, now = _rows(old), _rows(new)
    if once or len(was) == len(now):
        empty: dict[str, str] = {}
        for at in range(max(len(was), len(now))):
            one, other = (rows[at] if at < len(rows) else empty for rows in (was, now))
            yield from _of_row(where, one, other, once)
        return
    before, after = Counter(map(_all, was)), Counter(map(_all, now))
    for row in (before - after).elements():
        yield say("{where}: removed {row}", where=where, row=_said(row))
    for row in (after - before).elements():
        yield say("{where}: added {row}", where=where, row=_said(row))


def _rows(grid: Grid | None) -> list[dict[str, str]]:
    return [dict(zip(grid.names, row, strict=True)) for row in grid.rows] if grid else []


def _of_row(where: str, was: dict[str, str], now: dict[str, str], once: bool) -> Iterator[str]:
    names = {**was, **now}
    other = [name for name in names if was.get(name, "") != now.get(name, "")]
    if not other:
        return
    same = [cell for name, cell in now.items() if cell and name not in other]
    which = "" if once or not same else f", {' '.join(same[:_NAMING])}"
    each = (f"{name} {was.get(name) or spoken(EMPTY)} → {now.get(name) or spoken(EMPTY)}" for name in other)
    yield f"{where}{which}: {'; '.join(each)}"


def _all(row: dict[str, str]) -> Cells:
    return tuple(row.values())


def _said(row: Cells) -> str:
    return ", ".join(cell for cell in row if cell)
