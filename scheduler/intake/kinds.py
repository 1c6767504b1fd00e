"""Kinds of value that a cell or key may hold; each says what it allows and what to do otherwise."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any
from zoneinfo import available_timezones

from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from scheduler.domain.kitchen import STEP
from scheduler.intake.faults import did_you_mean, listed
from scheduler.intake.measures import NoSuchAmount, amount, example

LONGEST_NAME = 60
LONGEST_NOTE = 300
LARGEST_NUMBER = 1e15
FORMULA_STARTS = "=+-@"
UNSEEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
"""Unicode categories of characters that cannot be seen or that break lines."""

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")
_COMMA_NUMBER = re.compile(r"[+-]?\d[\d.,'  ]*,\d+")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})")


def refuse(allowed: str, remedy: str) -> PydanticCustomError:
    """The error that a kind raises; its context becomes the fault's ``allowed`` and ``remedy``."""
    return PydanticCustomError("refused", "refused", {"allowed": allowed, "remedy": remedy})


class Kind:
    """Base of all kinds: ``allowed`` in words, and ``read``, which returns the value or refuses it."""

    @property
    def allowed(self) -> str:
        raise NotImplementedError

    def read(self, raw: Any) -> Any:
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: Callable[[Any], CoreSchema]) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)


@dataclass(frozen=True)
class Number(Kind):
    """A number from ``low`` to ``high``; rounded to ``places`` decimals where given."""

    low: float
    high: float
    unit: str = ""
    places: int | None = None
    remedy: str = "Mend the number."

    @property
    def allowed(self) -> str:
        return f"a number from {self.low:.10g} to {self.high:.10g} {self.unit}".rstrip()

    def read(self, raw: Any) -> float:
        value = _plain_number(raw, self.allowed, self.unit)
        if not self.low <= value <= self.high:
            fahrenheit = " Degrees Fahrenheit are written as in 68 °F." if self.unit == "°C" else ""
            raise refuse(self.allowed, self.remedy + fahrenheit)
        return value if self.places is None else round(value, self.places) + 0.0


@dataclass(frozen=True)
class Whole(Kind):
    """A whole number from ``low`` to ``high``, a multiple of ``step``."""

    low: int
    high: int
    unit: str = ""
    step: int = 1
    remedy: str = "Mend the number."

    @property
    def allowed(self) -> str:
        steps = f" in steps of {self.step}" if self.step > 1 else ""
        return f"a whole number from {self.low} to {self.high} {self.unit}".rstrip() + steps

    def read(self, raw: Any) -> int:
        value = _plain_number(raw, self.allowed, self.unit)
        if not self.low <= value <= self.high or value != int(value) or int(value) % self.step:
            raise refuse(self.allowed, self.remedy)
        return int(value)


@dataclass(frozen=True)
class Text(Kind):
    """Plain text on one line, safe to show anywhere and to open in a spreadsheet."""

    longest: int = LONGEST_NAME
    may_be_empty: bool = False

    @property
    def allowed(self) -> str:
        least = 0 if self.may_be_empty else 1
        return f"text of {least} to {self.longest} characters that does not start with = + - @"

    def read(self, raw: Any) -> str:
        if not isinstance(raw, str):
            raise refuse(self.allowed, 'Write it as text in quotes, as in "Kilbrack".')
        text = unicodedata.normalize("NFC", raw.strip())
        if not text and not self.may_be_empty:
            raise refuse(self.allowed, "Write a name.")
        if len(text) > self.longest:
            raise refuse(self.allowed, "Shorten it.")
        if text[:1] and text[0] in FORMULA_STARTS:
            raise refuse(
                self.allowed, "Begin with a letter or digit: a spreadsheet would run this as a formula."
            )
        if any(unicodedata.category(char) in UNSEEN for char in text):
            raise refuse("text without control or unseen characters", "Type the text again by hand.")
        return text


@dataclass(frozen=True)
class Pattern(Kind):
    """Text of a fixed shape, such as a currency code."""

    shape: str
    says: str
    remedy: str

    @property
    def allowed(self) -> str:
        return self.says

    def read(self, raw: Any) -> str:
        if not isinstance(raw, str) or not re.fullmatch(self.shape, raw.strip()):
            raise refuse(self.says, self.remedy)
        return raw.strip()


@dataclass(frozen=True)
class Zone(Kind):
    """A time zone by its name in the IANA time zone database."""

    @property
    def allowed(self) -> str:
        return "a time zone as the IANA time zone database names it, such as Europe/Dublin"

    def read(self, raw: Any) -> str:
        word = raw.strip() if isinstance(raw, str) else str(raw)
        known = available_timezones()
        if word not in known:
            remedy = "Write a continent or ocean and a city, as in Europe/Dublin."
            like = sorted(zone for zone in known if zone[:1].casefold() == word[:1].casefold())
            raise refuse(self.allowed, did_you_mean(word, like, remedy))
        return word


@dataclass(frozen=True)
class Day(Kind):
    """An ISO date from ``first_year`` to 2100."""

    first_year: int = 2000

    @property
    def allowed(self) -> str:
        return "a date as YYYY-MM-DD"

    def read(self, raw: Any) -> dt.date:
        if isinstance(raw, dt.date) and not isinstance(raw, dt.datetime):
            value = raw
        elif isinstance(raw, str) and _DAY.fullmatch(raw.strip()):
            value = _calendar_day(raw.strip())
        else:
            raise refuse(self.allowed, "Write year, month and day, as in 2026-07-06.")
        if not self.first_year <= value.year <= 2100:
            raise refuse(f"a date between {self.first_year} and 2100", "Mend the year.")
        return value


@dataclass(frozen=True)
class Clock(Kind):
    """A time of day as HH:MM in steps of 5 minutes, read as minutes from midnight."""

    @property
    def allowed(self) -> str:
        return f"a time of day as HH:MM in steps of {STEP} minutes, to 24:00"

    def read(self, raw: Any) -> int:
        if isinstance(raw, dt.time):
            raw = raw.strftime("%H:%M")
        match = _CLOCK.fullmatch(raw.strip()) if isinstance(raw, str) else None
        if not match:
            raise refuse(
                self.allowed, 'Write hours and minutes, as in 08:30 (in quotes in a .toml file: "08:30").'
            )
        hours, minutes = int(match[1]), int(match[2])
        value = 60 * hours + minutes
        if minutes > 59 or value > 24 * 60 or value % STEP:
            raise refuse(self.allowed, "Mend the time.")
        return value


@dataclass(frozen=True)
class Truth(Kind):
    """True or false, as TOML writes them."""

    @property
    def allowed(self) -> str:
        return "true or false"

    def read(self, raw: Any) -> bool:
        if not isinstance(raw, bool):
            raise refuse(self.allowed, "Write true or false in small letters, without quotes.")
        return raw


@dataclass(frozen=True)
class YesNo(Kind):
    """Yes or no, as a cell of a table says them."""

    @property
    def allowed(self) -> str:
        return "yes or no"

    def read(self, raw: Any) -> bool:
        word = raw.strip() if isinstance(raw, str) else str(raw)
        if word not in ("yes", "no"):
            raise refuse(self.allowed, did_you_mean(word, ("yes", "no"), "Write yes or no in small letters."))
        return word == "yes"


@dataclass(frozen=True)
class Choice(Kind):
    """One word of an enumeration."""

    options: type[StrEnum]

    @property
    def allowed(self) -> str:
        return "one of " + ", ".join(self.options)

    def read(self, raw: Any) -> StrEnum:
        word = raw.strip() if isinstance(raw, str) else str(raw)
        if word not in list(self.options):
            raise refuse(self.allowed, did_you_mean(word, self.options, "Choose one of them."))
        return self.options(word)


@dataclass(frozen=True)
class Choices(Kind):
    """One or more words of an enumeration, separated by spaces."""

    options: type[StrEnum]

    @property
    def allowed(self) -> str:
        return "at least one of " + ", ".join(self.options) + ", separated by spaces"

    def read(self, raw: Any) -> frozenset[StrEnum]:
        words = raw.split() if isinstance(raw, str) else []
        strange = [word for word in words if word not in list(self.options)]
        if strange:
            raise refuse(self.allowed, did_you_mean(strange[0], self.options, "Use these words only."))
        if not words:
            raise refuse(self.allowed, "Give at least one of " + ", ".join(self.options) + ".")
        return frozenset(self.options(word) for word in words)


@dataclass(frozen=True)
class Steps(Kind):
    """A rising list of up to five shares, the last of them 1."""

    @property
    def allowed(self) -> str:
        return "a rising list of one to five shares above 0.1 that ends with 1, as in [0.6, 0.8, 1.0]"

    def read(self, raw: Any) -> tuple[float, ...]:
        if not isinstance(raw, list):
            raise refuse(self.allowed, "Write a list in square brackets.")
        values = tuple(_plain_number(item, self.allowed) for item in raw)
        rising = list(values) == sorted(set(values))
        if not 1 <= len(values) <= 5 or not rising or values[0] < 0.1 or values[-1] != 1:
            raise refuse(self.allowed, "Mend the list.")
        return values


@dataclass(frozen=True)
class Ways(Kind):
    """One to ten ways to share a whole out: lists of shares that add to 1."""

    @property
    def allowed(self) -> str:
        return "one to ten lists of shares that add to 1, as in [[1, 0], [0.5, 0.5]]"

    def read(self, raw: Any) -> tuple[tuple[float, ...], ...]:
        if not isinstance(raw, list) or not all(isinstance(way, list) for way in raw):
            raise refuse(self.allowed, "Write lists in square brackets within one list.")
        ways = tuple(tuple(_plain_number(item, self.allowed) for item in way) for way in raw)
        whole = all(abs(sum(way) - 1) < 1e-6 and min(way) >= 0 for way in ways)
        if not 1 <= len(ways) <= 10 or not whole:
            raise refuse(self.allowed, "Mend the shares.")
        return ways


@dataclass(frozen=True)
class Known(Kind):
    """One of a fixed list of words that is only known when the program runs."""

    names: tuple[str, ...]

    @property
    def allowed(self) -> str:
        return "one of " + listed(self.names, 20)

    def read(self, raw: Any) -> str:
        word = raw.strip() if isinstance(raw, str) else str(raw)
        if word not in self.names:
            raise refuse(self.allowed, did_you_mean(word, self.names, "Choose the one most like it."))
        return word


def _plain_number(raw: Any, allowed: str, unit: str = "") -> float:
    """A finite number from a cell's text or a TOML value; text may carry a unit that turns into ``unit``."""
    if isinstance(raw, str):
        text = raw.strip()
        if _COMMA_NUMBER.fullmatch(text):
            raise refuse(allowed, "Write a decimal point and no thousands mark: 12.5, not 12,5.")
        return float(text) if _NUMBER.fullmatch(text) else _with_unit(text, allowed, unit)
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not abs(raw) < LARGEST_NUMBER:
        raise refuse(allowed, "Write a plain number, as in 12.5.")
    return float(raw)


def _with_unit(text: str, allowed: str, unit: str) -> float:
    """An amount that carries its unit, in ``unit``."""
    try:
        value = amount(text, unit)
    except NoSuchAmount as error:
        raise refuse(allowed, str(error)) from None
    if value is None:
        units = f"or with a unit, as in {as_in}" if (as_in := example(unit)) else "without units"
        raise refuse(allowed, f"Write digits with a decimal point, as in 12.5, {units}.")
    return value


def _calendar_day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise refuse("a day that the calendar has", "Mend the day or month.") from None
