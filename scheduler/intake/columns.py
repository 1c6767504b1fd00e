"""What every file of a scenario folder may hold, column by column and key by key, for those who edit it."""

from __future__ import annotations

import datetime as dt
import json
import re
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from scheduler.intake import keys, rows
from scheduler.intake.gathered import TABLES
from scheduler.intake.kinds import Choice, Clock, Day, Kind, Known, Number, Steps, Truth, Ways, Whole, YesNo
from scheduler.intake.measures import NoSuchAmount, amount, example

SHEETS: dict[str, type[BaseModel]] = {
    "fruits.csv": rows.FruitRow,
    "picks.csv": rows.PickRow,
    "lots.csv": rows.LotRow,
    "punnets.csv": rows.PunnetRow,
    "people.csv": rows.PersonRow,
    "shifts.csv": rows.ShiftRow,
    "orders.csv": rows.OrderRow,
    "store.csv": rows.GoodRow,
    "deliveries.csv": rows.DeliveryRow,
    "shop.csv": rows.ShopRow,
    "days.csv": rows.DayRow,
    "busy.csv": rows.BusyRow,
    "readings.csv": rows.ReadingRow,
    "boils.csv": rows.BoilRow,
    "out.csv": rows.OutRow,
    "held.csv": rows.HeldRow,
}
"""The row of each CSV file."""

ONCE: dict[str, type[BaseModel]] = {"": keys.FarmTable, **TABLES, "work": keys.WorkTable}
"""Tables that stand in kitchen.toml once at most; the one without a name is the keys of the first lines."""

LISTS: dict[str, type[BaseModel]] = {
    "pan": keys.PanTable,
    "ring": keys.RingTable,
    "freezer_box": keys.FreezerBoxTable,
    "work.break": keys.BreakTable,
}
"""Tables of kitchen.toml that stand there once for each thing."""

OF_RECIPE: dict[str, type[BaseModel]] = {
    "fruit": keys.ShareTable,
    "other": keys.OtherTable,
    "size": keys.SizeTable,
}
"""Tables within a recipe."""

RECIPE: type[BaseModel] = keys.RecipeTable

DECIMALS = 4
"""Decimals that are kept of an amount turned into the unit of its column: a tenth of a gram."""

_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")
_MOST_OPTIONS = 20


@dataclass(frozen=True)
class Column:
    """A column of a CSV file, or a key of a TOML table; ``default`` is "" where an empty one says nothing."""

    name: str
    what: str
    kind: Kind | None
    required: bool
    default: str

    @property
    def allowed(self) -> str:
        """What it may hold, in the words of faults."""
        return self.kind.allowed if self.kind else "nothing"

    @property
    def unit(self) -> str:
        return self.kind.unit if isinstance(self.kind, Number | Whole) else ""

    @property
    def number(self) -> bool:
        return isinstance(self.kind, Number | Whole)

    @property
    def day(self) -> bool:
        return isinstance(self.kind, Day)

    @property
    def clock(self) -> bool:
        return isinstance(self.kind, Clock)

    @property
    def options(self) -> tuple[str, ...]:
        """The words to choose from; none where anything may be written."""
        match self.kind:
            case Choice(options):
                return tuple(options)
            case Known(names) if len(names) <= _MOST_OPTIONS:
                return names
            case YesNo():
                return ("yes", "no")
            case Truth():
                return ("true", "false")
        return ()

    @property
    def help(self) -> str:
        """What it is, what is allowed, and what holds where it is empty, in a few sentences."""
        if self.kind is None:
            return "Not known here: empty it, or put it right."
        typed = f" Or with a unit, as in {as_in}." if (as_in := example(self.unit)) else ""
        if self.required:
            empty = " Must be given."
        else:
            empty = f" Empty: {self.default}." if self.default else " May be empty."
        return f"{self.what[:1].upper()}{self.what[1:]}. Allowed: {self.allowed}.{typed}{empty}"

    def in_its_unit(self, text: str) -> str:
        """An amount typed with a unit, as a plain number of this column's unit; other text as it is."""
        if not self.number or _PLAIN.fullmatch(text.strip()):
            return text
        try:
            value = amount(text, self.unit)
        except NoSuchAmount:
            return text
        return text if value is None else f"{round(value, DECIMALS):.{DECIMALS}f}".rstrip("0").rstrip(".")

    def toml_value(self, text: str) -> Any:
        """The value that TOML writes for the text of a cell; text that does not fit stays text."""
        match self.kind:
            case Number() | Whole() if _PLAIN.fullmatch(text) and len(text) <= _MOST_OPTIONS:
                return float(text) if "." in text else int(text)
            case Truth() if text in ("true", "false"):
                return text == "true"
            case Day():
                try:
                    return dt.date.fromisoformat(text) if len(text) == len("2026-07-06") else text
                except ValueError:
                    return text
            case Steps() | Ways():
                return _list(text)
        return text


def columns_of(model: type[BaseModel]) -> tuple[Column, ...]:
    """The columns or keys of a row or table, in the order of scenarios/README.md."""
    return tuple(_column(name, field) for name, field in model.model_fields.items())


def unknown(name: str) -> Column:
    """A column or key that stands in a file and that nothing reads."""
    return Column(name, "", None, required=False, default="")


def as_text(value: Any) -> str:
    """The text of a cell for a value of a TOML file."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return json.dumps(value, default=str, ensure_ascii=False)
    return str(value)


def _column(name: str, field: FieldInfo) -> Column:
    kind = next(meta for meta in field.metadata if isinstance(meta, Kind))
    what = " ".join((field.description or "").split())
    default = "" if field.is_required() else _default(field.default, kind)
    return Column(name, what, kind, field.is_required(), default)


def _default(value: object, kind: Kind) -> str:
    if value is None or isinstance(value, frozenset):
        return ""
    if isinstance(value, bool) and isinstance(kind, YesNo):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return value.value if isinstance(value, StrEnum) else as_text(value)


def _list(text: str) -> Any:
    try:
        return tomllib.loads(f"list = {text}")["list"] if "\n" not in text else text
    except (tomllib.TOMLDecodeError, RecursionError):
        return text
