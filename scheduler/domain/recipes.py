"""Recipes: which fruit, what goes in, how far it is boiled, what it is potted in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FruitShare:
    """The band in which a fruit's share of the prepared fruit of a batch must lie (fractions)."""

    fruit: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """Quantities are per kg of prepared fruit; ``final_solids`` and ``pan_loss`` are fractions.

    ``frozen_share`` is the most that fruit from the freezer may make up; at 1 the recipe may be
    cooked wholly from the freezer. ``jar`` and ``lid`` name goods of the dry store; ``jar_kg`` is
    the net mass of a jar. ``longest_boil_minutes`` counts the re-boils that the plan keeps time
    for. ``most_jars`` is what can be sold before best before, jars on hand included. ``ph`` is
    the measured acidity of the finished preserve.
    """

    name: str
    fruits: tuple[FruitShare, ...]
    sugar_per_kg: float
    water_per_kg: float
    lemons_per_kg: float
    pectin_g_per_kg: float
    final_solids: float
    ph: float
    frozen_share: float
    dissolve_minutes: int
    longest_boil_minutes: int
    pan_loss: float
    jar: str
    lid: str
    jar_kg: float
    jars_on_hand: int
    most_jars: int
    heat_step: str
