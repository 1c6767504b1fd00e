"""Windows of a few days that are planned anew while the others stay as they are."""

from __future__ import annotations

from scheduler.model.allocation import Allocation, AllocationModel


def windows(days: int) -> list[tuple[int, ...]]:
    """Neighbouring days to plan anew together: two in a plan of days, a week in a plan of weeks."""
    size, step = (2, 1) if days <= 14 else (7, 4)
    starts = range(0, max(1, days - size + 1), step)
    return [tuple(range(start, min(days, start + size))) for start in starts]


def fixed_outside(
    model: AllocationModel, kept: Allocation, window: tuple[int, ...], *, everybody: bool
) -> dict[int, float]:
    """Values by variable that keep the timetables of all days outside a window: their batches, freezing and
    people, and no more of the work beside them. With ``everybody`` people are kept inside it too."""
    x = model.x
    fixed = {
        var.index: float(kept.count[d][m])
        for d, row in enumerate(x.count)
        for m, var in enumerate(row)
        if d not in window
    }
    fixed |= {var.index: kept.freeze.get(key, 0.0) for key, var in x.freeze.items() if key[1] not in window}
    for chores in (x.label_steps, x.takes_out):
        fixed |= {var.index: kept.values[var.index] for d, var in enumerate(chores) if d not in window}
    held, days = model.cards.scenario.held, [model.cards.dates[d] for d in window]
    fixed |= {
        var.index: float(kept.held.get(h) == m) for (h, m), var in x.meets.items() if held[h].day not in days
    }
    return fixed | {
        var.index: float(i in kept.staff)
        for i, var in enumerate(x.staff)
        if everybody or model.cards.staff[i].day not in window
    }
