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
    """``pay`` and ``overtime_pay`` are money per hour; ``hours_week`` the most from Monday to Sunday.

    A ``learner`` minds no pan and does not count among the people that a pan on the heat needs. ``born``
    is None where the age does not matter, ``email`` where no mail is sent.
    """

    name: str
    skills: frozenset[Skill]
    pay: float
    overtime_pay: float
    hours_week: float
    learner: bool = False
    born: date | None = None
    email: str | None = None

    def younger_than(self, years: int, day: date) -> bool:
        """Whether the birthday of so many years is still to come on ``day``; of 29 February it is 1 March."""
        if self.born is None:
            return False
        age = day.year - self.born.year - ((day.month, day.day) < (self.born.month, self.born.day))
        return age < years


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
    """Breaks, the longest stretch of work without one, the rest between two days, and who may do what.

    A shift in use is paid for ``least_paid_minutes`` at least. Who is younger than ``boil_from_age`` years
    keeps off hot sugar. Nobody minds pans for more than ``longest_stove_minutes`` in a row (None: no limit);
    only ``stove_rest_minutes`` away from them end a stretch.
    """

    breaks: tuple[BreakRule, ...]
    longest_stretch_minutes: int
    rest_minutes: int
    least_paid_minutes: int = 0
    boil_from_age: int = 0
    longest_stove_minutes: int | None = None
    stove_rest_minutes: int = 15

    def skills_on(self, person: Person, day: date) -> frozenset[Skill]:
        """What a person may do on a day: a learner does not cook, who is too young neither that nor fill."""
        kept_from = {Skill.COOK} if person.learner else set()
        if person.younger_than(self.boil_from_age, day):
            kept_from |= {Skill.COOK, Skill.FILL}
        return person.skills - kept_from

    def break_minutes(self, present_minutes: int) -> int:
        """Minutes of break owed for ``present_minutes`` from arriving to leaving."""
        owed = [rule.minutes for rule in self.breaks if present_minutes > rule.after_minutes]
        return max(owed, default=0)
