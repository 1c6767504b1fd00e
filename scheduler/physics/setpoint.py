"""Set point: at what temperature a preserve of given solids boils here, and what solids a temperature means.

The rise above the boiling point of water follows from the water activity of sucrose syrup with the
constants of Starzak & Peacock (the form of the equation is from memory). Acid and the invert sugar that a
boil makes raise real preserves by a little more than pure sucrose, and thermometers err, so a kitchen shifts
the curve by its own refractometer readings (``calibration.set_offset``).

Wherever a function takes ``altitude_m`` (0 to 5000 m), it takes ``hpa`` in its place: the reading of a
barometer in the kitchen (500 to 1085 hPa). ``offset_k`` is the kitchen's own shift, -5 to 5 K.
"""

from __future__ import annotations

import numpy as np

from scheduler.physics import ranges
from scheduler.physics.quantity import Q, either, exp
from scheduler.physics.water import KELVIN, boils_k, here_pa, vapour_pressure_pa

RISE_BY_RULE_K = 8 / 1.8
"""Set point of jelly above the boiling point of water, 8 °F. Source: National Center for Home Food
Preservation, Testing Jelly without Added Pectin."""

MOST_OFFSET_K = 5.0
"""A larger shift is no property of a preserve but a fault of the thermometer or the refractometer."""

_THICKEST = 0.9
_GAS_CONSTANT = 8.314462618  # J/(mol K)
_WATER_KG_PER_MOL = 0.01801528
_SUCROSE_KG_PER_MOL = 0.3422965
_Q, _A, _B = -17_638.0, -1.0038, -0.24653  # J/mol, -, -: Starzak & Peacock


def water_boils_c(altitude_m: Q | float | None = None, *, hpa: Q | float | None = None) -> Q | float:
    """Boiling point of water (°C). Source: IAPWS-95. Raises ValueError out of range."""
    return boils_k(here_pa(altitude_m, hpa)) - KELVIN


def set_temperature_c(
    solids: Q | float,
    altitude_m: Q | float | None = None,
    *,
    hpa: Q | float | None = None,
    offset_k: Q | float = 0.0,
) -> Q | float:
    """Temperature (°C) at which a preserve of ``solids`` boils: the set temperature.

    ``solids`` is a fraction above 0 and below 0.9. Solves water activity(T) × vapour pressure(T) = air
    pressure. Agrees with sugar-industry handbooks within about 0.3 K from 10 to 80 % (their values from
    memory). Raises ValueError out of range.
    """
    ranges.solids("solids", solids)
    _check_offset(offset_k)
    return _syrup_boils_k(solids, here_pa(altitude_m, hpa)) - KELVIN + offset_k


def rise_k(
    solids: Q | float, altitude_m: Q | float | None = None, *, hpa: Q | float | None = None
) -> Q | float:
    """How far above water (K) a preserve of ``solids`` boils; ranges and errors of ``set_temperature_c``."""
    return set_temperature_c(solids, altitude_m, hpa=hpa) - water_boils_c(altitude_m, hpa=hpa)


def solids_at(
    celsius: Q | float,
    altitude_m: Q | float | None = None,
    *,
    hpa: Q | float | None = None,
    offset_k: Q | float = 0.0,
) -> Q | float:
    """Solids (a fraction of mass) of a preserve that boils at ``celsius``: undoes ``set_temperature_c``.

    ``celsius`` lies above the boiling point of water and below that of 90 % solids, both shifted by
    ``offset_k``. Halves the range of solids until nothing is left of it. Raises ValueError out of range.
    """
    _check_offset(offset_k)
    pressure = here_pa(altitude_m, hpa)
    lowest = boils_k(pressure) - KELVIN + offset_k
    highest = _syrup_boils_k(_THICKEST, pressure) - KELVIN + offset_k
    remedy = "Check the thermometer in boiling water, and the altitude or barometer."
    ranges.between("temperature of the boil", celsius, lowest, highest, "°C", remedy)
    kelvin = celsius - offset_k + KELVIN
    activity = pressure / vapour_pressure_pa(kelvin)
    thin, thick = 0 * activity, _THICKEST + 0 * activity
    for _ in range(45):  # 0.9 ÷ 2^45 is below the error of the arithmetic
        middle = (thin + thick) / 2
        too_thin = _activity(middle, kelvin) > activity
        thin, thick = either(too_thin, middle, thin), either(too_thin, thick, middle)
    return (thin + thick) / 2


def water_activity(solids: Q | float, kelvin: Q | float) -> Q | float:
    """Water activity of sucrose syrup, 0 to 1, ``solids`` a fraction of mass, at ``kelvin``.

    ln γ = Q ÷ (R T) · x² (1 + a x + b x²), activity = γ (1 − x), x the mole fraction of sucrose.
    Constants: Starzak & Peacock; the form is from memory. Raises ValueError out of range.
    """
    ranges.solids("solids", solids)
    ranges.within("temperature", kelvin, 250, 450, "K", "Give kelvin, not degrees Celsius.")
    return _activity(solids, kelvin)


def _activity(solids: Q | float, kelvin: Q | float) -> Q | float:
    sucrose = solids / _SUCROSE_KG_PER_MOL
    x = sucrose / (sucrose + (1 - solids) / _WATER_KG_PER_MOL)
    gamma = exp(_Q / (_GAS_CONSTANT * kelvin) * x**2 * (1 + _A * x + _B * x**2))
    return gamma * (1 - x)


def _syrup_boils_k(solids: Q | float, pressure: Q | float) -> Q | float:
    kelvin = boils_k(pressure)
    for _ in range(20):  # the activity hardly moves with temperature: three or four turns do
        before, kelvin = kelvin, boils_k(pressure / _activity(solids, kelvin))
        if np.all(np.abs(kelvin - before) < 1e-7):
            break
    return kelvin


def _check_offset(offset_k: Q | float) -> None:
    remedy = "Check the thermometer in boiling water and the refractometer in clean water."
    ranges.within("shift of the set temperature", offset_k, -MOST_OFFSET_K, MOST_OFFSET_K, "K", remedy)
