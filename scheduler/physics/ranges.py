"""Range checks of the physics: a number out of range is named, with what is allowed and what to do.

In an array every entry is checked, and the first that is out of range is named with its place, counted from
0: ``fruit[17] is -1``.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from scheduler.physics.quantity import Numbers

Truth: TypeAlias = bool | NDArray[np.bool_]


def within(quantity: str, value: Numbers, low: Numbers, high: Numbers, unit: str, remedy: str) -> None:
    """Raise ValueError unless low <= value <= high (NaN is out of range)."""
    inside = (low <= value) & (value <= high)
    _require(inside, quantity, value, low, high, f"{{:g}} to {{:g}} {unit}", remedy)


def above(quantity: str, value: Numbers, low: Numbers, high: Numbers, unit: str, remedy: str) -> None:
    """Raise ValueError unless low < value <= high (NaN is out of range)."""
    inside = (low < value) & (value <= high)
    _require(inside, quantity, value, low, high, f"above {{:g}} and at most {{:g}} {unit}", remedy)


def between(quantity: str, value: Numbers, low: Numbers, high: Numbers, unit: str, remedy: str) -> None:
    """Raise ValueError unless low < value < high (NaN is out of range)."""
    inside = (low < value) & (value < high)
    _require(inside, quantity, value, low, high, f"above {{:g}} and below {{:g}} {unit}", remedy)


def solids(quantity: str, fraction: Numbers) -> None:
    """Raise ValueError unless a soluble-solids fraction lies strictly between 0 and 0.9."""
    between(quantity, fraction, 0, 0.9, "as a fraction of mass", "Give 65 % as 0.65.")


def kg(quantity: str, mass: Numbers) -> None:
    """Raise ValueError unless a mass is between nothing and 100 000 kg."""
    within(quantity, mass, 0, 100_000, "kg", "Give the mass in kg, never below nothing.")


def loss(quantity: str, fraction: Numbers) -> None:
    """Raise ValueError unless a lost share of mass is from 0 to below 1."""
    within(quantity, fraction, 0, 0.999, "as a fraction", "Give 2 % as 0.02.")


def diameter(diameter_cm: Numbers) -> None:
    """Raise ValueError unless a pan is 10 to 150 cm wide."""
    within("pan diameter", diameter_cm, 10, 150, "cm", "Give the inner diameter in cm.")


def room(room_c: Numbers) -> None:
    """Raise ValueError unless a room is one to work in: -10 to 50 °C."""
    within("room temperature", room_c, -10, 50, "°C", "Give degrees Celsius.")


def _require(
    inside: Truth, quantity: str, value: Numbers, low: Numbers, high: Numbers, allowed: str, remedy: str
) -> None:
    if inside is True or np.all(inside):
        return
    every, values, lows, highs = np.broadcast_arrays(inside, value, low, high)
    first = int(np.argmin(every))
    name = f"{quantity}[{first}]" if every.ndim else quantity
    limits = allowed.format(lows.flat[first], highs.flat[first]).strip()
    raise ValueError(f"{name} is {values.flat[first]:g}; allowed: {limits}. {remedy}")
