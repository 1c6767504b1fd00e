"""Amounts typed with their unit, as "3 st 4 lb", "5 pints", "220 °F" or "1 h 30", in the unit of a column.

Factors are exact; ``languages.measures`` says where they are published. A stone is 14 pounds (the same Act).
"""

from __future__ import annotations

import re

from scheduler.languages.measures import INCH, PINT, POUND, celsius

_SIZES: dict[str, dict[str, float]] = {
    "mass": {
        "kg kilo kilos kilogram kilograms": 1.0,
        "g gram grams": 0.001,
        "st stone stones": 14 * POUND,
        "lb lbs pound pounds": POUND,
        "oz ounce ounces": POUND / 16,
    },
    "volume": {
        "l litre litres liter liters": 1.0,
        "ml": 0.001,
        "gal gallon gallons": 8 * PINT,
        "pt pint pints": PINT,
        "floz": PINT / 20,
    },
    "length": {
        "m metre metres": 1.0,
        "cm": 0.01,
        "mm": 0.001,
        "ft foot feet ' ′": 12 * INCH,
        'in inch inches " ″': INCH,
    },
    "time": {"h hr hrs hour hours": 60.0, "min mins minute minutes": 1.0},
}
"""Size of each unit by its names: kg, litres, metres, minutes."""

_UNITS = {
    name: (dimension, size)
    for dimension, sizes in _SIZES.items()
    for names, size in sizes.items()
    for name in names.split()
}
_IMPERIAL = "st stone stones lb lbs pound pounds oz ounce ounces gal gallon gallons pt pint pints floz"
_FAHRENHEIT, _CELSIUS = ("f", "°f", "ºf"), ("c", "°c", "ºc")
_COLUMNS = {
    "kg": ("mass", 1.0),
    "g": ("mass", 0.001),
    "litres": ("volume", 1.0),
    "m": ("length", 1.0),
    "cm": ("length", 0.01),
    "minutes": ("time", 1.0),
    "hours": ("time", 60.0),
    "°C": ("temperature", 1.0),
}
"""Units of columns that amounts are turned into, and their size."""

_AS_IN = {
    "mass": "12 lb or 3 st 4 lb",
    "volume": "5 pints",
    "length": "9 in",
    "time": "1 h 30",
    "temperature": "220 °F",
}
_RATES = (" an hour", " a day")
_FOLLOWS = {"h": "min", "st": "lb", "lb": "oz", "ft": "in"}
"""What a last number without a unit counts in."""

_PIECE = re.compile(r"\s*(\d+\.?\d*|\.\d+)\s*([^\W\d_]+|[°º][^\W\d_]|['\"′″])?,?")
_DEGREES = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+))\s*([°º]?[a-z])")
_AMERICAN = re.compile(r"\bu\.?s\.?(?!\w)", re.IGNORECASE)


class NoSuchAmount(ValueError):
    """A typed amount that has no meaning in its column; its text says what to write."""


def example(unit: str) -> str:
    """How an amount may be typed in a column of ``unit``; empty where plain numbers are the only way."""
    dimension = _COLUMNS.get(_bare(unit), ("", 0.0))[0]
    return _AS_IN.get(dimension, "")


def amount(text: str, unit: str) -> float | None:
    """The typed ``text`` as a number of ``unit``, that of its column; None where it is no amount with units.

    A rate, kg an hour or a day, is typed as a mass. Raises NoSuchAmount for a unit of another kind, one that
    is not known, and US measures, which differ from imperial ones of the same name.
    """
    column = _COLUMNS.get(_bare(unit))
    if column is None:
        return None
    typed = text.strip().lower().replace("−", "-")
    for rate in _RATES:
        typed = typed.removesuffix(rate) if unit.endswith(rate) else typed
    if re.search(r"\d", typed) and _AMERICAN.search(typed):
        sizes = "A US pint is 0.473 litres, an imperial one 0.568"
        raise NoSuchAmount(f"{sizes}: US measures are not read. Write {_bare(unit)}.")
    dimension, size = column
    if dimension == "temperature":
        return _celsius(typed)
    pieces = _pieces(typed)
    return None if pieces is None else round(_sum(pieces, dimension, unit) / size, 9)


def is_imperial(text: str) -> bool:
    """Whether an amount is typed in pounds, pints or their kin."""
    return any(name in _IMPERIAL.split() for _, name in _pieces(text.strip().lower()) or [])


def _bare(unit: str) -> str:
    for rate in _RATES:
        unit = unit.removesuffix(rate)
    return unit


def _celsius(typed: str) -> float | None:
    match = _DEGREES.fullmatch(typed)
    if match is None:
        return None
    if match[2] in _FAHRENHEIT:
        return celsius(float(match[1]))
    if match[2] in _CELSIUS:
        return float(match[1])
    raise NoSuchAmount("Write °C, or °F to have it turned into °C.")


def _pieces(typed: str) -> list[tuple[float, str]] | None:
    """Numbers and their units in order; a last bare number has the unit that follows the one before."""
    rest = re.sub(r"\bfl\.?\s*oz\b", "floz", typed)
    found: list[tuple[float, str]] = []
    while rest:
        match = _PIECE.match(rest)
        if match is None:
            return None
        name = match[2] or ""
        rest = rest[match.end() :].lstrip()
        if not name:
            before = found[-1][1] if found else ""
            name = next((then for unit, then in _FOLLOWS.items() if _same(before, unit)), "")
            if not name or rest:
                return None
        found.append((float(match[1]), name))
    return found or None


def _same(name: str, unit: str) -> bool:
    return _UNITS.get(name) == _UNITS[unit]


def _sum(pieces: list[tuple[float, str]], dimension: str, unit: str) -> float:
    total, before = 0.0, float("inf")
    for number, name in pieces:
        if name not in _UNITS:
            raise NoSuchAmount(f"'{name}' is no unit known here: write {unit}, or as in {_AS_IN[dimension]}.")
        kind, size = _UNITS[name]
        if kind != dimension:
            raise NoSuchAmount(f"'{name}' is a {kind}: write {unit}, or as in {_AS_IN[dimension]}.")
        if size >= before:
            raise NoSuchAmount("Write the larger unit first, each unit once.")
        total, before = total + number * size, size
    return total
