"""Which held rows leave no plan."""

from __future__ import annotations

from collections.abc import Collection

from scheduler.model.allocation import AllocationModel
from scheduler.model.mip import solve

SECONDS = 5.0
"""For each question of whether some rows leave a plan; where time runs out they are taken to leave one."""


def held_that_clash(model: AllocationModel) -> list[str]:
    """Held rows that cannot hold together in a model without a solution, each in words; none where it has
    none without them either. With any one of them left out the others may hold."""
    holds = model.x.holds
    if not holds or _impossible(model, ()):
        return []
    kept = list(holds)
    for h in holds:
        fewer = [other for other in kept if other != h]
        if _impossible(model, fewer):
            kept = fewer
    return [f"held: {model.cards.scenario.held[h]}" for h in kept]


def _impossible(model: AllocationModel, kept: Collection[int]) -> bool:
    fixed = {var.index: float(h in kept) for h, var in model.x.holds.items()}
    model.model.minimize(0)
    return solve(model.model, model.masses, SECONDS, 1, 0, lambda *_: False, fixed=fixed).infeasible
