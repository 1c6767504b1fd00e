"""Air pressure at the kitchen, and how water boils under it.

The pressure is a barometer's, or that of the US Standard Atmosphere 1976 (the ICAO's) at the kitchen's
altitude. Water is the IAPWS-95 formulation as computed by the library chemicals.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from chemicals import iapws

from scheduler.physics import ranges
from scheduler.physics.quantity import Q, power

KELVIN = 273.15

_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE_K_PER_M = 0.0065
_EXPONENT = 5.255876  # g M / (R lapse)
_EARTH_RADIUS_M = 6_356_766.0


def pressure_pa(altitude_m: Q | float) -> Q | float:
    """Air pressure (Pa) of the standard atmosphere at 0 to 5000 m above the sea.

    Weather moves the real pressure by about 3 %, which moves boiling points by about 0.8 K: with a
    barometer, give its reading instead. Source: US Standard Atmosphere 1976, lowest layer.
    Raises ValueError out of range.
    """
    ranges.within("altitude", altitude_m, 0, 5000, "m", "Give metres above the sea; below the sea use 0.")
    geopotential = _EARTH_RADIUS_M * altitude_m / (_EARTH_RADIUS_M + altitude_m)
    return _SEA_LEVEL_PA * power(1 - _LAPSE_K_PER_M * geopotential / _SEA_LEVEL_K, _EXPONENT)


def station_hpa(sea_level_hpa: Q | float, altitude_m: Q | float) -> Q | float:
    """Pressure (hPa) in a kitchen at 0 to 5000 m, from the pressure at sea level that a forecast states.

    Forecasts, and barometers set by them, give 870 to 1085 hPa, reduced to the sea. Air is taken to thin with
    height as in the standard atmosphere. Raises ValueError out of range.
    """
    remedy = "Give the forecast's pressure at sea level."
    ranges.within("pressure at sea level", sea_level_hpa, 870, 1085, "hPa", remedy)
    return sea_level_hpa * pressure_pa(altitude_m) / _SEA_LEVEL_PA


def here_pa(altitude_m: Q | float | None, hpa: Q | float | None) -> Q | float:
    """Pressure (Pa) from an altitude (0 to 5000 m) or a barometer in the kitchen (500 to 1085 hPa).

    Raises ValueError out of range, and unless just one of the two is given.
    """
    if hpa is None and altitude_m is not None:
        return pressure_pa(altitude_m)
    if hpa is not None and altitude_m is None:
        remedy = "Read it in the kitchen; a forecast's is reduced to the sea: station_hpa turns it back."
        ranges.within("barometer", hpa, 500, 1085, "hPa", remedy)
        return 100 * hpa
    given = "neither" if hpa is None else "both"
    raise ValueError(
        f"{given} of altitude and barometer given; allowed: one of them. Give altitude_m or hpa alone."
    )


def boils_k(pressure: Q | float) -> Q | float:
    """Temperature (K) at which water boils under ``pressure`` (1000 to 2 000 000 Pa)."""
    ranges.within("pressure", pressure, 1e3, 2e6, "Pa", "Give pascals, 1013 hPa as 101300.")
    return _each(_boils_k, pressure)


def vapour_pressure_pa(kelvin: Q | float) -> Q | float:
    """Pressure (Pa) of the vapour over water at ``kelvin`` (274 to 480 K)."""
    ranges.within("temperature", kelvin, 274, 480, "K", "Give kelvin, not degrees Celsius.")
    return _each(_vapour_pressure_pa, kelvin)


def latent_kj_per_kg(altitude_m: Q | float | None = None, *, hpa: Q | float | None = None) -> Q | float:
    """Heat (kJ) that boils off one kg of water, by Clapeyron's equation from its vapour pressure and its
    densities; ranges and errors of ``here_pa``."""
    pressure = here_pa(altitude_m, hpa)
    return _each(_latent_kj_per_kg, pressure)


def _each(of_one: Callable[[float], float], values: Q | float) -> Q | float:
    if isinstance(values, np.ndarray):
        return np.array([of_one(float(value)) for value in values.ravel()]).reshape(values.shape)
    return of_one(values)


@lru_cache(maxsize=8192)
def _boils_k(pressure: float) -> float:
    return float(iapws.iapws95_Tsat(pressure))


@lru_cache(maxsize=8192)
def _vapour_pressure_pa(kelvin: float) -> float:
    return float(iapws.iapws95_Psat(kelvin))


@lru_cache(maxsize=8192)
def _latent_kj_per_kg(pressure: float) -> float:
    kelvin = _boils_k(pressure)
    slope, _ = iapws.iapws95_dPsat_dT(kelvin)
    growth = 1 / iapws.iapws95_rhog_sat(kelvin) - 1 / iapws.iapws95_rhol_sat(kelvin)
    return float(kelvin * slope * growth / 1000)
