"""What was given of a plan beforehand: pans and rings out of use, batches held and ruled out."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from scheduler.auditor.held import cooking_begins, held_batches
from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.scenario import Scenario
from scheduler.languages import say
from scheduler.plan_rows import Batch, Plan
from scheduler.views import words

SIGN = "◆"
"""Stands before a batch that is held, wherever there is no room for the word."""


def is_held(batch: Batch, plan: Plan, scenario: Scenario) -> bool:
    """Whether a batch is one that was held."""
    return bool(scenario.held) and batch.id in held_batches(scenario.held, plan)


def row_that_holds(batch: Batch, plan: Plan, scenario: Scenario) -> HeldBatch | None:
    """The row that a batch meets, if any."""
    return held_batches(scenario.held, plan).get(batch.id)


def as_row(
    batch: Batch, plan: Plan, *, time: bool = True, pan: bool = True, ring: bool = True, size: bool = True
) -> HeldBatch:
    """The row that holds a batch in its time, pan, ring and size, or in some of these."""
    return HeldBatch(
        batch.day,
        batch.recipe,
        batch.pan if pan else "",
        batch.ring if ring else "",
        cooking_begins(plan).get(batch.id) if time else None,
        round(batch.kg, 1) if size else None,
    )


def held_sign() -> str:
    """The sign with its word."""
    return say("{sign} held", sign=SIGN)


def _fate(row: HeldBatch) -> str:
    return say("held") if row.hold else say("ruled out")


def told(row: HeldBatch) -> str:
    """``Mon 6 Jul, strawberry jam in big copper on gas left at 08:35, 6.3 kg: held``."""
    return f"{words.day_name(row.day)}, {row.recipe}{settled(row)}: {_fate(row)}"


def settled(row: HeldBatch) -> str:
    """What a row settles beside day and recipe, `` in big copper at 08:35``; empty where nothing."""
    pan = say(" in {pan}", pan=row.pan) if row.pan else ""
    ring = say(" on {ring}", ring=row.ring) if row.ring else ""
    start = "" if row.start is None else say(" at {time}", time=words.clock(row.start))
    size = "" if row.kg is None else f", {words.mass(row.kg)}"
    return f"{pan}{ring}{start}{size}"


def not_in(rows: Sequence[HeldBatch], plan: Plan) -> frozenset[HeldBatch]:
    """Rows that a plan made before them does not keep to: no batch held by it, or one that it rules out."""
    kept = set(held_batches(rows, plan).values())

    def cooked(row: HeldBatch) -> bool:
        return any(
            (batch.day, batch.recipe) == (row.day, row.recipe) and row.stands(batch.pan, batch.ring)
            for batch in plan.batches
        )

    return frozenset(row for row in rows if (row not in kept if row.hold else cooked(row)))


def out_of_use(row: OutOfUse) -> str:
    """``big copper is out of use: cracked``."""
    why = f": {row.why}" if row.why else ""
    return say("{what} is out of use", what=row.pan or row.ring) + why


def out_table(scenario: Scenario) -> pd.DataFrame:
    """Pans and rings that are out, by day."""
    return pd.DataFrame(
        {say("day"): words.day_name(row.day), say("out of use"): row.pan or row.ring, say("why"): row.why}
        for row in scenario.out
    )


def held_table(scenario: Scenario) -> pd.DataFrame:
    """Batches held and ruled out; what is left open is empty."""
    return pd.DataFrame(
        {
            say("day"): words.day_name(row.day),
            say("recipe"): row.recipe,
            say("pan"): row.pan,
            say("ring"): row.ring,
            say("begins to cook"): "" if row.start is None else words.clock(row.start),
            "kg": "" if row.kg is None else words.general(row.kg),
            "": _fate(row),
        }
        for row in scenario.held
    )
