"""Preserves for the tests of the law: grams for 100 g of preserve."""

from __future__ import annotations

from scheduler.law.composition import Composition, Ingredient, Kind, Role


def preserve(
    fruits: dict[str, float],
    *,
    kind: Kind = Kind.JAM,
    sugar: float = 60,
    solids: float = 0.65,
    water: float = 100,
    endocarp: float | None = None,
    left_out: float = 0,
    more: tuple[Ingredient, ...] = (),
) -> Composition:
    """Fruit and sugar, with water enough that no less goes in than comes out."""
    pan = [Ingredient(name, grams, Role.FRUIT) for name, grams in fruits.items()]
    pan += [Ingredient("sugar", sugar, Role.SUGAR), Ingredient("water", water, Role.WATER), *more]
    return Composition(kind, tuple(pan), solids, endocarp, left_out)
