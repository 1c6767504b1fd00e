"""Mass balance of a preserve: solids stay in the pan, only water leaves it.

Everything here is arithmetic on conservation of mass; the two densities are the only data.
"Solids" are soluble solids (degrees Brix) as a fraction of mass.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import overload

import numpy as np
from numpy.typing import NDArray

from scheduler.physics import ranges
from scheduler.physics.quantity import Array, Numbers, Q

FRUIT_KG_PER_LITRE = 1.0
"""Density of broken-down soft fruit; from memory, common practice (whole fruit packs looser)."""

SUGAR_KG_PER_LITRE = 1.587
"""Density of crystalline sucrose, a handbook value, from memory."""

WATER_KG_PER_LITRE = 1.0

_FORGIVEN = 1e-9


def jam_kg(
    fruit_kg: Q | float,
    fruit_solids: Q | float,
    sugar_kg: Q | float,
    final_solids: Q | float,
    other_solids_kg: Q | float = 0.0,
) -> Q | float:
    """Mass of preserve (kg) once boiled down to ``final_solids``.

    ``fruit_solids`` and ``final_solids`` are fractions of mass, above 0 and below 0.9;
    ``other_solids_kg`` is pectin, acid and the like. Only water may leave the pan: whether there
    is enough of it to reach ``final_solids`` is for ``water_off_kg`` to say.
    Raises ValueError out of range.
    """
    ranges.solids("final solids", final_solids)
    return _solids_kg(fruit_kg, fruit_solids, sugar_kg, other_solids_kg) / final_solids


def water_off_kg(
    fruit_kg: Q | float,
    fruit_solids: Q | float,
    sugar_kg: Q | float,
    final_solids: Q | float,
    water_kg: Q | float = 0.0,
    other_solids_kg: Q | float = 0.0,
) -> Q | float:
    """Water to boil off (kg): all that goes into the pan, less the preserve that comes out.

    Below zero where the mix is already thicker than ``final_solids``: then no boiling gets there,
    and the caller decides. Units, ranges and errors as for ``jam_kg``.
    """
    ranges.kg("water", water_kg)
    jam = jam_kg(fruit_kg, fruit_solids, sugar_kg, final_solids, other_solids_kg)
    return fruit_kg + sugar_kg + water_kg + other_solids_kg - jam


def fruit_per_jam(
    fruit_solids: Q | float, fruit_parts: Q | float, sugar_parts: Q | float, jam_solids: Q | float
) -> Q | float:
    """Kilograms of fruit that one kilogram of preserve takes, for fruit and sugar in given parts by mass.

    Solids are fractions above 0 and below 0.9; parts are any two numbers of the same unit (45 to 55).
    Raises ValueError out of range.
    """
    ranges.above("parts of fruit", fruit_parts, 0, 1e6, "", "A preserve without fruit has no such figure.")
    ranges.within("parts of sugar", sugar_parts, 0, 1e6, "", "Give 0 for no added sugar.")
    return 1.0 / jam_kg(1.0, fruit_solids, sugar_parts / fruit_parts, jam_solids)


def prepared_kg(picked_kg: Q | float, preparation_loss: Q | float) -> Q | float:
    """Fruit (kg) left of ``picked_kg`` once hulled, stalked, stoned and sorted.

    ``preparation_loss`` is a fraction of what was picked, from 0 to below 1. Raises ValueError out of range.
    """
    ranges.kg("picked fruit", picked_kg)
    ranges.loss("preparation loss", preparation_loss)
    return picked_kg * (1 - preparation_loss)


def picked_kg(prepared_kg: Q | float, preparation_loss: Q | float) -> Q | float:
    """Fruit (kg) to pick for ``prepared_kg``; ranges and errors of the function ``prepared_kg``."""
    ranges.kg("prepared fruit", prepared_kg)
    ranges.loss("preparation loss", preparation_loss)
    return prepared_kg / (1 - preparation_loss)


def solids_of(
    fruit_kg: Q | float,
    fruit_solids: Q | float,
    sugar_kg: Q | float,
    jam_kg: Q | float,
    other_solids_kg: Q | float = 0.0,
) -> Q | float:
    """Final solids (a fraction of mass) that a recipe's stated yield of ``jam_kg`` means: undoes ``jam_kg``.

    Raises ValueError out of range, above all where the preserve would be thicker than 90 %: a yield too
    small for the sugar that went in is a misprint.
    """
    ranges.above("preserve", jam_kg, 0, 100_000, "kg", "Give the yield in kg.")
    found = _solids_kg(fruit_kg, fruit_solids, sugar_kg, other_solids_kg) / jam_kg
    remedy = "Solids do not boil away: the yield is too small for the fruit and sugar, or the sugar too much."
    ranges.between("solids of the preserve", found, 0, 0.9, "as a fraction of mass", remedy)
    return found


def sugar_for_share(mix_kg: Q | float, share: Q | float) -> Q | float:
    """Sugar (kg) to stir into ``mix_kg`` so that added sugar is ``share`` (0 to below 0.9) of the whole.

    Raises ValueError out of range.
    """
    ranges.kg("mix", mix_kg)
    ranges.within("share of sugar", share, 0, 0.9, "as a fraction", "Give 60 % as 0.6.")
    return mix_kg * share / (1 - share)


def mix_litres(fruit_kg: Q | float, sugar_kg: Q | float, water_kg: Q | float) -> Q | float:
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


def mix_of(shares: Sequence[Q | float], values: Sequence[Q | float]) -> Q | float:
    """Σ share × value of one mix: its solids, water, or hours of work a kg.

    Shares are fractions of mass from 0 to 1 that add to 1. Raises ValueError out of range.
    """
    if len(shares) != len(values):
        raise ValueError(f"{len(shares)} shares but {len(values)} values; give one value for each fruit.")
    for share in shares:
        ranges.within("share of a fruit", share, 0, 1, "", "Give 40 % as 0.4.")
    remedy = "Give shares of all the fruit in the pan."
    ranges.within("sum of the shares", sum(shares), 1 - _FORGIVEN, 1 + _FORGIVEN, "", remedy)
    return sum(share * value for share, value in zip(shares, values, strict=True))


@overload
def jars(jam_kg: float, pan_loss: float, jar_kg: float) -> int: ...
@overload
def jars(jam_kg: Array, pan_loss: Numbers, jar_kg: Numbers) -> NDArray[np.int64]: ...
@overload
def jars(jam_kg: float, pan_loss: Numbers, jar_kg: Array) -> NDArray[np.int64]: ...


def jars(jam_kg: Numbers, pan_loss: Numbers, jar_kg: Numbers) -> int | NDArray[np.int64]:
    """Full jars from ``jam_kg`` of preserve, after the fraction that stays in pan, funnel and tests.

    ``pan_loss`` is a fraction from 0 to below 1, ``jar_kg`` the net mass of a jar (above 0, at most
    25 kg; the average fill, where jars are filled over their label). A millionth of a jar too little is
    forgiven. Raises ValueError out of range.
    """
    ranges.kg("preserve", jam_kg)
    ranges.loss("pan loss", pan_loss)
    ranges.above("net mass of a jar", jar_kg, 0, 25, "kg", "Give 340 g as 0.34.")
    full = np.floor(jam_kg * (1.0 - pan_loss) / jar_kg + 1e-6)
    return full.astype(np.int64) if isinstance(full, np.ndarray) else int(full)


def share_out(
    jam_kg: float, pan_loss: float, jar_kg: Sequence[float], shares: Sequence[float]
) -> tuple[int, ...]:
    """Full jars of each size from ``jam_kg`` of preserve, sizes filled in their order.

    Each size gets its share (fractions that add to 1) of what the pan gives, and what could not fill a jar of
    the size before it. Otherwise as ``jars``. Raises ValueError out of range.
    """
    if len(jar_kg) != len(shares):
        raise ValueError(f"{len(jar_kg)} sizes but {len(shares)} shares; give one share for each size.")
    due = jam_kg * (1.0 - pan_loss) * mix_of(shares, [0.0] * len(shares))
    potted, full = 0.0, []
    for size, share in zip(jar_kg, shares, strict=True):
        due += jam_kg * (1.0 - pan_loss) * share
        full.append(jars(max(0.0, due - potted), 0.0, size))
        potted += full[-1] * size
    return tuple(full)


def _solids_kg(
    fruit_kg: Q | float, fruit_solids: Q | float, sugar_kg: Q | float, other_solids_kg: Q | float
) -> Q | float:
    ranges.kg("fruit", fruit_kg)
    ranges.solids("solids of the fruit", fruit_solids)
    ranges.kg("sugar", sugar_kg)
    ranges.kg("other solids", other_solids_kg)
    return fruit_kg * fruit_solids + sugar_kg + other_solids_kg
