"""The usual changes of a try, each one step of a draft: a pan out, somebody away, more or less of a thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NoReturn

from scheduler.drafts.draft import Draft
from scheduler.drafts.grid import Cells, Grid, Section, csv_section, kitchen_sections
from scheduler.errors import Fault, InputFaults

LEAST_PERCENT, MOST_PERCENT = -100.0, 400.0
"""By how much an amount may be changed: from none of it to five times as much."""


@dataclass(frozen=True, slots=True)
class Lever:
    """A column of a file that is changed by a percentage in all rows whose ``name`` column says so.

    ``places`` are the decimals that are kept: those that the file's own figures have.
    """

    file: str
    column: str
    name: str
    places: int


PICKS = Lever("picks.csv", "kg", "fruit", 1)
SALES = Lever("punnets.csv", "kg", "fruit", 1)
PUNNET_PRICE = Lever("fruits.csv", "table_value", "fruit", 2)
JAR_PRICE = Lever("orders.csv", "price", "recipe", 2)
GOOD_PRICE = Lever("store.csv", "price", "good", 4)


def by_percent(draft: Draft, lever: Lever, name: str, percent: float) -> None:
    """More (or with a minus less) of something by so many per cent; all of it where ``name`` is empty.

    Raises InputFaults if the percentage is beyond its range, or no row is of that name.
    """
    if not LEAST_PERCENT <= percent <= MOST_PERCENT:
        allowed = f"from {LEAST_PERCENT:g} to {MOST_PERCENT:g} per cent"
        _refuse("per cent", f"{percent:g}", allowed, "Write -100 for none of it, 100 for twice as much.")
    section, grid = _table(draft, csv_section(lever.file))
    at, to = grid.names.index(lever.name), grid.names.index(lever.column)
    chosen = [row[at] == name or not name for row in grid.rows]
    if not any(chosen):
        _refuse(lever.name, name or "no rows", f"one that stands in {lever.file}", "Choose another one.")
    column = grid.columns[to]

    def scaled(cell: str) -> str:
        try:
            amount = float(column.in_its_unit(cell)) * (1 + percent / 100)
        except ValueError:  # no number: its fault is told where it stands
            return cell
        return f"{amount:.{lever.places}f}"

    rows = [
        _with(row, to, scaled(row[to])) if mine else row for row, mine in zip(grid.rows, chosen, strict=True)
    ]
    draft.edit(section, grid.with_rows(rows, grid.numbers))


def out_of_use(draft: Draft, what: str, name: str, days: Sequence[date], why: str = "") -> None:
    """A pan or a ring (``what``) is not used on some days. Raises InputFaults if no day is given."""
    _some_day(days)
    draft.begin("out.csv")
    section, grid = _table(draft, csv_section("out.csv"))
    known = {(cells["date"], cells[what]) for cells in _by_name(grid)}
    new = [
        _cells(grid, {"date": day.isoformat(), what: name, "why": why})
        for day in days
        if (day.isoformat(), name) not in known
    ]
    draft.edit(section, grid.with_rows([*grid.rows, *new], [*grid.numbers, *(None for _ in new)]))


def away(draft: Draft, person: str, days: Sequence[date]) -> None:
    """Somebody offers no shift on some days. Raises InputFaults if they offer none on any of them anyway."""
    _some_day(days)
    named = {day.isoformat() for day in days}

    def stays(cells: dict[str, str]) -> bool:
        return cells["person"] != person or cells["date"] not in named

    section, grid = _table(draft, csv_section("shifts.csv"))
    kept = [at for at, cells in enumerate(_by_name(grid)) if stays(cells)]
    if len(kept) == len(grid.rows):
        _refuse("days", ", ".join(sorted(named)), f"days with a shift of {person}", "Choose other days.")
    draft.edit(section, grid.with_rows([grid.rows[at] for at in kept], [grid.numbers[at] for at in kept]))


def freezer_kg(draft: Draft, kg: float) -> None:
    """The (first) freezer holds so many kg."""
    section, grid = _table(draft, _kitchen("freezer"))
    row = _with(grid.rows[0], grid.names.index("kg"), f"{kg:g}")
    draft.edit(section, grid.with_rows([row], grid.numbers))


def one_more_pan(draft: Draft, like: str, name: str) -> None:
    """Another pan just like one that is there. Raises InputFaults if there is none such."""
    section, grid = _table(draft, _kitchen("pan"))
    at = grid.names.index("name")
    twin = next((row for row in grid.rows if row[at] == like), None)
    if twin is None:
        allowed = "one of " + ", ".join(row[at] for row in grid.rows)
        _refuse("pan", like, allowed, "Choose a pan of the kitchen.")
    draft.edit(section, grid.with_rows([*grid.rows, _with(twin, at, name)], [*grid.numbers, None]))


def _table(draft: Draft, section: Section) -> tuple[Section, Grid]:
    """A table of a draft. Raises InputFaults where its file cannot be shown as one."""
    grid = draft.grid(section)
    if grid is None:
        raise InputFaults(list(draft.faults))
    return section, grid


def _kitchen(key: str) -> Section:
    return next(section for section in kitchen_sections() if section.path == (key,))


def _by_name(grid: Grid) -> list[dict[str, str]]:
    return [dict(zip(grid.names, row, strict=True)) for row in grid.rows]


def _cells(grid: Grid, said: dict[str, str]) -> Cells:
    return tuple(said.get(name, "") for name in grid.names)


def _with(row: Cells, at: int, cell: str) -> Cells:
    return (*row[:at], cell, *row[at + 1 :])


def _some_day(days: Sequence[date]) -> None:
    if not days:
        _refuse("days", "none", "one planned day at least", "Choose the days.")


def _refuse(where: str, found: str, allowed: str, remedy: str) -> NoReturn:
    raise InputFaults([Fault("the change", where, found, allowed, remedy)])
