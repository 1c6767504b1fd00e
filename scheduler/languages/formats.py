"""Numbers as the language writes them, by the library Babel; English by Python's own formats.

Money and days of English are written by ``views.words``, which asks here for those of every other language.
"""

from __future__ import annotations

from datetime import date
from functools import cache

from babel import Locale
from babel.dates import format_date
from babel.numbers import (
    NumberPattern,
    format_currency,
    format_decimal,
    get_decimal_symbol,
    get_group_symbol,
    parse_pattern,
)

from scheduler.languages import locale


def number(amount: float, decimals: int = 0, grouped: bool = True) -> str:
    """A number with so many decimals: ``1,204.5``, not ``grouped`` ``1204.5``."""
    if (where := locale()) is None:
        return f"{amount:,.{decimals}f}" if grouped else f"{amount:.{decimals}f}"
    return str(format_decimal(amount, _pattern(decimals, grouped), where))


@cache
def _pattern(decimals: int, grouped: bool) -> NumberPattern:
    """A pattern of Unicode TR 35, read once."""
    return parse_pattern(("#,##0" if grouped else "0") + "." * bool(decimals) + "0" * decimals)


def general(amount: float) -> str:
    """A number with as many decimals as it needs: ``0.25``."""
    where = locale()
    return f"{amount:g}" if where is None else str(format_decimal(float(f"{amount:g}"), "0.######", where))


def money(amount: float, currency: str, decimals: int, where: Locale) -> str:
    """An amount (not below 0) with its sign: ``1.204,50 €``."""
    pattern = "#,##0" + "." * bool(decimals) + "0" * decimals + "\u00a0¤"
    return str(format_currency(amount, currency, pattern, where, currency_digits=False))


def written(day: date, pattern: str, where: Locale) -> str:
    """A day by a pattern of Unicode TR 35."""
    return str(format_date(day, pattern, where))


def separators() -> str:
    """The signs before decimals and between thousands: ``.,``."""
    where = locale()
    return ".," if where is None else f"{get_decimal_symbol(where)}{get_group_symbol(where)}"
