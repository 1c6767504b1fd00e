"""Fruit as paper tells it: letters, and the pattern that goes with the first of them."""

from __future__ import annotations

from typing import Any

from scheduler.domain.scenario import Scenario
from scheduler.plan_rows import Batch, Plan
from scheduler.views import words


def mark(batch: Batch, plan: Plan, scenario: Scenario) -> dict[str, Any]:
    """``letters`` of a batch's fruits, the most kg first, and the number of the first one's ``pattern``."""
    letters = words.letters(batch, plan, scenario)
    first = next(i for i, fruit in enumerate(scenario.fruits) if letters.startswith(fruit.letter))
    return {"letters": letters, "pattern": first}


def fruit_key(plan: Plan, scenario: Scenario) -> list[dict[str, Any]]:
    """Letter, name and pattern of each fruit that is cooked in the plan."""
    cooked = {mix.fruit for mix in plan.mixes}
    return [
        {"letters": fruit.letter, "name": fruit.name, "pattern": i}
        for i, fruit in enumerate(scenario.fruits)
        if fruit.name in cooked
    ]
