"""Heat on the ring: minutes to come to the boil and minutes to drive off the water."""

from __future__ import annotations

import math
from functools import lru_cache

from CoolProp.CoolProp import PropsSI

from scheduler.physics import ranges
from scheduler.physics.setpoint import pressure_pa

EFFICIENCY: dict[str, float] = {"gas": 0.40, "electric": 0.74, "induction": 0.84}
"""Share of a ring's power that reaches the pan: US Department of Energy water-boiling tests, as quoted in
a cooktop efficiency note. Other published figures: gas 0.32 to 0.44, electric 0.80, induction 0.74 to
0.85. A kitchen measures its own: the minutes in which 5 litres of water come to the boil."""

SURFACE_KG_PER_H_M2 = 50.0
"""Most water that a stirred preserve gives off for each m² of open surface: beyond it the boil climbs
over the rim and the heat has to be turned down. Common practice, from memory, no published source
(strong domestic rings under a 9 litre pan drive off 1 to 2.5 kg/h, which is 14 to 35 kg/(h m²))."""


@lru_cache(maxsize=256)
def latent_kj_per_kg(altitude_m: float) -> float:
    """Heat (kJ) that boils off one kg of water at 0 to 5000 m. Source: IAPWS water in CoolProp.

    Raises ValueError out of range.
    """
    pressure = pressure_pa(altitude_m)
    vapour, liquid = (float(PropsSI("H", "P", pressure, "Q", quality, "Water")) for quality in (1, 0))
    return (vapour - liquid) / 1000


def specific_heat(solids: float, celsius: float) -> float:
    """Specific heat (kJ/(kg K)) of a sugar mix, ``solids`` a fraction from 0 to 0.9, -5 to 130 °C.

    Formula of the sugar industry for pure syrup (purity 100), from memory:
    4.1868 − Bx (0.0297 − 4.6e-5 × 100 − 7.5e-5 t), Bx in per cent. Within 3 % of published figures for
    strawberries, 7 % for other soft fruit; for thick syrup it lies above simpler formulas, so minutes
    are over- rather than under-stated. Raises ValueError out of range.
    """
    ranges.within("solids", solids, 0, 0.9, "as a fraction of mass", "Give 65 % as 0.65, and no dry sugar.")
    ranges.within("temperature", celsius, -5, 130, "°C", "Give degrees Celsius.")
    return 4.1868 - 100 * solids * (0.0297 - 4.6e-3 - 7.5e-5 * celsius)


def heat_up_minutes(
    fruit_kg: float,
    fruit_solids: float,
    sugar_kg: float,
    water_kg: float,
    from_c: float,
    to_c: float,
    kw: float,
    efficiency: float,
) -> float:
    """Minutes to warm all that is in the pan from ``from_c`` to ``to_c``.

    Masses in kg, ``fruit_solids`` a fraction above 0 and below 0.9; temperatures -5 to 130 °C, the end not
    below the start. ``kw`` is the ring's power (above 0, at most 60), ``efficiency`` the share that
    reaches the pan (above 0, at most 1). Fruit is thawed. Not counted, together about a
    tenth: the heat that a heavy pan takes and the heat that sugar takes to dissolve (about 16 kJ/kg, from
    memory). Raises ValueError out of range.
    """
    ranges.kg("fruit", fruit_kg)
    ranges.solids("solids of the fruit", fruit_solids)
    ranges.kg("sugar", sugar_kg)
    ranges.kg("water", water_kg)
    _ring(kw, efficiency)
    ranges.within("temperature at the start", from_c, -5, 130, "°C", "Thaw frozen fruit first.")
    ranges.within("temperature at the end", to_c, from_c, 130, "°C", "It cannot be below the start.")
    mass = fruit_kg + sugar_kg + water_kg
    ranges.above("the mix", mass, 0, 300_000, "kg", "An empty pan is not heated.")
    solids = (fruit_kg * fruit_solids + sugar_kg) / mass
    kilojoules = mass * specific_heat(solids, (from_c + to_c) / 2) * (to_c - from_c)
    return kilojoules / (kw * efficiency) / 60


def boil_minutes(
    water_kg: float, kw: float, efficiency: float, diameter_cm: float, altitude_m: float
) -> float:
    """Minutes of rolling boil that drive ``water_kg`` off.

    The ring's heat sets the pace, or the open surface where that is slower. Heat lost from the pan's
    side at the boil is not counted, nor is a boil turned down: the re-boils allow for both.
    ``kw`` and ``efficiency`` as for ``heat_up_minutes``; ``diameter_cm`` of the pan is 10 to 150;
    altitude 0 to 5000 m. Raises ValueError out of range.
    """
    ranges.kg("water to boil off", water_kg)
    _ring(kw, efficiency)
    ranges.within("pan diameter", diameter_cm, 10, 150, "cm", "Give the inner diameter in cm.")
    by_heat = kw * efficiency * 3600 / latent_kj_per_kg(altitude_m)
    by_surface = SURFACE_KG_PER_H_M2 * math.pi * (diameter_cm / 200) ** 2
    return 60 * water_kg / min(by_heat, by_surface)


def _ring(kw: float, efficiency: float) -> None:
    ranges.above("power of the ring", kw, 0, 60, "kW", "Give kilowatts, 3500 W as 3.5.")
    ranges.above("efficiency of the ring", efficiency, 0, 1, "as a fraction", "Give 84 % as 0.84.")
