"""Cooling of a preserve in its pan once the heat is off.

The loss through base, side and top is taken as proportional to the difference from the room
(Newton's law of cooling), the pan as one well-stirred mass. The coefficients are set so that an
open wide pan of 8 kg loses about 14 to 28 K in 10 to 15 minutes (common practice, from memory) and
a covered one about half of that. They have no published source: a kitchen checks them with its thermometer.
"""

from __future__ import annotations

import math

from scheduler.physics import ranges

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


def temperature_after(
    minutes: float, start_c: float, kg: float, diameter_cm: float, room_c: float, covered: bool = True
) -> float:
    """Temperature (°C) of ``kg`` of preserve, ``minutes`` after the heat went off at ``start_c``.

    Minutes 0 to 1440, start from the room's temperature to 130 °C, kg above 0 and at most 500,
    diameter 10 to 150 cm, room -10 to 50 °C. Never below the room. Raises ValueError out of range.
    """
    ranges.within("minutes off the heat", minutes, 0, 1440, "min", "Cooling is known for one day.")
    ranges.within("room temperature", room_c, -10, 50, "°C", "Give degrees Celsius.")
    ranges.within("temperature at the start", start_c, room_c, 130, "°C", "It starts warmer than the room.")
    ranges.above("preserve in the pan", kg, 0, 500, "kg", "An empty pan has no such temperature.")
    ranges.within("pan diameter", diameter_cm, 10, 150, "cm", "Give the inner diameter in cm.")
    area = math.pi * (diameter_cm / 200) ** 2
    depth = kg / 1000 / JAM_KG_PER_LITRE / area
    side = math.pi * diameter_cm / 100 * depth
    top = COVERED_W_PER_M2_K if covered else OPEN_W_PER_M2_K
    watts_per_k = (BASE_W_PER_M2_K + top) * area + SIDE_W_PER_M2_K * side
    return room_c + (start_c - room_c) * math.exp(-60 * minutes * watts_per_k / (kg * JAM_KJ_PER_KG_K * 1000))
