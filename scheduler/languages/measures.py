"""Masses, volumes and temperatures in the units that the reader's farm goes by.

Everything is reckoned and kept in kg, litres and °C; here alone it is turned round, on its way to a reader.
Lengths and power stay metric, and so does what is weighed out in grams, as pectin: scales of a tenth of an
ounce are too coarse for it.

Sizes are exact. Pound, ounce, gallon, pint, fluid ounce, foot and inch: Weights and Measures Act 1985 (United
Kingdom), schedule 1 as enacted, where the pint is the imperial one, an eighth of 4.54609 litres. Pound, inch
and degree Fahrenheit also: NIST Special Publication 811, appendix B.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scheduler.languages import BOTH, METRIC, message, spoken, units
from scheduler.languages.formats import number

POUND = 0.45359237
"""kg"""
OUNCE = POUND / 16
"""kg"""
PINT = 4.54609 / 8
"""litres, imperial"""
INCH = 0.0254
"""metres"""
CELSIUS, FAHRENHEIT = "°C", "°F"
_TRACE = 0.05
"""kg below which there is nothing."""


@dataclass(frozen=True, slots=True)
class _Unit:
    """An imperial unit by its symbol, and how much of the metric one it is."""

    symbol: str
    size: float


_KG = _Unit("lb", POUND)
_LITRE = _Unit("pt", PINT)
_IMPERIAL: Mapping[str, _Unit] = {
    "kg": _KG,
    "litres": _LITRE,
    "litre": _LITRE,
    "l": _LITRE,
}
_NAMED = {"kg": "lb", "litres": message("pints"), CELSIUS: FAHRENHEIT}
"""Units that texts name without a number, and those that stand for them."""


def fahrenheit(celsius: float) -> float:
    """°C in °F."""
    return 1.8 * celsius + 32


def celsius(fahrenheit: float) -> float:
    """°F in °C."""
    return (fahrenheit - 32) / 1.8


def mass(kg: float) -> str:
    """``12.3 kg`` with one decimal and no negative zero; ``27.1 lb``, and below a pound ``7.1 oz``."""
    metric = f"{number(kg + 0.0 if abs(kg) >= _TRACE else 0.0, 1)} kg"
    if units() == METRIC:
        return metric
    if units() == BOTH:
        return _either(metric, _pounds_and_ounces(kg))
    if abs(kg) < _TRACE:
        return f"{number(0.0, 1)} lb"
    ounces = round(kg / OUNCE, 1)
    return f"{number(ounces, 1)} oz" if abs(ounces) < 16 else f"{number(kg / POUND, 1)} lb"


def _pounds_and_ounces(kg: float) -> str:
    """``26 lb 7 oz``, as scales with a dial show it."""
    pounds, ounces = divmod(round(kg / OUNCE), 16)
    told = [f"{number(pounds)} lb"] * bool(pounds) + [f"{ounces} oz"] * bool(ounces)
    return " ".join(told) or "0 oz"


def volume(litres: float) -> str:
    """``12.5 l``, ``22 pt``."""
    return quantity(litres, "l")


def degrees(heat: float, decimals: int | None = 1) -> str:
    """``104.5 °C``, ``220.1 °F``, ``−18 °C``; None: as many decimals as it needs."""

    def told(value: float) -> str:
        told = number(value, _needed(value) if decimals is None else decimals, grouped=False)
        return told.replace("-", "−")

    metric = f"{told(heat)} {CELSIUS}"
    if units() == METRIC:
        return metric
    return _either(metric, f"{told(fahrenheit(heat))} {FAHRENHEIT}")


def quantity(amount: float, unit: str) -> str:
    """An amount without needless decimals: ``12.5 kg``, ``300 jars``; goods sold by ``each`` have no unit."""
    metric = _plain(amount, unit)
    if units() == METRIC or unit not in _IMPERIAL:
        return metric
    other = _IMPERIAL[unit]
    return _either(metric, _plain(amount / other.size, other.symbol))


def shown(amount: float, unit: str = "kg") -> float:
    """The number that stands for an amount of kg, litres or °C in a table or on an axis."""
    if units() == METRIC:
        return amount
    return fahrenheit(amount) if unit == CELSIUS else amount / _IMPERIAL[unit].size


def all_shown(amounts: Iterable[float], unit: str = "kg") -> list[float]:
    """The same of the numbers of a chart."""
    return [shown(amount, unit) for amount in amounts]


def in_kg(mass: float) -> float:
    """A number typed where ``shown`` ones stand, in kg."""
    return mass if units() == METRIC else mass * POUND


def symbol(unit: str) -> str:
    """What stands behind ``shown`` numbers: ``kg`` or ``lb``, where either may be written down ``kg / lb``; a
    unit of the farm's own stays as it is."""
    if units() == METRIC or unit not in {CELSIUS, *_IMPERIAL}:
        return unit
    other = FAHRENHEIT if unit == CELSIUS else _IMPERIAL[unit].symbol
    return f"{unit} / {other}" if units() == BOTH else other


def for_each(amount: float, unit: str = "kg") -> float:
    """Of something for each kg or litre, as money: of it for each of the unit that is shown."""
    return amount if units() == METRIC or unit not in _IMPERIAL else amount * _IMPERIAL[unit].size


def worded(text: str) -> str:
    """A text that names units without a number, such as a heading, with those that are shown."""
    if units() == METRIC:
        return text
    for unit, other in _NAMED.items():
        text = re.sub(_word(unit), spoken(other), text)
    return text


def named_in(text: str) -> str:
    """The unit that a text names, if any: ``kg``, ``litres`` or ``°C``."""
    return next((unit for unit in _NAMED if re.search(_word(unit), text)), "")


def _word(unit: str) -> str:
    return rf"(?<!\w){spoken(unit)}(?!\w)"


def _either(metric: str, imperial: str) -> str:
    """The one that is shown, or both, each of them kept on one line."""
    kept = [told.replace(" ", "\u00a0") for told in (metric, f"({imperial})")]
    return " ".join(kept) if units() == BOTH else imperial


def _needed(value: float) -> int:
    return 0 if f"{value:.1f}".endswith(".0") else 1


def _plain(amount: float, unit: str) -> str:
    told = number(amount, _needed(amount))
    return told if unit in {"", "each"} else f"{told} {spoken(unit)}"
