"""Rules 70 to 72: what is out of use, batches held, and batches ruled out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from scheduler.auditor.case import Case
from scheduler.auditor.course import COOKING, courses
from scheduler.auditor.finding import Finding, clock
from scheduler.domain.held import HeldBatch
from scheduler.plan_rows import Batch, Plan

SIZE = 0.1 + 1e-6
"""How far the kg of a batch may be from those of a held row."""


def nothing_out_of_use_is_used(case: Case) -> Iterator[Finding]:
    """Rule 70."""
    for row in case.farm.scenario.out:
        for batch in case.plan.batches:
            if batch.day == row.day and (batch.pan == row.pan or batch.ring == row.ring):
                where = f"{row.day.isoformat()}, batch {batch.id}"
                name = row.pan or row.ring
                yield Finding("out-of-use", where, f"{name}, which is out of use", "another one")


def each_held_row_has_a_batch_of_its_own(case: Case) -> Iterator[Finding]:
    """Rule 71."""
    rows = [row for row in case.farm.scenario.held if row.hold]
    begins = {run.batch.id: run.begins for run in courses(case)}
    met = batch_of_each(rows, case.plan.batches, begins)
    for n, row in enumerate(rows):
        if n not in met:
            yield Finding("held", str(row), _nearest(row, case.plan.batches, begins), "a batch of its own")


def nothing_ruled_out_is_cooked(case: Case) -> Iterator[Finding]:
    """Rule 72."""
    for row in case.farm.scenario.held:
        for batch in case.plan.batches if not row.hold else ():
            if _stands(row, batch):
                where = f"{row.day.isoformat()}, batch {batch.id}"
                yield Finding("ruled-out", where, f"{batch.recipe} in {batch.pan} on {batch.ring}", "none")


def batch_of_each(
    rows: Sequence[HeldBatch], batches: Sequence[Batch], begins: Mapping[str, int]
) -> dict[int, str]:
    """The batch that meets each row, by place of the row; ``begins`` says by id when cooking begins.

    As many rows as can be are met: where all batches of a row are taken, another row gives way if it can
    (augmenting paths; Kuhn 1955, from memory).
    """
    fit = [[batch.id for batch in batches if _meets(row, batch, begins)] for row in rows]
    taken: dict[str, int] = {}

    def place(n: int, seen: set[str]) -> bool:
        for name in fit[n]:
            if name not in seen:
                seen.add(name)
                if name not in taken or place(taken[name], seen):
                    taken[name] = n
                    return True
        return False

    for n in range(len(rows)):
        place(n, set())
    return {n: name for name, n in taken.items()}


def held_batches(rows: Sequence[HeldBatch], plan: Plan) -> dict[str, HeldBatch]:
    """The batches of a plan that are held, by id, each with the row that it meets."""
    held = [row for row in rows if row.hold]
    met = batch_of_each(held, plan.batches, cooking_begins(plan))
    return {name: held[n] for n, name in met.items()}


def cooking_begins(plan: Plan) -> dict[str, int]:
    """When the cooking of each batch begins, by id, in minutes from midnight."""
    begins: dict[str, int] = {}
    for stage in plan.stages:
        if stage.kind in COOKING:
            begins[stage.batch] = min(stage.start, begins.get(stage.batch, stage.start))
    return begins


def _stands(row: HeldBatch, batch: Batch) -> bool:
    return (row.day, row.recipe) == (batch.day, batch.recipe) and row.stands(batch.pan, batch.ring)


def _meets(row: HeldBatch, batch: Batch, begins: Mapping[str, int]) -> bool:
    in_time = row.start is None or begins.get(batch.id) == row.start
    return _stands(row, batch) and in_time and (row.kg is None or abs(row.kg - batch.kg) <= SIZE)


def _nearest(row: HeldBatch, batches: Sequence[Batch], begins: Mapping[str, int]) -> str:
    """What is cooked of the recipe that day."""
    same = [
        f"{batch.kg:g} kg in {batch.pan} on {batch.ring}"
        + (f" at {clock(begins[batch.id])}" if batch.id in begins else "")
        for batch in batches
        if (batch.day, batch.recipe) == (row.day, row.recipe)
    ]
    return "; ".join(same) or f"no {row.recipe} that day"
