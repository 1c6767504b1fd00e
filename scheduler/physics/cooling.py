"""Cooling of a preserve in its pan once the heat is off, and how much can be potted before it is too cool.

The loss through base, side and top is taken as proportional to the difference from the room
(Newton's law of cooling), the pan as one well-stirred mass. The coefficients are set so that an
open wide pan of 8 kg loses about 14 to 28 K in 10 to 15 minutes (common practice, from memory) and
a covered one about half of that. They have no published source: a kitchen checks them with its thermometer.
"""

from __future__ import annotations

import math

from scheduler.physics import ranges
from scheduler.physics.pan import depth_cm, surface_m2
from scheduler.physics.quantity import Q, either, exp, larger, log, root

JAM_KG_PER_LITRE = 1.33
"""Density of preserve at about 65 % solids; from memory."""

JAM_KJ_PER_KG_K = 2.9
"""Specific heat of hot preserve at about 65 % solids; sugar-industry formula, from memory."""

BASE_W_PER_M2_K = 14.0
"""Base on a wooden board or trivet."""

SIDE_W_PER_M2_K = 14.0
"""Bare metal side: air and radiation at about 70 K above the room."""

COVERED_W_PER_M2_K = 20.0
"""Top under a loose lid, steam condensing on it."""

OPEN_W_PER_M2_K = 70.0
"""Open top: air, radiation and, most of all, steam leaving."""

_MOST_MINUTES = 1440.0
_MOST_KG = 500.0
_WATT_MINUTES_PER_KG_K = JAM_KJ_PER_KG_K * 1000 / 60


def temperature_after(
    minutes: Q | float,
    start_c: Q | float,
    kg: Q | float,
    diameter_cm: Q | float,
    room_c: Q | float,
    covered: bool = True,
) -> Q | float:
    """Temperature (°C) of ``kg`` of preserve, ``minutes`` after the heat went off at ``start_c``.

    Minutes 0 to 1440, start from the room's temperature to 130 °C, kg above 0 and at most 500,
    diameter 10 to 150 cm, room -10 to 50 °C. Never below the room. Raises ValueError out of range.
    """
    ranges.within("minutes off the heat", minutes, 0, _MOST_MINUTES, "min", "Cooling is known for one day.")
    _check_start(start_c, room_c)
    return room_c + (start_c - room_c) * exp(-minutes / _lag_minutes(kg, diameter_cm, covered))


def minutes_until(
    limit_c: Q | float,
    start_c: Q | float,
    kg: Q | float,
    diameter_cm: Q | float,
    room_c: Q | float,
    covered: bool = True,
) -> Q | float:
    """Minutes after the heat went off until the preserve is down to ``limit_c``.

    Undoes ``temperature_after``. ``limit_c`` lies above the room's temperature and is at most ``start_c``;
    the rest as there. Raises ValueError out of range.
    """
    _check_limit(limit_c, start_c, room_c)
    return _lag_minutes(kg, diameter_cm, covered) * log((start_c - room_c) / (limit_c - room_c))


def potted_in_time_kg(
    wait_minutes: Q | float,
    kg_per_minute: Q | float,
    limit_c: Q | float,
    start_c: Q | float,
    diameter_cm: Q | float,
    room_c: Q | float,
    covered: bool = True,
) -> tuple[Q | float, Q | float]:
    """Least and most kg of preserve of which the last jar is still at ``limit_c``; 0 and 0 if there are none.

    A batch waits ``wait_minutes`` off the heat (set test and standing, 0 to 1440) and is then potted at
    ``kg_per_minute`` (above 0, at most 500): fillers × jars that each fills in a minute × kg of a jar. Too
    large a batch takes too long to pot; too small a one is cold before potting begins. Between the two the
    minutes until ``limit_c`` are no fewer than those needed, a quadratic in kg. Temperatures and pan as for
    ``minutes_until``; whether the pan holds so much is not asked. Raises ValueError out of range.
    """
    ranges.within(
        "minutes before potting", wait_minutes, 0, _MOST_MINUTES, "min", "Give minutes off the heat."
    )
    remedy = "Give fillers × jars a minute × kg of a jar."
    ranges.above("kg potted in a minute", kg_per_minute, 0, 500, "kg/min", remedy)
    _check_limit(limit_c, start_c, room_c)
    fixed, per_kg = _watts_per_k(diameter_cm, covered)
    heat = _WATT_MINUTES_PER_KG_K * log((start_c - room_c) / (limit_c - room_c))
    # heat × kg ÷ (fixed + per_kg × kg) ≥ wait + kg ÷ kg_per_minute, times both denominators
    middle = (heat - wait_minutes * per_kg) * kg_per_minute - fixed
    last = wait_minutes * kg_per_minute * fixed
    inside = middle**2 - 4 * per_kg * last
    possible = (inside >= 0) & (middle > 0)
    width = root(larger(inside, 0.0))
    least, most = (middle - width) / (2 * per_kg), (middle + width) / (2 * per_kg)
    return either(possible, least, 0.0), either(possible, most, 0.0)


def _lag_minutes(kg: Q | float, diameter_cm: Q | float, covered: bool) -> Q | float:
    """Minutes in which the difference from the room falls to 1/e."""
    ranges.above("preserve in the pan", kg, 0, _MOST_KG, "kg", "An empty pan has no such temperature.")
    fixed, per_kg = _watts_per_k(diameter_cm, covered)
    return _WATT_MINUTES_PER_KG_K * kg / (fixed + per_kg * kg)


def _watts_per_k(diameter_cm: Q | float, covered: bool) -> tuple[Q | float, Q | float]:
    """Loss (W/K) through base and top, and through the side for each kg in the pan."""
    top = COVERED_W_PER_M2_K if covered else OPEN_W_PER_M2_K
    side_m2_per_kg = math.pi * diameter_cm / 100 * depth_cm(1 / JAM_KG_PER_LITRE, diameter_cm) / 100
    return (BASE_W_PER_M2_K + top) * surface_m2(diameter_cm), SIDE_W_PER_M2_K * side_m2_per_kg


def _check_start(start_c: Q | float, room_c: Q | float) -> None:
    ranges.room(room_c)
    ranges.within("temperature at the start", start_c, room_c, 130, "°C", "It starts warmer than the room.")


def _check_limit(limit_c: Q | float, start_c: Q | float, room_c: Q | float) -> None:
    _check_start(start_c, room_c)
    ranges.above("potting limit", limit_c, room_c, start_c, "°C", "It lies between the room and the start.")
