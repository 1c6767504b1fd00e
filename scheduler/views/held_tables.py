"""What was given of a plan beforehand: pans and rings out of use, batches held and ruled out."""

from __future__ import annotations

import pandas as pd

from scheduler.check.held import held_batches
from scheduler.domain.held import OutOfUse
from scheduler.domain.scenario import Scenario
from scheduler.plan import Batch, Plan
from scheduler.views import words

SIGN = "◆"
"""Stands before a batch that is held, wherever there is no room for the word."""


def is_held(batch: Batch, plan: Plan, scenario: Scenario) -> bool:
    """Whether a batch is one that was held."""
    return bool(scenario.held) and batch.id in held_batches(scenario.held, plan)


def out_of_use(row: OutOfUse) -> str:
    """``big copper is out of use: cracked``."""
    why = f": {row.why}" if row.why else ""
    return f"{row.pan or row.ring} is out of use{why}"


def out_table(scenario: Scenario) -> pd.DataFrame:
    """Pans and rings that are out, by day."""
    return pd.DataFrame(
        {"day": words.day_name(row.day), "out of use": row.pan or row.ring, "why": row.why}
        for row in scenario.out
    )


def held_table(scenario: Scenario) -> pd.DataFrame:
    """Batches held and ruled out; what is left open is empty."""
    return pd.DataFrame(
        {
            "day": words.day_name(row.day),
            "recipe": row.recipe,
            "pan": row.pan,
            "ring": row.ring,
            "begins to cook": "" if row.start is None else words.clock(row.start),
            "kg": "" if row.kg is None else f"{row.kg:g}",
            "": "held" if row.hold else "ruled out",
        }
        for row in scenario.held
    )
