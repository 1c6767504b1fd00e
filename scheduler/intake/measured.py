"""The kitchen's own record, readings and logged boils, against the computed figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from scheduler.domain.fruit import Fruit
from scheduler.domain.kitchen import Measured, Pan, Ring
from scheduler.domain.recipes import Recipe
from scheduler.finished import into_pan_kg_per_kg, jam_kg_per_kg
from scheduler.intake import rows
from scheduler.physics.boil import boil_minutes
from scheduler.physics.calibration import boil_factor, set_offset

Boil = tuple[float, float]
"""Computed and observed minutes of one logged boil."""


def measured(readings: Sequence[rows.ReadingRow], boils: Sequence[Boil], altitude_m: float) -> Measured:
    """What the record says; the computed figures stand where there is none.

    Raises ValueError for a reading or a boil that is too far from the computed figure to be true.
    """
    found = Measured()
    if readings:
        offset = set_offset([row.celsius for row in readings], [row.solids for row in readings], altitude_m)
        found = Measured(offset.kelvin, offset.error_k, offset.readings)
    if boils:
        factor = boil_factor([computed for computed, _ in boils], [observed for _, observed in boils])
        found = Measured(
            found.set_offset_k, found.set_error_k, found.readings,
            factor.upper, factor.factor, factor.error, factor.batches,
        )  # fmt: skip
    return found


def computed_minutes(
    kg: float, recipe: Recipe, fruits: Mapping[str, Fruit], pan: Pan, ring: Ring, altitude_m: float
) -> float:
    """Minutes of boiling that the physics gives ``kg`` of prepared fruit at the recipe's usual shares."""
    water_off = kg * (into_pan_kg_per_kg(recipe) - jam_kg_per_kg(recipe, fruits))
    return float(boil_minutes(water_off, ring.kw, ring.efficiency, pan.diameter_cm, altitude_m))
