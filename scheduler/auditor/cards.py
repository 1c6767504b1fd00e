"""Rule 16: every batch is one that its pan, ring and recipe allow, and its figures are the card's."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.auditor.case import Case, repeated
from scheduler.auditor.finding import Finding, kg, same
from scheduler.auditor.panful import NoCard
from scheduler.auditor.sizes import largest_kg
from scheduler.plan_rows import Batch, Part

CELSIUS = 0.05 + 1e-9
"""Tolerance of a batch's two temperatures, in K."""

SHARE = 0.001 + 1e-9
"""Tolerance of how far juice fills a pan, a share of its safe fill."""


def _where(batch: Batch) -> str:
    return f"{batch.day.isoformat()}, batch {batch.id}"


def batch_ids_are_unique(case: Case) -> Iterator[Finding]:
    for name in repeated(case.plan.batches, lambda batch: batch.id):
        yield Finding("batch-card", f"batch {name}", "more than one batch of this id", "one")


def each_fill_step_is_one_of_the_kitchen(case: Case) -> Iterator[Finding]:
    steps = case.farm.kitchen.fill_steps
    for batch in case.plan.batches:
        if batch.part != Part.BOIL and not any(same(batch.fill_step, step, 1e-9) for step in steps):
            allowed = ", ".join(f"{step:g}" for step in steps)
            yield Finding("batch-card", f"{_where(batch)}, fill step", f"{batch.fill_step:g}", allowed)


def juice_fills_its_pan_as_it_says(case: Case) -> Iterator[Finding]:
    """Of juice, the fill step is what its kg are of the pan's largest."""
    for batch in case.plan.batches:
        if batch.part == Part.BOIL:
            recipe, pan = case.farm.recipes[batch.recipe], case.farm.pans[batch.pan]
            share = batch.kg / largest_kg(recipe, batch.part, pan)
            if not same(batch.fill_step, share, SHARE):
                where = f"{_where(batch)}, fill step"
                yield Finding("batch-card", where, f"{batch.fill_step:.4f}", f"{share:.4f}")


def each_pan_fits_its_ring(case: Case) -> Iterator[Finding]:
    for batch in case.plan.batches:
        pan, ring = case.farm.pans[batch.pan], case.farm.rings[batch.ring]
        if pan.diameter_cm > ring.largest_pan_cm + 1e-9:
            found = f"{pan.name} of {pan.diameter_cm:g} cm on {ring.name}"
            yield Finding("batch-card", _where(batch), found, f"at most {ring.largest_pan_cm:g} cm")


def each_batch_has_a_card(case: Case) -> Iterator[Finding]:
    for batch in case.plan.batches:
        card = case.card(batch)
        if isinstance(card, NoCard):
            yield Finding("batch-card", _where(batch), f"no card: {card.why}", "a batch with a card")


def each_batch_is_as_on_its_card(case: Case) -> Iterator[Finding]:
    for batch in case.plan.batches:
        card = case.card(batch)
        if isinstance(card, NoCard):
            continue
        for name, found, allowed in (
            ("kg", batch.kg, card.kg),
            ("sugar", batch.sugar_kg, card.sugar_kg),
        ):
            if not same(found, allowed):
                yield Finding("batch-card", f"{_where(batch)}, {name}", kg(found), kg(allowed))
        if batch.filled != card.filled:
            yield Finding("batch-card", f"{_where(batch)}, jars", _filled(batch.filled), _filled(card.filled))
        for name, count, right in (
            ("lemons", batch.lemons, card.lemons),
            ("pectin, g", batch.pectin_g, card.pectin_g),
        ):
            if count != right:
                yield Finding("batch-card", f"{_where(batch)}, {name}", str(count), str(right))
        for name, found, allowed in (
            ("set temperature", batch.set_temperature_c, card.set_temperature_c),
            ("last jar", batch.last_jar_c, card.last_jar_c),
        ):
            if not same(found, allowed, CELSIUS):
                where = f"{_where(batch)}, {name}"
                yield Finding("batch-card", where, f"{found:.2f} °C", f"{allowed:.2f} °C")


def _filled(sizes: tuple[int, ...]) -> str:
    return " and ".join(str(jars) for jars in sizes) or "none"
