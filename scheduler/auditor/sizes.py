"""How many kg of prepared fruit a batch is of: by its pan's fill step, drip stand or juice."""

from __future__ import annotations

from scheduler.auditor.panful import NoCard, down, panful
from scheduler.domain.kitchen import Kitchen, Pan
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.physics import solids
from scheduler.plan_rows import Part


def parts_of(recipe: Recipe) -> tuple[Part, ...]:
    """The parts in which batches of a recipe are made."""
    return (Part.SOFTEN, Part.BOIL) if recipe.two_days else (Part.WHOLE,)


def largest_kg(recipe: Recipe, part: Part, pan: Pan) -> float:
    """K: the most kg whose fullest litres stay within the pan's safe fill, not rounded."""
    kept = recipe.kept_share
    sugar_in = solids.mix_litres(kept, recipe.sugar_per_kg, kept * recipe.liquid_per_kg)
    fullest = {Part.SOFTEN: softening_litres(recipe), Part.BOIL: sugar_in}.get(part)
    if fullest is None:
        fullest = max(softening_litres(recipe), sugar_in) if recipe.soften_minutes > 0 else sugar_in
    return pan.litres * pan.fill / fullest


def softening_litres(recipe: Recipe) -> float:
    """Litres of 1 kg of fruit with its water, before the sugar."""
    return solids.mix_litres(1, 0, recipe.liquid_per_kg)


def kg_of_step(kitchen: Kitchen, recipe: Recipe, part: Part, pan: Pan, step: float) -> float:
    """kg of a pan filled to ``step`` of its safe fill, to 0.1 kg; of what drips, at most a stand full."""
    units = down(step * largest_kg(recipe, part, pan), 0.1)
    if part == Part.SOFTEN:
        units = min(units, down(kitchen.drip_stands.litres / softening_litres(recipe), 0.1))
    return units / 10


def juice_kg(scenario: Scenario, recipe: Recipe, from_freezer: bool) -> frozenset[float]:
    """The kg of all batches of a recipe that soften: those of some pan, ring and step with a card."""
    kitchen = scenario.kitchen
    ways = [
        (pan, ring, kg_of_step(kitchen, recipe, Part.SOFTEN, pan, step))
        for pan in kitchen.pans
        for ring in kitchen.rings
        if pan.diameter_cm <= ring.largest_pan_cm + 1e-9
        for step in kitchen.fill_steps
    ]
    return frozenset(
        kg
        for pan, ring, kg in ways
        if not isinstance(panful(scenario, recipe, Part.SOFTEN, pan, ring, kg, from_freezer, ()), NoCard)
    )
