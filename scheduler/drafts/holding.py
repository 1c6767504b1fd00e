"""Batches held, ruled out and let go: rows of held.csv, saved in one act or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from scheduler.domain.held import HeldBatch
from scheduler.drafts.draft import Draft
from scheduler.drafts.grid import Cells, Grid, csv_section
from scheduler.errors import FilesChanged, InputFaults
from scheduler.intake import situation_of

HELD = "held.csv"


def settle(
    folder: Path, now: datetime, add: Sequence[HeldBatch] = (), let_go: Sequence[HeldBatch] = ()
) -> Path | None:
    """Add rows to held.csv of a scenario folder and remove others; the folder that keeps what was there.

    Nothing is written where it raises: InputFaults if the scenario then has faults, as where rows contradict
    each other; FilesChanged if a row to let go stands there no more; OSError if the disk refuses. A file left
    without rows goes, so that the scenario is what it was before anything was held.
    """
    draft = Draft(folder)
    draft.begin(HELD)
    section = csv_section(HELD)
    grid = draft.grid(section)
    if grid is None:
        raise InputFaults(list(draft.faults))
    gone = _places(draft, let_go)
    kept = [at for at in range(len(grid.rows)) if at not in gone]
    rows = [*(grid.rows[at] for at in kept), *(_cells_of(row, grid) for row in add)]
    if rows:
        numbers = [*(grid.numbers[at] for at in kept), *(None for _ in add)]
        draft.edit(section, grid.with_rows(rows, numbers))
    else:
        draft.leave_out(HELD)
    return draft.save(now)


def _cells_of(row: HeldBatch, grid: Grid) -> Cells:
    """A row of held.csv under the columns of ``grid``; what is open stays empty."""
    said = {
        "date": row.day.isoformat(),
        "recipe": row.recipe,
        "pan": row.pan,
        "ring": row.ring,
        "start": "" if row.start is None else f"{row.start // 60:02d}:{row.start % 60:02d}",
        "kg": "" if row.kg is None else f"{row.kg:.1f}",
        "hold": "yes" if row.hold else "no",
    }
    return tuple(said.get(name, "") for name in grid.names)


def _places(draft: Draft, rows: Sequence[HeldBatch]) -> set[int]:
    """Where rows stand in the file, each in a place of its own. Raises InputFaults and FilesChanged."""
    if not rows:
        return set()
    stand = situation_of(draft.texts, draft.step.name).scenario.held
    places: set[int] = set()
    for row in rows:
        at = next((n for n, each in enumerate(stand) if each == row and n not in places), None)
        if at is None:
            raise FilesChanged((HELD,))
        places.add(at)
    return places
