"""The heat in bottled gas."""

from __future__ import annotations

from scheduler.physics import ranges

PROPANE_KWH_PER_KG = 12.8
"""Net heat of bottled propane (the water that forms leaves as steam). Published: 46 MJ/kg = 12.78 for
liquefied petroleum gas at the least (World Nuclear Association, heat values of various fuels). Gross it is 8
to 9 % more, so this is the careful figure where a ring's kW are gross."""


def kwh(kg: float) -> float:
    """Heat (kWh) of so many kg of bottled propane. Raises ValueError for a negative mass."""
    ranges.kg("gas", kg)
    return kg * PROPANE_KWH_PER_KG


def propane_kg(kwh: float) -> float:
    """kg of bottled propane that give so much heat (kWh)."""
    return kwh / PROPANE_KWH_PER_KG
