"""Range checks of the physics: a number out of range is named, with what is allowed and what to do."""

from __future__ import annotations


def within(quantity: str, value: float, low: float, high: float, unit: str, remedy: str) -> None:
    """Raise ValueError unless low <= value <= high (NaN is out of range)."""
    if not low <= value <= high:
        raise ValueError(_message(quantity, value, f"{low:g} to {high:g} {unit}".strip(), remedy))


def above(quantity: str, value: float, low: float, high: float, unit: str, remedy: str) -> None:
    """Raise ValueError unless low < value <= high (NaN is out of range)."""
    if not low < value <= high:
        allowed = f"above {low:g} and at most {high:g} {unit}".strip()
        raise ValueError(_message(quantity, value, allowed, remedy))


def between(quantity: str, value: float, low: float, high: float, unit: str, remedy: str) -> None:
    """Raise ValueError unless low < value < high (NaN is out of range)."""
    if not low < value < high:
        allowed = f"above {low:g} and below {high:g} {unit}".strip()
        raise ValueError(_message(quantity, value, allowed, remedy))


def altitude(altitude_m: float) -> None:
    """Raise ValueError unless the altitude is one at which people cook: 0 to 5000 m."""
    within("altitude", altitude_m, 0, 5000, "m", "Give metres above the sea; below the sea use 0.")


def solids(quantity: str, fraction: float) -> None:
    """Raise ValueError unless a soluble-solids fraction lies strictly between 0 and 0.9."""
    between(quantity, fraction, 0, 0.9, "as a fraction of mass", "Give 65 % as 0.65.")


def kg(quantity: str, mass: float) -> None:
    """Raise ValueError unless a mass is between nothing and 100 000 kg."""
    within(quantity, mass, 0, 100_000, "kg", "Give the mass in kg, never below nothing.")


def _message(quantity: str, value: float, allowed: str, remedy: str) -> str:
    return f"{quantity} is {value:g}; allowed: {allowed}. {remedy}"
