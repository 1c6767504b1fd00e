"""Shifts put into ``shifts.csv`` and taken out of it, as people say when they can and cannot come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from scheduler.drafts.draft import Draft
from scheduler.drafts.grid import Cells, Grid, csv_section
from scheduler.errors import InputFaults
from scheduler.intake.kinds import Clock
from scheduler.languages import say
from scheduler.views import words

FILE = "shifts.csv"
LEAST_MINUTES = 60
"""What is left of a shift is kept from this length on (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A row of the file; ``start`` and ``end`` are minutes from midnight, ``overtime`` minutes after it."""

    start: int
    end: int
    overtime: int = 0

    def __str__(self) -> str:
        """``08:00 to 12:30``."""
        return say("{first} to {last}", first=words.clock(self.start), last=words.clock(self.end))


def offers(draft: Draft, person: str, day: date) -> list[Offer]:
    """The shifts that a person offers on a day. Raises InputFaults while the draft has faults."""
    grid = _grid(draft)
    rows = (_named(row, grid) for row in grid.rows)
    return [_offer(row) for row in rows if _is_of(row, person, day)]


def with_offer(before: Sequence[Offer], start: int, end: int) -> list[Offer]:
    """One more shift to choose from, unless it is there already."""
    there = any((each.start, each.end) == (start, end) for each in before)
    return [*before, *([] if there else [Offer(start, end)])]


def without(before: Sequence[Offer], start: int, end: int) -> list[Offer]:
    """What is left of shifts when nobody is there between two times: the parts before and after, each from an
    hour on, of which one is used. A part that ends earlier than its shift has no overtime."""
    left: list[Offer] = []
    for each in before:
        if end <= each.start or start >= each.end + each.overtime:
            left.append(each)
            continue
        parts = (
            Offer(each.start, min(each.end, start)),
            Offer(max(each.start, end), each.end, each.overtime),
        )
        left += [part for part in parts if part.end - part.start >= LEAST_MINUTES]
    return list(dict.fromkeys(left))


def told(before: Sequence[Offer], after: Sequence[Offer]) -> str:
    """What becomes of the shifts of a day: ``takes out 08:00 to 12:30; puts in 08:00 to 10:00``."""
    gone = ", ".join(str(each) for each in before if each not in after)
    new = ", ".join(str(each) for each in after if each not in before)
    parts = [say("takes out {shifts}", shifts=gone)] * bool(gone)
    parts += [say("puts in {shifts}", shifts=new)] * bool(new)
    return "; ".join(parts) or say("changes no shift")


def put(draft: Draft, person: str, day: date, after: Sequence[Offer]) -> None:
    """Make ``after`` the shifts that a person offers on a day, as one step of the draft; rows that stay keep
    their place and writing. Raises InputFaults while the draft has faults."""
    grid = _grid(draft)
    rows, numbers, wanted = [], [], list(after)
    for row, number in zip(grid.rows, grid.numbers, strict=True):
        cells = _named(row, grid)
        if _is_of(cells, person, day):
            if _offer(cells) not in wanted:
                continue
            wanted.remove(_offer(cells))
        rows.append(row)
        numbers.append(number)
    for each in wanted:
        told = {
            "date": day.isoformat(),
            "person": person,
            "start": words.clock(each.start),
            "end": words.clock(each.end),
            "overtime_minutes": str(each.overtime),
        }
        rows.append(tuple(told.get(name, "") for name in grid.names))
        numbers.append(None)
    draft.edit(csv_section(FILE), replace(grid, rows=tuple(rows), numbers=tuple(numbers)))


def _grid(draft: Draft) -> Grid:
    if draft.faults:
        raise InputFaults(list(draft.faults))
    grid = draft.grid(csv_section(FILE))
    assert grid is not None  # a draft without faults has no text that is no table
    return grid


def _named(row: Cells, grid: Grid) -> dict[str, str]:
    return dict(zip(grid.names, row, strict=True))


def _is_of(cells: dict[str, str], person: str, day: date) -> bool:
    return cells["person"].strip() == person and cells["date"].strip() == day.isoformat()


def _offer(cells: dict[str, str]) -> Offer:
    clock = Clock()
    overtime = cells["overtime_minutes"].strip() or "0"
    return Offer(clock.read(cells["start"]), clock.read(cells["end"]), int(float(overtime)))
