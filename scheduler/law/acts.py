"""The acts of law as data: in force from when to when, their limits, the names they reserve.

The figures stand in ``data/`` as facts, each with its source. ``read`` means that the figure was in a
text that was read, though often second-hand (the source says which); ``memory`` that it was not, and
whoever shows it must say "not verified".
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from importlib.resources import files

from scheduler.law.composition import Kind, plain

HERE = "European Union"
"""Where jars are sold unless said otherwise."""


class Quantity(StrEnum):
    """What a limit binds."""

    FRUIT = "fruit"
    SOLIDS = "solids"
    ENDOCARP = "endocarp"
    FRUIT_TO_SUGAR = "fruit to sugar"
    KINDS_OF_FRUIT = "kinds of fruit"
    SMALLEST_SHARE = "smallest share"
    OTHER_FRUIT = "other fruit"


class Bound(StrEnum):
    """Which way a limit binds."""

    LEAST = "least"
    MOST = "most"


class SugarLine(StrEnum):
    """Whether an act wants the total sugar content on the label."""

    ASKED = "asked"
    DROPPED = "dropped"
    NOT_ASKED = "not asked"


@dataclass(frozen=True, slots=True)
class Limit:
    """One figure of an act. ``fruits`` are those it speaks of, plain and singular; empty for any other."""

    quantity: Quantity
    bound: Bound
    value: float
    fruits: frozenset[str]
    source: str
    verified: bool

    def speaks_of(self, fruit: str) -> bool:
        """Whether ``fruit`` is named in the limit."""
        return plain(fruit) in self.fruits


@dataclass(frozen=True, slots=True)
class Reserved:
    """A word kept for preserves that meet the limits of the name ``meets`` (empty: limits not held)."""

    word: str
    meets: str
    source: str
    verified: bool


@dataclass(frozen=True, slots=True)
class Act:
    """Rules of one place in force from ``start`` to ``end`` (None: no end known), both days counted.

    ``limits`` maps a kind of preserve to its names in law and each name to its limits. ``ask`` is who
    decides; ``verified`` is about the dates.
    """

    jurisdiction: str
    title: str
    start: date
    end: date | None
    verified: bool
    fruit_line: bool
    sugar_line: SugarLine
    ask: str
    note: str
    limits: dict[Kind, dict[str, tuple[Limit, ...]]]
    reserved: tuple[Reserved, ...]

    def in_force(self, on: date) -> bool:
        """Whether the act applies on a day."""
        return self.start <= on and (self.end is None or on <= self.end)

    def reserved_in(self, name: str) -> Reserved | None:
        """The longest reserved word that stands in ``name``, or None."""
        found = [word for word in self.reserved if re.search(rf"\b{re.escape(word.word)}s?\b", name.lower())]
        return max(found, key=lambda word: len(word.word), default=None)


@cache
def acts() -> tuple[Act, ...]:
    """All acts that are held, in the order of ``data/acts.csv``."""
    limits: dict[str, dict[Kind, dict[str, tuple[Limit, ...]]]] = {}
    for row in table("limits"):
        names = limits.setdefault(row["act"], {}).setdefault(Kind(row["kind"]), {})
        names[row["name"]] = (*names.get(row["name"], ()), _limit(row))
    reserved: dict[str, tuple[Reserved, ...]] = {}
    for row in table("reserved"):
        word = Reserved(row["word"], row["meets"], row["source"], row["provenance"] == "read")
        reserved[row["act"]] = (*reserved.get(row["act"], ()), word)
    return tuple(_act(row, limits[row["act"]], reserved[row["act"]]) for row in table("acts"))


def acts_on(on: date) -> tuple[Act, ...]:
    """The acts in force on a day, at most one for each jurisdiction."""
    return tuple(act for act in acts() if act.in_force(on))


def act_on(jurisdiction: str, on: date) -> Act:
    """The act of one jurisdiction on a day. Raises ValueError where none is held."""
    for act in acts_on(on):
        if act.jurisdiction == jurisdiction:
            return act
    held = ", ".join(act.jurisdiction for act in acts_on(on)) or "none on that day"
    raise ValueError(
        f"jurisdiction is {jurisdiction!r} on {on}; allowed: {held}. Ask the food authority where you sell."
    )


def table(name: str) -> list[dict[str, str]]:
    """The rows of a data file of this package."""
    text = files("scheduler.law").joinpath(f"data/{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _limit(row: dict[str, str]) -> Limit:
    named = frozenset() if row["fruits"] == "any" else frozenset(map(plain, row["fruits"].split("; ")))
    quantity, bound = Quantity(row["quantity"]), Bound(row["bound"])
    return Limit(quantity, bound, float(row["value"]), named, row["source"], row["provenance"] == "read")


def _act(
    row: dict[str, str], limits: dict[Kind, dict[str, tuple[Limit, ...]]], reserved: tuple[Reserved, ...]
) -> Act:
    return Act(
        jurisdiction=row["jurisdiction"],
        title=row["title"],
        start=date.fromisoformat(row["from"]),
        end=date.fromisoformat(row["to"]) if row["to"] else None,
        verified=row["provenance"] == "read",
        fruit_line=row["fruit_line"] == "yes",
        sugar_line=SugarLine(row["sugar_line"]),
        ask=row["ask"],
        note=row["note"],
        limits=limits,
        reserved=reserved,
    )
