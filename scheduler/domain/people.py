"""Hands: people, what they can do, the shifts they offer and the rules of their working day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

OVERTIME_STEP = 30
"""Overtime is given in steps of this many minutes."""


class Skill(StrEnum):
    """What a person is trained for. Washing pans and loading the jar oven need no skill."""

    PREPARE = "prepare"
    COOK = "cook"
    FILL = "fill"


@dataclass(frozen=True, slots=True)
class Person:
    """``pay`` and ``overtime_pay`` are money per hour; ``hours_week`` the most from Monday to Sunday."""

    name: str
    skills: frozenset[Skill]
    pay: float
    overtime_pay: float
    hours_week: float


@dataclass(frozen=True, slots=True)
class Shift:
    """A shift that a person offers. Times are minutes from midnight; overtime follows ``end``."""

    person: str
    day: date
    start: int
    end: int
    overtime_minutes: int


@dataclass(frozen=True, slots=True)
class BreakRule:
    """Presence of more than ``after_minutes`` takes a break of ``minutes``."""

    after_minutes: int
    minutes: int


@dataclass(frozen=True, slots=True)
class WorkRules:
    """Breaks, the longest stretch of work without one, and the rest between two working days."""

    breaks: tuple[BreakRule, ...]
    longest_stretch_minutes: int
    rest_minutes: int

    def break_minutes(self, present_minutes: int) -> int:
        """Minutes of break owed for ``present_minutes`` from arriving to leaving."""
        owed = [rule.minutes for rule in self.breaks if present_minutes > rule.after_minutes]
        return max(owed, default=0)
