"""Freezing and thawing: heat, hours, kg a day, energy and room.

Fruit is taken to freeze at one temperature, ``FREEZES_C``; in truth its water freezes by and by, which
leaves the heat the same. ``water`` is the fruit's water as a fraction of mass.
"""

from __future__ import annotations

from enum import StrEnum

from scheduler.physics import ranges
from scheduler.physics.quantity import Q, either

FREEZES_C = -1.0
"""Soft fruit begins to freeze at -0.6 to -1.8 °C. Source: Freezing point and properties of foods
(ASHRAE-type table)."""

COEFFICIENT = 1.5
"""Heat that a household freezer moves for each unit of electricity, 1.2 to 2; from memory, no source."""

STILL_AIR_W_PER_M2_K = 8.0
MOVED_AIR_W_PER_M2_K = 10.0
"""Heat passed from fruit to air in a chest freezer, in an upright one with a fan; from memory, no source."""

LOOSE_W_PER_M_K = 0.4
"""Conductivity of frozen berries with air between them: less than the 0.5 of shelled peas at 0.7 kg a litre
(ASHRAE-type table), as berries lie looser; both from memory."""

FREEZE_KG_PER_LITRE_DAY = 0.03204
"""Low end of the loading rule, 2 lb per cubic foot of freezer in 24 hours (the high end is 3 lb)."""


class Shape(StrEnum):
    """A single berry, fruit packed in a tube, or a layer cooled from both faces."""

    SPHERE = "sphere"
    CYLINDER = "cylinder"
    SLAB = "slab"


_PLANK: dict[Shape, tuple[float, float]] = {
    Shape.SLAB: (1 / 2, 1 / 8),
    Shape.CYLINDER: (1 / 4, 1 / 16),
    Shape.SPHERE: (1 / 6, 1 / 24),
}
"""Factors P and R. Source: Encyclopaedia of Food Sciences and Nutrition, Plank's equation."""


def heat_above(water: Q | float) -> Q | float:
    """Specific heat (kJ/(kg K)) of fruit above freezing. Source: Siebel (1892), from memory."""
    _check_water(water)
    return 0.837 + 3.349 * water


def heat_below(water: Q | float) -> Q | float:
    """Specific heat (kJ/(kg K)) of frozen fruit. Source: Siebel (1892), from memory."""
    _check_water(water)
    return 0.837 + 1.256 * water


def latent_kj_per_kg(water: Q | float) -> Q | float:
    """Heat (kJ) that freezes or thaws one kg of fruit. Source: Siebel (1892), from memory."""
    _check_water(water)
    return 335.0 * water


def thaw_kj_per_kg(water: Q | float, from_c: Q | float) -> Q | float:
    """Heat (kJ) that brings one kg of fruit from ``from_c`` (-60 to 130 °C) to just thawed.

    Warming to ``FREEZES_C`` and the melting of the fruit's own water; nothing for fruit that is not
    frozen. Raises ValueError out of range.
    """
    ranges.within("temperature of the fruit", from_c, -60, 130, "°C", "Give degrees Celsius.")
    heat = latent_kj_per_kg(water) + heat_below(water) * (FREEZES_C - from_c)
    return either(from_c < FREEZES_C, heat, 0.0)


def freeze_kj_per_kg(water: Q | float, from_c: Q | float, to_c: Q | float) -> Q | float:
    """Heat (kJ) to take out of one kg of fruit at ``from_c`` until it is frozen at ``to_c``.

    Cooling, freezing, cooling on. ``from_c`` is -1 to 60 °C, ``to_c`` between -60 and -1 °C. Raises
    ValueError out of range.
    """
    ranges.within("temperature before freezing", from_c, FREEZES_C, 60, "°C", "Fruit must not be frozen yet.")
    ranges.between("temperature of the freezer", to_c, -60, FREEZES_C, "°C", "Give -18 with its sign.")
    return heat_above(water) * (from_c - FREEZES_C) + thaw_kj_per_kg(water, to_c)


def freeze_kwh_per_kg(
    water: Q | float, from_c: Q | float, to_c: Q | float, coefficient: Q | float = COEFFICIENT
) -> Q | float:
    """Electricity (kWh) that freezing one kg takes; keeping it frozen is not counted.

    ``coefficient`` of performance: heat moved per unit of electricity, above 0, at most 10. Temperatures
    as for ``freeze_kj_per_kg``. Raises ValueError out of range.
    """
    remedy = "Household freezers reach 1 to 2."
    ranges.above("coefficient of performance", coefficient, 0, 10, "", remedy)
    return freeze_kj_per_kg(water, from_c, to_c) / 3600 / coefficient


def plank_hours(
    shape: Shape,
    size_m: Q | float,
    air_c: Q | float,
    *,
    kj_per_kg: Q | float,
    surface_w_per_m2_k: Q | float,
    frozen_w_per_m_k: Q | float,
    kg_per_m3: Q | float,
    freezes_c: Q | float = FREEZES_C,
) -> Q | float:
    """Hours until fruit is frozen through, by Plank's equation.

    ``size_m`` is the diameter of a sphere or cylinder, the thickness of a slab (above 0, at most 1 m).
    ``air_c`` is below ``freezes_c`` (-5 to 0 °C). ``kj_per_kg`` is the latent heat, as Plank has it; with the
    whole of ``freeze_kj_per_kg`` in its place, cooling before and after is counted too.
    ``surface_w_per_m2_k`` passes from fruit to air, ``frozen_w_per_m_k`` is the conductivity of the frozen
    fruit, ``kg_per_m3`` its density (of a box: with the gaps). Raises ValueError out of range.
    """
    ranges.above("size of the fruit", size_m, 0, 1, "m", "Give metres, 25 mm as 0.025.")
    ranges.within("freezing point", freezes_c, -5, 0, "°C", "Give degrees Celsius.")
    ranges.between("temperature of the air", air_c, -80, freezes_c, "°C", "Warmer air freezes nothing.")
    ranges.above("heat to take out", kj_per_kg, 0, 600, "kJ/kg", "Fruit needs 250 to 450.")
    remedy = "Still air passes about 8, a blast 30."
    ranges.above("heat passed to the air", surface_w_per_m2_k, 0, 1000, "W/(m² K)", remedy)
    ranges.above("conductivity", frozen_w_per_m_k, 0, 5, "W/(m K)", "Frozen fruit has 1 to 2.")
    ranges.above("density", kg_per_m3, 0, 1500, "kg/m³", "Give kg per cubic metre, 0.6 kg/L as 600.")
    p, r = _PLANK[Shape(shape)]
    heat = 1000 * kj_per_kg * kg_per_m3 / (freezes_c - air_c)
    return heat * (p * size_m / surface_w_per_m2_k + r * size_m**2 / frozen_w_per_m_k) / 3600


def freeze_kg_per_day(litres: Q | float) -> Q | float:
    """Most kg of unfrozen fruit that a freezer of ``litres`` takes in 24 hours and still freezes well.

    Litres above 0 and at most 100 000, as the maker states them. Source: USDA, Canning, Freezing,
    Storing Garden Produce (2 to 3 lb per cubic foot in 24 hours); the careful low end is used. Home and farm
    cabinet freezers only: for a blast freezer its maker's figure counts. Raises ValueError out of range.
    """
    ranges.above("freezer volume", litres, 0, 100_000, "litres", "Give the litres on the freezer's plate.")
    return FREEZE_KG_PER_LITRE_DAY * litres


def litres_taken(
    boxed_kg: Q | float, trays_kg: Q | float, box_kg_per_litre: Q | float, tray_litres_per_kg: Q | float
) -> Q | float:
    """Room (litres) that fruit takes in the freezer: boxed once frozen, on trays on the day it freezes.

    Loose frozen berries pack 0.45 to 0.6 kg a litre (common practice, no source), blocks at most 0.56 (NC
    State, freezer capacity); allowed above 0, at most 1. Trays take more room than the box that
    follows, at most 50 litres a kg. Raises ValueError out of range.
    """
    ranges.kg("boxed fruit", boxed_kg)
    ranges.kg("fruit on trays", trays_kg)
    ranges.above("packing density", box_kg_per_litre, 0, 1, "kg/litre", "Give 600 g a litre as 0.6.")
    remedy = "Fruit on trays takes no less room than boxed."
    ranges.within("room on trays", tray_litres_per_kg, 1 / box_kg_per_litre, 50, "litres/kg", remedy)
    return boxed_kg / box_kg_per_litre + trays_kg * tray_litres_per_kg


def _check_water(water: Q | float) -> None:
    ranges.within("water in the fruit", water, 0, 1, "as a fraction of mass", "Give 90 % as 0.9.")
