"""Pans and rings by number, on a day on which a batch is held in, or ruled out of, one of several equal ones.

On all other days a class is a capacity, and its names are given when the day is read.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from ortools.sat.python import cp_model

from scheduler.domain.kitchen import STEP
from scheduler.model.day import ANY, DayWork, Pin, Place

if TYPE_CHECKING:
    from scheduler.model.timetable import DayModel

Numbers = dict[tuple[str, int], list[cp_model.IntVar]]
"""By "pan" or "ring" and batch: a literal for each number that it may have in its class."""


def pinned(work: DayWork) -> dict[int, Pin]:
    """The batch of each pin, counted along the day's batches: of equal batches the first ones are held."""
    found: dict[int, Pin] = {}
    used: Counter[int] = Counter()
    for each in work.pins:
        found[work.batches.index(each.card) + used[each.card]] = each
        used[each.card] += 1
    return found


def number_places(day: DayModel) -> Numbers:
    """Batches of the classes of which a number is held or ruled out: one number each, one at a time on it."""
    numbers: Numbers = {}
    for place in _told_apart(day):
        numbers |= _numbered(day, place)
    for b, each in day.pinned.items():
        for kind, number in (("pan", each.pan), ("ring", each.ring)):
            if number != ANY:
                day.model.add(numbers[kind, b][number] >= 1)
    _keep_out(day, numbers)
    return numbers


def _told_apart(day: DayModel) -> list[Place]:
    """Classes of which a number is held or ruled out."""
    work, cards = day.work, day.cards
    found = [("pan", cards.batches[each.card].pan) for each in work.pins if each.pan != ANY]
    found += [("ring", cards.batches[each.card].ring) for each in work.pins if each.ring != ANY]
    found += [("pan", each.pan_class) for each in work.barred if each.pan != ANY]
    found += [("ring", each.ring_class) for each in work.barred if each.ring != ANY]
    return sorted(set(found))


def _numbered(day: DayModel, place: Place) -> Numbers:
    kind, _ = place
    count = day.capacity(place)
    mine = [b for b, card in enumerate(day.batches) if (card.pan if kind == "pan" else card.ring) == place[1]]
    numbers = {(kind, b): [day.model.new_bool_var(f"{kind} of {b}.{i}") for i in range(count)] for b in mine}
    for b in mine:
        day.model.add(cp_model.LinearExpr.sum(numbers[kind, b]) == 1)
    for i in range(count):
        day.model.add_no_overlap(_held(day, kind, b, numbers[kind, b][i]) for b in mine)
    return numbers


def _held(day: DayModel, kind: str, b: int, there: cp_model.IntVar) -> cp_model.IntervalVar:
    """The time in which a batch holds its pan or ring, if that is this one."""
    card, name = day.batches[b], f"one {kind} {b}"
    if kind == "ring":
        steps = day.cards.hold(card) // STEP
        return day.model.new_optional_fixed_size_interval_var(day.start[b], steps, there, name)
    size = day.model.new_int_var(1, day.steps, name)
    return day.model.new_optional_interval_var(
        day.start[b], size, day.wash[b] + card.wash // STEP, there, name
    )


def _keep_out(day: DayModel, numbers: Numbers) -> None:
    """What is ruled out of a pan, a ring, or one of them on the other."""
    for each in day.work.barred:
        for b, card in enumerate(day.batches):
            where = each.pan_class in (ANY, card.pan) and each.ring_class in (ANY, card.ring)
            if card.recipe != each.recipe or not where:
                continue
            chosen = [("pan", each.pan), ("ring", each.ring)]
            there = [numbers[kind, b][number] for kind, number in chosen if number != ANY]
            day.model.add(cp_model.LinearExpr.sum(there) <= len(there) - 1)
