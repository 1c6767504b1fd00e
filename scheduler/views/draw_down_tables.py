"""What the freezer is kept for: its lots with the batches that use them, and each recipe's frozen share."""

from __future__ import annotations

from datetime import date
from typing import Any

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.plan_rows import FreezerDay, Plan
from scheduler.views import words

NEAR = 30
"""Days before its date within which a lot is told to be near it (common practice, no source)."""
TRACE = 0.05
"""kg below which nothing is said."""


def lot_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """A row for each freezer lot, the one to go first on top: what it is kept for, and how near its date.

    kg as prepared; ``there`` is what lay there at the start and was frozen since.
    """
    by_lot: dict[str, list[FreezerDay]] = {}
    for row in sorted(plan.freezer, key=lambda row: row.day):
        by_lot.setdefault(row.lot, []).append(row)
    by_date = sorted(by_lot.items(), key=lambda item: item[1][0].use_by)
    found = [_lot(name, rows, plan, scenario) for name, rows in by_date]
    frame = pd.DataFrame([row for row in found if row["there kg"] > TRACE], columns=_COLUMNS)
    return frame.rename(columns=spoken)


_COLUMNS = [
    message("use by"),
    message("lot"),
    message("there kg"),
    message("kept for"),
    message("left kg"),
    message("take care"),
]


def _lot(name: str, rows: list[FreezerDay], plan: Plan, scenario: Scenario) -> dict[str, Any]:
    last, use_by = scenario.dates()[-1], rows[0].use_by
    left = rows[-1].left
    return {
        "use by": f"{words.day_name(use_by)} {use_by.year}",
        "lot": f"{scenario.fruit(rows[0].fruit).letter} {name}",
        "there kg": round(rows[0].opening + sum(row.frozen for row in rows), 1),
        "kept for": "; ".join(_uses(name, rows, plan)),
        "left kg": round(left, 1),
        "take care": _care(rows, left, use_by, last),
    }


def _uses(name: str, rows: list[FreezerDay], plan: Plan) -> list[str]:
    """Recipes and the days on which they take from a lot, in order."""
    kept: dict[str, list[date]] = {}
    for row in rows:
        if row.thawed <= TRACE:
            continue
        for recipe in dict.fromkeys(d.recipe for d in plan.draws if (d.day, d.lot) == (row.day, name)):
            kept.setdefault(recipe, []).append(row.day)
    return [f"{recipe} {_days(days)}" for recipe, days in kept.items()]


def _days(days: list[date]) -> str:
    if len(days) <= 2:
        return words.listed([words.day_name(day) for day in days])
    return say(
        "{n} days, {first} to {last}",
        n=len(days),
        first=words.day_name(days[0]),
        last=words.day_name(days[-1]),
    )


def _care(rows: list[FreezerDay], left: float, use_by: date, last: date) -> str:
    gone = sum(row.discarded for row in rows)
    if gone > TRACE:
        return say("{mass} thrown away", mass=words.mass(gone))
    used = [row.day for row in rows if row.thawed > TRACE]
    if left > TRACE and (use_by - last).days <= NEAR:
        return say("near its date at the end")
    if used and (use_by - used[-1]).days <= NEAR:
        return say("used near its date")
    return ""


def share_table(plan: Plan) -> pd.DataFrame:
    """For each recipe that is cooked, kg of prepared fruit that go in fresh and from the freezer."""
    rows = []
    for recipe in dict.fromkeys(mix.recipe for mix in plan.mixes):
        fresh = sum(mix.fresh_kg for mix in plan.mixes if mix.recipe == recipe)
        frozen = sum(mix.frozen_kg for mix in plan.mixes if mix.recipe == recipe)
        if fresh + frozen > TRACE:
            share = words.percent(frozen / (fresh + frozen))
            rows.append((recipe, round(fresh, 1), round(frozen, 1), share))
    return pd.DataFrame(
        rows, columns=[say("recipe"), say("fresh kg"), say("from the freezer kg"), say("of it frozen")]
    )
