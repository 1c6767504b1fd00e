"""Set point: at what temperature a preserve of given solids boils, here.

The pressure is that of the ICAO/US Standard Atmosphere 1976; water is the IAPWS formulation as
computed by CoolProp. The rise above the boiling point of water follows from the water activity of
sucrose syrup with the constants of Starzak & Peacock (the form of the equation is from memory).
Acid and the invert sugar that a boil makes raise real preserves by a little more than pure sucrose,
so a kitchen checks its set temperature against a refractometer.
"""

from __future__ import annotations

import math
from functools import lru_cache

from CoolProp.CoolProp import PropsSI

from scheduler.physics import ranges

KELVIN = 273.15

_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE_K_PER_M = 0.0065
_EXPONENT = 5.255876  # g M / (R lapse)
_EARTH_RADIUS_M = 6_356_766.0

_GAS_CONSTANT = 8.314462618  # J/(mol K)
_WATER_KG_PER_MOL = 0.01801528
_SUCROSE_KG_PER_MOL = 0.3422965
_Q, _A, _B = -17_638.0, -1.0038, -0.24653  # J/mol, -, -: Starzak & Peacock


@lru_cache(maxsize=256)
def pressure_pa(altitude_m: float) -> float:
    """Air pressure (Pa) of the standard atmosphere at 0 to 5000 m above the sea.

    Weather moves the real pressure by about 3 %, which moves boiling points by about 0.8 K.
    Source: US Standard Atmosphere 1976, lowest layer. Raises ValueError out of range.
    """
    ranges.altitude(altitude_m)
    geopotential = _EARTH_RADIUS_M * altitude_m / (_EARTH_RADIUS_M + altitude_m)
    return _SEA_LEVEL_PA * float((1 - _LAPSE_K_PER_M * geopotential / _SEA_LEVEL_K) ** _EXPONENT)


@lru_cache(maxsize=256)
def water_boils_c(altitude_m: float) -> float:
    """Boiling point of water (°C) at 0 to 5000 m. Source: IAPWS water in CoolProp.

    Raises ValueError out of range.
    """
    return _saturation_k(pressure_pa(altitude_m)) - KELVIN


@lru_cache(maxsize=4096)
def set_temperature_c(solids: float, altitude_m: float) -> float:
    """Temperature (°C) at which a preserve of ``solids`` boils at ``altitude_m``: the set temperature.

    ``solids`` is a fraction above 0 and below 0.9, altitude 0 to 5000 m. Solves
    water activity(T) × vapour pressure(T) = air pressure. Agrees with sugar-industry handbooks
    within about 0.3 K from 10 to 80 % (their values from memory). Raises ValueError out of range.
    """
    ranges.solids("solids", solids)
    pressure = pressure_pa(altitude_m)
    kelvin = _saturation_k(pressure)
    for _ in range(20):  # the activity hardly moves with temperature: three or four turns do
        before, kelvin = kelvin, _saturation_k(pressure / water_activity(solids, kelvin))
        if abs(kelvin - before) < 1e-7:
            break
    return kelvin - KELVIN


def rise_k(solids: float, altitude_m: float) -> float:
    """How far above water (K) a preserve of ``solids`` boils; ranges and errors of ``set_temperature_c``."""
    return set_temperature_c(solids, altitude_m) - water_boils_c(altitude_m)


def water_activity(solids: float, kelvin: float) -> float:
    """Water activity of sucrose syrup, 0 to 1, ``solids`` a fraction of mass, at ``kelvin``.

    ln γ = Q ÷ (R T) · x² (1 + a x + b x²), activity = γ (1 − x), x the mole fraction of sucrose.
    Constants: Starzak & Peacock; the form is from memory. Raises ValueError out of range.
    """
    ranges.solids("solids", solids)
    ranges.within("temperature", kelvin, 250, 450, "K", "Give kelvin, not degrees Celsius.")
    sucrose = solids / _SUCROSE_KG_PER_MOL
    x = sucrose / (sucrose + (1 - solids) / _WATER_KG_PER_MOL)
    gamma = math.exp(_Q / (_GAS_CONSTANT * kelvin) * x**2 * (1 + _A * x + _B * x**2))
    return gamma * (1 - x)


def _saturation_k(pressure: float) -> float:
    return float(PropsSI("T", "P", pressure, "Q", 0, "Water"))
