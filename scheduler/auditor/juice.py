"""Rules 40 and 41: juice drips overnight, on a stand of its own, and is boiled the day after."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import timedelta

from scheduler.auditor.case import Case, grouped
from scheduler.auditor.finding import Finding, kg, same
from scheduler.plan_rows import Batch, Part


def _where(batch: Batch) -> str:
    return f"{batch.day.isoformat()}, batch {batch.id}"


def juice_is_of_a_batch_softened_the_day_before(case: Case) -> Iterator[Finding]:
    """Rule 40: of the same recipe, from the freezer alike, and of the same kg."""
    for batch in case.plan.batches:
        if batch.part != Part.BOIL:
            continue
        source = case.batches.get(batch.juice_of)
        if source is None or source.part != Part.SOFTEN:
            found = f"juice of {batch.juice_of!r}"
            yield Finding("juice", _where(batch), found, "the juice of a batch that was softened")
            continue
        wanted, found = _juice(batch), _juice(source)
        if wanted != found or not same(batch.kg, source.kg):
            yield Finding(
                "juice",
                _where(batch),
                f"juice of {source.id}: {found}, {kg(source.kg)}",
                f"{wanted}, {kg(batch.kg)}",
            )


def _juice(batch: Batch) -> str:
    """When the juice of a batch was softened, or ought to have been, and of what."""
    day = batch.day - timedelta(days=1) if batch.part == Part.BOIL else batch.day
    source = "from the freezer" if batch.from_freezer else "fresh"
    return f"{batch.recipe}, {source}, softened {day.isoformat()}"


def each_batch_that_softens_is_boiled_once(case: Case) -> Iterator[Finding]:
    """Rule 40: just one batch names it."""
    boiled = grouped((b for b in case.plan.batches if b.part == Part.BOIL), lambda batch: batch.juice_of)
    for batch in case.plan.batches:
        names = [other.id for other in boiled.get(batch.id, [])]
        if batch.part == Part.SOFTEN and len(names) != 1:
            found = f"its juice boiled as {' and '.join(names)}" if names else "its juice never boiled"
            yield Finding("juice", _where(batch), found, "boiled as one batch on the day after")


def only_juice_is_of_another_batch(case: Case) -> Iterator[Finding]:
    """Rule 40: a batch that does not boil juice names none."""
    for batch in case.plan.batches:
        if batch.part != Part.BOIL and batch.juice_of:
            found = f"{batch.part}, of the juice of {batch.juice_of}"
            yield Finding("juice", _where(batch), found, "no juice of another batch")


def the_drip_stands_hold_all_juice(case: Case) -> Iterator[Finding]:
    """Rule 41: a stand is taken on the day its batch softens and on the day its juice is boiled."""
    most = case.farm.kitchen.drip_stands.count
    taken = Counter(batch.day for batch in case.plan.batches if batch.part != Part.WHOLE)
    for day, count in sorted(taken.items()):
        if count > most:
            yield Finding("drip-stands", day.isoformat(), f"{count} stands taken", f"at most {most}")
