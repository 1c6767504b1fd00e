"""How much a freezer freezes in a day without warming what it holds."""

from __future__ import annotations

from scheduler.physics import ranges

FREEZE_KG_PER_LITRE_DAY = 0.03204
"""Low end of the loading rule, 2 lb per cubic foot of freezer in 24 hours (the high end is 3 lb)."""


def freeze_kg_per_day(litres: float) -> float:
    """Most kg of unfrozen fruit that a freezer of ``litres`` takes in 24 hours and still freezes well.

    Litres above 0 and at most 100 000, as the maker states them. Source: USDA, Canning, Freezing,
    Storing Garden Produce (2 to 3 lb per cubic foot in 24 hours); the careful low end is used. Home and farm
    cabinet freezers only: for a blast freezer its maker's figure counts. Raises ValueError out of range.
    """
    ranges.above("freezer volume", litres, 0, 100_000, "litres", "Give the litres on the freezer's plate.")
    return FREEZE_KG_PER_LITRE_DAY * litres
