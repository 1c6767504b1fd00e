"""Heat on the ring: minutes to come to the boil and minutes to drive off the water."""

from __future__ import annotations

from scheduler.physics import ranges
from scheduler.physics.freezing import FREEZES_C, thaw_kj_per_kg
from scheduler.physics.pan import surface_m2
from scheduler.physics.quantity import Q, larger, smaller
from scheduler.physics.water import latent_kj_per_kg

EFFICIENCY: dict[str, float] = {"gas": 0.40, "electric": 0.74, "induction": 0.84}
"""Share of a ring's power that reaches the pan: US Department of Energy water-boiling tests, as quoted in
a cooktop efficiency note. Other published figures: gas 0.32 to 0.44, electric 0.80, induction 0.74 to
0.85. A kitchen measures its own: ``measured_efficiency``."""

SURFACE_KG_PER_H_M2 = 50.0
"""Most water that a stirred preserve gives off for each m² of open surface: beyond it the boil climbs
over the rim and the heat has to be turned down. Common practice, from memory, no published source
(strong domestic rings under a 9 litre pan drive off 1 to 2.5 kg/h, which is 14 to 35 kg/(h m²))."""

DISSOLVE_KJ_PER_KG = 16.0
"""Heat that one kg of crystalline sucrose takes to dissolve; a handbook value, from memory."""


def specific_heat(solids: Q | float, celsius: Q | float) -> Q | float:
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
    fruit_kg: Q | float,
    fruit_solids: Q | float,
    sugar_kg: Q | float,
    water_kg: Q | float,
    from_c: Q | float,
    to_c: Q | float,
    kw: Q | float,
    efficiency: Q | float,
) -> Q | float:
    """Minutes to thaw the fruit, dissolve the sugar and warm all that is in the pan to ``to_c``.

    Masses in kg, ``fruit_solids`` a fraction above 0 and below 0.9. ``from_c`` is the fruit's temperature,
    -60 to 130 °C: fresh, chilled or frozen. Sugar and water are counted from the same, or from the fruit's
    freezing point if it is frozen: what they are warmer is not counted, so minutes are over-stated by a
    twentieth or so. ``to_c`` is at most 130 °C and not below the start, nor below freezing. ``kw`` is the
    ring's power (above 0, at most 60), ``efficiency`` the share that reaches the pan (above 0, at most 1).
    The heat that a heavy pan takes is not counted, about a twentieth. Raises ValueError out of range.
    """
    ranges.kg("fruit", fruit_kg)
    ranges.solids("solids of the fruit", fruit_solids)
    ranges.kg("sugar", sugar_kg)
    ranges.kg("water", water_kg)
    _check_ring(kw, efficiency)
    ranges.within("temperature at the start", from_c, -60, 130, "°C", "Give degrees Celsius.")
    thawed_c = larger(from_c, FREEZES_C)
    remedy = "It cannot be below the start, nor may the mix stay frozen."
    ranges.within("temperature at the end", to_c, thawed_c, 130, "°C", remedy)
    mass = fruit_kg + sugar_kg + water_kg
    ranges.above("the mix", mass, 0, 300_000, "kg", "An empty pan is not heated.")
    solids = (fruit_kg * fruit_solids + sugar_kg) / mass
    kilojoules = (
        fruit_kg * thaw_kj_per_kg(1 - fruit_solids, from_c)
        + sugar_kg * DISSOLVE_KJ_PER_KG
        + mass * specific_heat(solids, (thawed_c + to_c) / 2) * (to_c - thawed_c)
    )
    return kilojoules / (kw * efficiency) / 60


def boil_minutes(
    water_kg: Q | float,
    kw: Q | float,
    efficiency: Q | float,
    diameter_cm: Q | float,
    altitude_m: Q | float | None = None,
    *,
    hpa: Q | float | None = None,
) -> Q | float:
    """Minutes of rolling boil that drive ``water_kg`` off.

    The ring's heat sets the pace, or the open surface where that is slower. Heat lost from the pan's
    side at the boil is not counted, nor is a boil turned down: the re-boils allow for both, and the
    kitchen's own batches correct it (``calibration.boil_factor``). ``kw`` and ``efficiency`` as for
    ``heat_up_minutes``; ``diameter_cm`` of the pan is 10 to 150; altitude 0 to 5000 m, or in its place
    the barometer in the kitchen. Raises ValueError out of range.
    """
    ranges.kg("water to boil off", water_kg)
    _check_ring(kw, efficiency)
    by_surface = SURFACE_KG_PER_H_M2 * surface_m2(diameter_cm)
    by_heat = kw * efficiency * 3600 / latent_kj_per_kg(altitude_m, hpa=hpa)
    return 60 * water_kg / smaller(by_heat, by_surface)


def measured_efficiency(
    water_kg: Q | float, from_c: Q | float, to_c: Q | float, minutes: Q | float, kw: Q | float
) -> Q | float:
    """A ring's own efficiency: water warmed (kg, from and to °C) in ``minutes`` on ``kw``, lid on.

    Five litres from the tap to 90 °C in the preserving pan make a good test. Minutes above 0, at most
    240; temperatures 0 to 100 °C. Raises ValueError out of range, and where more heat would have
    reached the water than the ring gives.
    """
    ranges.above("minutes of the test", minutes, 0, 240, "min", "Give minutes, 90 seconds as 1.5.")
    ranges.within("temperature at the start", from_c, 0, 100, "°C", "Use water that is not frozen.")
    ranges.above("temperature at the end", to_c, from_c, 100, "°C", "It must lie above the start.")
    ranges.above("water", water_kg, 0, 500, "kg", "One litre is one kg.")
    ranges.above("power of the ring", kw, 0, 60, "kW", _KILOWATTS)
    kilojoules = water_kg * specific_heat(0.0, (from_c + to_c) / 2) * (to_c - from_c)
    efficiency = kilojoules / (60 * minutes * kw)
    remedy = "The ring gives less heat than that: check kW, minutes and temperatures."
    ranges.above("measured efficiency", efficiency, 0, 1, "as a fraction", remedy)
    return efficiency


_KILOWATTS = "Give kilowatts, 3500 W as 3.5."


def _check_ring(kw: Q | float, efficiency: Q | float) -> None:
    ranges.above("power of the ring", kw, 0, 60, "kW", _KILOWATTS)
    ranges.above("efficiency of the ring", efficiency, 0, 1, "as a fraction", "Give 84 % as 0.84.")
