"""The finished preserve of a recipe: what law and safety look at."""

from __future__ import annotations

from collections.abc import Mapping

from scheduler.domain.fruit import Fruit
from scheduler.domain.recipes import Recipe
from scheduler.law.composition import Composition, Ingredient, Kind, Role
from scheduler.physics import solids

LEMON_GRAMS = 45.0
"""Juice of one lemon; common practice, from memory."""


def usual_shares(recipe: Recipe) -> tuple[float, ...]:
    """Shares of the prepared fruit (fractions, adding to 1), in the recipe's order: each band filled to the
    same part of its width."""
    low = sum(share.low for share in recipe.fruits)
    width = sum(share.high - share.low for share in recipe.fruits)
    part = (1 - low) / width if width else 0.0
    return tuple(share.low + part * (share.high - share.low) for share in recipe.fruits)


def jam_kg_per_kg(recipe: Recipe, fruits: Mapping[str, Fruit]) -> float:
    """Kg of finished preserve from a kg of prepared fruit at the usual shares; ``fruits`` by name."""
    sugars = [fruits[share.fruit].solids for share in recipe.fruits]
    fruit_solids = solids.mix_of(usual_shares(recipe), sugars)
    return float(solids.jam_kg(1.0, fruit_solids, recipe.sugar_per_kg, recipe.final_solids))


def composition_of(recipe: Recipe, fruits: Mapping[str, Fruit]) -> Composition:
    """Grams at mixing for 100 g of finished preserve, at the usual shares of its fruits.

    Raises ValueError where less goes in than comes out.
    """
    per_kg = 100 / jam_kg_per_kg(recipe, fruits)
    parts = [
        *(
            (share.fruit, part, Role.FRUIT)
            for share, part in zip(recipe.fruits, usual_shares(recipe), strict=True)
        ),
        ("sugar", recipe.sugar_per_kg, Role.SUGAR),
        ("water", recipe.water_per_kg, Role.WATER),
        ("lemon juice", recipe.lemons_per_kg * LEMON_GRAMS / 1000, Role.ACID),
        ("pectin", recipe.pectin_g_per_kg / 1000, Role.PECTIN),
    ]
    ingredients = tuple(Ingredient(name, kg * per_kg, role) for name, kg, role in parts if kg > 0)
    return Composition(Kind.JAM, ingredients, recipe.final_solids)
