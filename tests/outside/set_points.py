"""Pressure, boiling points and set points against published tables."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.physics import setpoint, water
from tests.outside.check import MEMORY, Check

FOOT_M = 0.3048

END_POINTS_F = {
    0: 220,
    1000: 218,
    2000: 216,
    3000: 214,
    4000: 212,
    5000: 211,
    6000: 209,
    7000: 207,
    8000: 205,
}
"""End point of jelly in whole °F by altitude in feet: National Center for Home Food Preservation."""

GUIDE_C = {0: 100.0, 1000: 99.01, 2000: 98.03, 3000: 97.05, 4000: 96.08}
"""Boiling point of water in the canning guide: a rule of thumb of 0.98 K per 1000 ft, up to 0.2 K high."""

HANDBOOK_RISES_K = {
    10: 0.1,
    20: 0.3,
    30: 0.6,
    40: 1.0,
    50: 1.8,
    60: 3.0,
    65: 3.8,
    70: 5.1,
    75: 7.0,
    80: 9.4,
}
BROWN_RISES_K = {20: 0.6, 32: 1.1, 40: 1.5, 50: 2.0, 62: 3.4, 64: 4.0}
"""The old kitchen table; from 66 % on it runs high (5.6 K at 68 %) and is not a check."""


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def checks() -> Iterator[Check]:
    yield from _air_and_water()
    yield from _set_points()
    yield from _rises()


def _air_and_water() -> Iterator[Check]:
    source = "US Standard Atmosphere 1976, as the fluids library computes it"
    for metres, kilopascal in {0: 101.325, 1000: 89.876, 2000: 79.501}.items():
        ours = water.pressure_pa(float(metres)) / 1000
        yield Check(f"air at {metres} m", "air pressure", "kPa", kilopascal, ours, 0.005, source)
    source = "IAPWS Industrial Formulation 1997, as the iapws library computes it"
    for metres, boils in {0: 99.97, 1000: 96.65, 2000: 93.32}.items():
        ours = setpoint.water_boils_c(float(metres))
        yield Check(f"water at {metres} m", "boiling point of water", "°C", boils, ours, 0.05, source)
    ours = setpoint.water_boils_c(hpa=898.76)
    yield Check("water at 898.76 hPa", "boiling point by barometer", "°C", 96.65, ours, 0.05, source)
    ours = water.latent_kj_per_kg(hpa=1013.25)
    yield Check("latent heat", "latent heat of water at 1 atm", "kJ/kg", 2256.54, ours, 0.5, source)
    source = "USDA Complete Guide to Home Canning, adjustments at high altitudes"
    for feet, boils in GUIDE_C.items():
        ours = setpoint.water_boils_c(feet * FOOT_M)
        yield Check(f"water at {feet} ft", "boiling point of water", "°C", boils, ours, 0.25, source)


def _set_points() -> Iterator[Check]:
    source = "National Center for Home Food Preservation, Testing Jelly without Added Pectin"
    for feet, fahrenheit in END_POINTS_F.items():
        ours = setpoint.water_boils_c(feet * FOOT_M) + setpoint.RISE_BY_RULE_K
        published = celsius(fahrenheit)
        yield Check(f"set point at {feet} ft", "end point of jelly", "°C", published, ours, 0.4, source)
    source = "Experimental Cookery, temperature for boiling sirup for jelly (after Cruess & McNair)"
    for percent, boils in {60: 103.0, 65: 103.9}.items():
        ours = setpoint.set_temperature_c(percent / 100, 0.0)
        yield Check(f"syrup of {percent} %", "boiling point at sea level", "°C", boils, ours, 0.5, source)
    ours = 100 * setpoint.solids_at(103.9, 0.0)
    yield Check("solids at 103.9 °C", "solids by temperature", "%", 65, ours, 1.5, source)


def _rises() -> Iterator[Check]:
    source = "Cane-sugar handbooks (Hugot; van der Poel; Batterham & Norgate), pure sucrose near 1 atm"
    for brix, kelvin in HANDBOOK_RISES_K.items():
        ours = setpoint.rise_k(brix / 100, 0.0)
        yield Check(f"rise at {brix} °Brix", "boiling point rise", "K", kelvin, ours, 0.3, source, MEMORY)
    source = "Endpoint to boiling a sugar solution: table after Brown (1912)"
    for percent, kelvin in BROWN_RISES_K.items():
        ours = setpoint.rise_k(percent / 100, 0.0)
        yield Check(f"rise at {percent} %, 1912", "boiling point rise", "K", kelvin, ours, 0.5, source)
