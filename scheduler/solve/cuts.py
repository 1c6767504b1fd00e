"""Cuts: what a day that cannot be placed teaches the allocation.

A cut says: a day on which at least these batches are cooked, at least so many minutes are prepared to
freeze, and nobody is in for longer than these people, has no timetable. Removing a batch, freezing less or
being in for longer never makes a day harder, so it holds on every day and is reduced before use.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from scheduler.cards import Cards
from scheduler.domain.kitchen import STEP
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayWork, Presence, presence
from scheduler.model.limits import freeze_minutes
from scheduler.solve.place import Verdict, place
from scheduler.solve.settings import Clock

REDUCE_EFFORT = 0.5
"""Deterministic seconds for each step of reducing a cut; undecided steps are not taken."""


@dataclass(frozen=True, slots=True)
class Cut:
    """``work`` cannot be placed; ``proved`` tells a proof from a day merely left undecided."""

    work: DayWork
    proved: bool


def fullest(cards: Cards) -> dict[int, Presence]:
    """Everybody in from their earliest arriving to their latest leaving on any day, without a break."""
    most: dict[int, Presence] = {}
    for staff in cards.staff:
        here = replace(presence(cards, staff), break_minutes=0, break_first=0, break_last=0)
        known = most.get(staff.person, here)
        most[staff.person] = replace(
            here, start=min(known.start, here.start), leave=max(known.leave, here.leave)
        )
    return most


def no_roomier(here: Presence, there: Presence) -> bool:
    """Whether every way to be in like ``here`` is a way to be in like ``there`` (same person)."""
    if here.start < there.start or here.leave > there.leave:
        return False
    if not there.break_minutes:
        return True
    inside = there.break_first <= here.break_first and here.break_last <= there.break_last
    return here.break_minutes >= there.break_minutes and inside


def reduce(cards: Cards, work: DayWork, clock: Clock) -> DayWork:
    """A smaller work, with more people in, that is still proved impossible."""

    def refuted(tried: DayWork) -> bool:
        return not clock.over and place(cards, tried, REDUCE_EFFORT).verdict is Verdict.REFUTED

    most = fullest(cards)
    everybody = replace(work, people=tuple(most[person] for person in sorted(most)))
    if refuted(everybody):
        work = everybody
    else:
        for person, here in most.items():
            others = [other for other in work.people if other.person != person]
            people = tuple(sorted([*others, here], key=lambda p: p.person))
            if refuted(replace(work, people=people)):
                work = replace(work, people=people)
    for card in sorted(set(work.batches)):
        while card in work.batches:
            fewer = list(work.batches)
            fewer.remove(card)
            if not refuted(replace(work, batches=tuple(fewer))):
                break
            work = replace(work, batches=tuple(fewer))
    if work.freezing and refuted(replace(work, freezing=0)):
        work = replace(work, freezing=0)
    return work


def add(model: AllocationModel, cut: Cut) -> None:
    """Forbid the work of a cut on every day whose people are no roomier than the cut's."""
    cards, x = model.cards, model.x
    there = {here.person: here for here in cut.work.people}
    _, common = freeze_minutes(cards)
    for d in range(cards.days):
        ways_out = []
        for m, least in Counter(cut.work.batches).items():
            fewer = model.model.new_bool_var(f"fewer than {least} of {m} on {d}")
            model.model.add(x.count[d][m] <= least - 1).only_enforce_if(fewer)
            ways_out.append(fewer)
        if cut.work.freezing:
            less = model.model.new_bool_var(f"freezes less on {d}")
            model.model.add(x.freezing_minutes(d) <= common * (cut.work.freezing - STEP)).only_enforce_if(
                less
            )
            ways_out.append(less)
        for i, staff in enumerate(cards.staff):
            here = presence(cards, staff)
            if staff.day == d and not (here.person in there and no_roomier(here, there[here.person])):
                ways_out.append(x.staff[i])
        clause = model.model.add_bool_or(ways_out)
        if not cut.proved:
            clause.only_enforce_if(model.avoid)
