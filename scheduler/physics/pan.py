"""The preserving pan: its surface, how deep a mix stands in it, how much it holds below the foam."""

from __future__ import annotations

import math

from scheduler.physics import ranges
from scheduler.physics.quantity import Q
from scheduler.physics.solids import mix_litres

MOST_FILL = 0.5
"""Fruit and sugar fill a pan to half at most, because the boil rises. Source: Ministry of Agriculture
Bulletin 21, Home Preservation of Fruit and Vegetables, from memory; common practice."""

FOAMING_FILL = 0.33
"""A prudent fill for fruit that foams much: a third to two fifths. Common practice, no source."""


def surface_m2(diameter_cm: Q | float) -> Q | float:
    """Open surface (m²) of a straight-sided pan 10 to 150 cm wide. Raises ValueError out of range."""
    ranges.diameter(diameter_cm)
    return math.pi * (diameter_cm / 200) ** 2


def depth_cm(litres: Q | float, diameter_cm: Q | float) -> Q | float:
    """Depth (cm) at which ``litres`` (0 to 1000) stand in a pan 10 to 150 cm wide.

    Raises ValueError out of range.
    """
    ranges.within("litres in the pan", litres, 0, 1000, "litres", "Give litres, never below nothing.")
    return litres / 10 / surface_m2(diameter_cm)


def largest_fruit_kg(
    litres: Q | float,
    fill: Q | float,
    sugar_per_kg: Q | float,
    water_per_kg: Q | float = 0.0,
    kept: Q | float = 1.0,
) -> Q | float:
    """Prepared fruit (kg) of the largest batch in a pan of ``litres`` (above 0, at most 1000).

    ``fill`` is the share of the pan that the mix may take before the boil rises (above 0, at most 1; see
    ``MOST_FILL`` and ``FOAMING_FILL``). Sugar and water are kg per kg of fruit; ``kept`` is the share of
    fruit and water that is still in the pan with the sugar (above 0, at most 1; below 1 where strained).
    All else of the recipe scales with the fruit. Raises ValueError out of range.
    """
    ranges.above("volume of the pan", litres, 0, 1000, "litres", "Give litres to the brim.")
    ranges.above("fill of the pan", fill, 0, 1, "as a fraction", "Give half full as 0.5.")
    ranges.above("kept share", kept, 0, 1, "as a fraction", "Give 60 % as 0.6.")
    return litres * fill / mix_litres(kept * 1.0, sugar_per_kg, kept * water_per_kg)
