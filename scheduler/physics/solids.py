"""Mass balance of a preserve: solids stay in the pan, only water leaves it.

Everything here is arithmetic on conservation of mass; the two densities are the only data.
"Solids" are soluble solids (degrees Brix) as a fraction of mass.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from scheduler.physics import ranges

FRUIT_KG_PER_LITRE = 1.0
"""Density of broken-down soft fruit; from memory, common practice (whole fruit packs looser)."""

SUGAR_KG_PER_LITRE = 1.587
"""Density of crystalline sucrose, a handbook value, from memory."""

WATER_KG_PER_LITRE = 1.0

_FORGIVEN = 1e-9


def jam_kg(
    fruit_kg: float, fruit_solids: float, sugar_kg: float, final_solids: float, other_solids_kg: float = 0.0
) -> float:
    """Mass of preserve (kg) once boiled down to ``final_solids``.

    ``fruit_solids`` and ``final_solids`` are fractions of mass, above 0 and below 0.9;
    ``other_solids_kg`` is pectin, acid and the like. Only water may leave the pan: whether there
    is enough of it to reach ``final_solids`` is for ``water_off_kg`` to say.
    Raises ValueError out of range.
    """
    ranges.kg("fruit", fruit_kg)
    ranges.solids("solids of the fruit", fruit_solids)
    ranges.kg("sugar", sugar_kg)
    ranges.solids("final solids", final_solids)
    ranges.kg("other solids", other_solids_kg)
    return (fruit_kg * fruit_solids + sugar_kg + other_solids_kg) / final_solids


def water_off_kg(
    fruit_kg: float,
    fruit_solids: float,
    sugar_kg: float,
    final_solids: float,
    water_kg: float = 0.0,
    other_solids_kg: float = 0.0,
) -> float:
    """Water to boil off (kg): all that goes into the pan, less the preserve that comes out.

    Below zero where the mix is already thicker than ``final_solids``: then no boiling gets there,
    and the caller decides. Units, ranges and errors as for ``jam_kg``.
    """
    ranges.kg("water", water_kg)
    jam = jam_kg(fruit_kg, fruit_solids, sugar_kg, final_solids, other_solids_kg)
    return fruit_kg + sugar_kg + water_kg + other_solids_kg - jam


def fruit_per_jam(fruit_solids: float, fruit_parts: float, sugar_parts: float, jam_solids: float) -> float:
    """Kilograms of fruit that one kilogram of preserve takes, for fruit and sugar in given parts by mass.

    Solids are fractions above 0 and below 0.9; parts are any two numbers of the same unit (45 to 55).
    Raises ValueError out of range.
    """
    ranges.above("parts of fruit", fruit_parts, 0, 1e6, "", "A preserve without fruit has no such figure.")
    ranges.within("parts of sugar", sugar_parts, 0, 1e6, "", "Give 0 for no added sugar.")
    return 1.0 / jam_kg(1.0, fruit_solids, sugar_parts / fruit_parts, jam_solids)


def mix_litres(fruit_kg: float, sugar_kg: float, water_kg: float) -> float:
    """Room that a mix takes in the pan before the boil (litres), fruit broken down.

    Sugar is counted at the density of its crystals, which is within a few per cent of what it
    adds once dissolved. The head that a rolling boil needs is the pan's safe fill, not counted here.
    Raises ValueError for a mass below nothing.
    """
    ranges.kg("fruit", fruit_kg)
    ranges.kg("sugar", sugar_kg)
    ranges.kg("water", water_kg)
    return fruit_kg / FRUIT_KG_PER_LITRE + sugar_kg / SUGAR_KG_PER_LITRE + water_kg / WATER_KG_PER_LITRE


def mix_extreme(bands: Sequence[tuple[float, float]], values: Sequence[float], largest: bool) -> float:
    """Least or most of Σ share × value over all mixes: shares within their bands that add to 1.

    Every fruit first gets its low share; what is left goes to the best values in turn, which is
    optimal because the value of a mix is linear in its shares.
    Raises ValueError if no shares within the bands add to 1 (to 1e-9).
    """
    if len(bands) != len(values):
        raise ValueError(f"{len(bands)} bands but {len(values)} values; give one value for each fruit.")
    for low, high in bands:
        ranges.within("low share of a fruit", low, 0, 1, "", "Give 40 % as 0.4.")
        ranges.within("high share of a fruit", high, low, 1 + _FORGIVEN, "", "A band runs from low to high.")
    left = 1.0 - sum(low for low, _ in bands)
    room = sum(high - low for low, high in bands)
    if left < -_FORGIVEN or left > room + _FORGIVEN:
        lowest, highest = 1.0 - left, 1.0 - left + room
        raise ValueError(
            f"no mix: the shares add to {lowest:g} at least and {highest:g} at most; "
            "allowed: bands that hold shares adding to 1. Lower the low shares or raise the high ones."
        )
    total = sum(low * value for (low, _), value in zip(bands, values, strict=True))
    ranked = sorted(zip(values, bands, strict=True), key=lambda pair: pair[0], reverse=largest)
    for value, (low, high) in ranked:
        given = max(0.0, min(left, high - low))
        total += given * value
        left -= given
    return total


def jars(jam_kg: float, pan_loss: float, jar_kg: float) -> int:
    """Full jars from ``jam_kg`` of preserve, after the fraction that stays in pan, funnel and tests.

    ``pan_loss`` is a fraction from 0 to below 1, ``jar_kg`` the net mass of a jar (above 0, at most
    25 kg). A millionth of a jar too little is forgiven. Raises ValueError out of range.
    """
    ranges.kg("preserve", jam_kg)
    ranges.within("pan loss", pan_loss, 0, 0.999, "as a fraction", "Give 2 % as 0.02.")
    ranges.above("net mass of a jar", jar_kg, 0, 25, "kg", "Give 340 g as 0.34.")
    return math.floor(jam_kg * (1.0 - pan_loss) / jar_kg + 1e-6)
