"""A finding of the auditor, and how it writes kg, times of day and comparisons."""

from __future__ import annotations

from dataclasses import dataclass

KG = 0.001 + 1e-9
"""Tolerance of every comparison of kg, with room for the last bit of a float."""


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """One broken rule: its name, where it is broken, what was found there and what is allowed."""

    rule: str
    where: str
    found: str
    allowed: str

    def __str__(self) -> str:
        line = f"{self.rule}: {self.where}: found {self.found}; allowed: {self.allowed}"
        return " ".join(line.split())


def same(one: float, other: float, tolerance: float = KG) -> bool:
    """Whether two numbers are equal within ``tolerance``."""
    return abs(one - other) <= tolerance


def kg(value: float) -> str:
    """``value`` in kg, to the gram."""
    return f"{value:.3f} kg"


def clock(minutes: int) -> str:
    """A time of day, from minutes after midnight: 510 is 08:30."""
    sign = "-" if minutes < 0 else ""
    return f"{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"
