"""One day's work to be placed: its batches, the work beside them, the people who are in."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.cards import BatchCard, Cards, StaffCard, minutes_up
from scheduler.domain.days import Span
from scheduler.domain.kitchen import Thaw
from scheduler.domain.people import Skill
from scheduler.plan_rows import StageKind

ANY = -1
"""Where a time, class or number is free."""

Place = tuple[str, int]
"""A place for a batch: "pan" or "ring", and its class."""


@dataclass(frozen=True, slots=True, order=True)
class Presence:
    """A person who is in: index, skills, minutes from arriving to leaving, break owed and its window, and
    whether they count beside a pan on the heat."""

    person: int
    skills: frozenset[Skill]
    start: int
    leave: int
    break_minutes: int
    break_first: int
    break_last: int
    counted: bool


@dataclass(frozen=True, slots=True, order=True)
class Pin:
    """One batch of ``card`` begins to cook at ``start`` (minutes from midnight), in the pan and on the ring
    of these numbers in their classes; ANY where that is free."""

    card: int
    start: int
    pan: int
    ring: int

    @property
    def free(self) -> bool:
        """Whether it asks for nothing but a batch of its card."""
        return self.start == self.pan == self.ring == ANY


@dataclass(frozen=True, slots=True, order=True)
class Barred:
    """No batch of a recipe in this pan on this ring, each by class and number in it; ANY is all of them."""

    recipe: int
    pan_class: int
    pan: int
    ring_class: int
    ring: int


@dataclass(frozen=True, slots=True)
class DayWork:
    """What a day must place. ``batches`` are indices of batch cards, sorted; the kitchen cannot be used while
    ``closed``. ``freezing``, ``labelling``, ``taking_out`` are minutes of preparing to freeze, of labelling
    jars, of taking out what is cooked tomorrow: less never makes a day harder. Classes of pans and rings are
    short of a place for each entry of ``out``; each of the ``pins`` (sorted) holds a batch of its own. Equal
    works are equal."""

    batches: tuple[int, ...]
    freezing: int
    people: tuple[Presence, ...]
    closed: tuple[Span, ...] = ()
    labelling: int = 0
    taking_out: int = 0
    out: tuple[Place, ...] = ()
    pins: tuple[Pin, ...] = ()
    barred: tuple[Barred, ...] = ()


@dataclass(frozen=True, slots=True)
class Task:
    """A stage placed: ``batch`` counts along ``DayWork.batches`` (-1: none of them)."""

    batch: int
    kind: StageKind
    start: int
    end: int
    people: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class DayTimetable:
    """A day placed: tasks, the pan and ring (of its class) of each batch, starts of breaks by person."""

    tasks: tuple[Task, ...]
    pans: tuple[int, ...]
    rings: tuple[int, ...]
    breaks: tuple[tuple[int, int], ...]
    ends: int
    bound: int


def presence(cards: Cards, staff: StaffCard) -> Presence:
    """A staff card as somebody who is in."""
    first, last = staff.break_starts if staff.break_minutes else (0, 0)
    return Presence(
        staff.person, staff.skills, staff.start, staff.leave, staff.break_minutes, first, last,
        cards.counts(staff),
    )  # fmt: skip


def label_minutes(cards: Cards, jars: int) -> int:
    """Minutes of labelling so many jars, in steps of the timetable; 0 where the kitchen has no labels."""
    labels = cards.kitchen.labels
    return 0 if labels is None else minutes_up(60 * jars / labels.jars_per_hour)


def take_out_minutes(cards: Cards) -> int:
    """Minutes of taking fruit out of the freezer, in steps of the timetable; 0 where that takes no time."""
    kitchen = cards.kitchen
    return minutes_up(kitchen.take_out_minutes) if kitchen.thaw is Thaw.OVERNIGHT else 0


def stages_of(card: BatchCard) -> tuple[tuple[StageKind, int, int], ...]:
    """The stages that follow each other without waiting: kind, minutes since the first began, length."""
    rows = [(StageKind.SOFTEN, card.soften), (StageKind.STRAIN, card.strain)]
    rows += [
        (StageKind.DISSOLVE, card.dissolve),
        (StageKind.BOIL, card.boil),
        (StageKind.SET_TEST, card.test),
    ]
    rows += [(StageKind.REBOIL, card.reboil), (StageKind.SET_TEST, card.test)] * card.reboils
    rows += [(StageKind.STAND, card.stand), (StageKind.POT_UP, card.pot)]
    placed, at = [], 0
    for kind, minutes in rows:
        if minutes:
            placed.append((kind, at, minutes))
        at += minutes
    return tuple(placed)
