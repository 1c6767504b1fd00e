"""The lot mark of a batch: what its sheet says and its jars bear."""

from __future__ import annotations

from datetime import date

from scheduler.plan_rows import Batch, Plan
from scheduler.views.tables import clock_times


def in_order(plan: Plan) -> list[Batch]:
    """All batches by day and by when they go on the ring."""
    times = clock_times(plan)
    return sorted(plan.batches, key=lambda batch: (batch.day, times.get(batch.id, (0, 0)), batch.id))


def lot_marks(plan: Plan) -> dict[str, str]:
    """Batch id → lot: the day it is cooked and its place in that day's order, ``260706-2``.

    One lot is one batch, so that a recall takes back as few jars as it can.
    """
    marks: dict[str, str] = {}
    of_day: dict[date, int] = {}
    for batch in in_order(plan):
        of_day[batch.day] = of_day.get(batch.day, 0) + 1
        marks[batch.id] = f"{batch.day:%y%m%d}-{of_day[batch.day]}"
    return marks
