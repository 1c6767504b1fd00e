"""Random kitchens that are closed now and then and cleaned down; the rest of them stays as it was."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from random import Random

from scheduler.domain.days import Closure
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.recipes import OtherIngredient, Recipe
from scheduler.domain.scenario import Situation

ALMONDS = OtherIngredient("almonds", 5.0, allergen=True)


def closed_now_and_then(seed: int, situation: Situation, whole_days: bool = True) -> Situation:
    """The same farm with closed times on most days, a clean down, and a full wash after allergens."""
    rng, scenario = Random(f"days {seed}"), situation.scenario
    kitchen = replace(
        scenario.kitchen,
        clean_down_minutes=rng.choice((0, 10, 30)),
        full_wash_minutes=rng.choice((None, 15, 25)),
    )
    closures = tuple(row for day in scenario.dates() for row in _closures(rng, kitchen, day, whole_days))
    recipes = tuple(_with_almonds(rng, recipe) for recipe in scenario.recipes)
    changed = replace(scenario, kitchen=kitchen, closures=closures, recipes=recipes)
    return replace(situation, scenario=changed)


def _with_almonds(rng: Random, recipe: Recipe) -> Recipe:
    return replace(recipe, others=(ALMONDS,)) if rng.random() < 0.5 else recipe


def _closures(rng: Random, kitchen: Kitchen, day: date, whole_days: bool) -> Iterator[Closure]:
    """A late opening, an early closing and a time in between, each now and then; rarely the whole day.

    They may overlap, touch, and reach beyond the kitchen's hours.
    """
    opens, closes = kitchen.open, kitchen.close
    middle = (opens + closes) // 10 * 5
    if whole_days and rng.random() < 0.1:
        yield Closure(day, opens, closes, "market")
    if rng.random() < 0.3:
        yield Closure(day, opens - 30, opens + rng.choice((15, 30)), "")
    if rng.random() < 0.3:
        yield Closure(day, closes - rng.choice((15, 45)), closes + rng.choice((0, 30)), "let to others")
    if rng.random() < 0.7:
        at = middle + rng.choice((-60, -30, 0, 60))
        yield Closure(day, at, at + rng.choice((5, 30, 60)), "deliveries")
