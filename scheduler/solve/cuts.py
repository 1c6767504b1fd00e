"""Cuts: what a day that cannot be placed teaches the allocation.

A cut says: a day on which at least so many batches of these kinds are cooked, at least so many minutes are
prepared to freeze, and nobody is in for longer than these people, has no timetable. Removing a batch,
freezing less or being in for longer never makes a day harder, so it holds on every day. It is reduced
before use: to the widest kinds of batches, the fewest of them, and the most people.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import zip_longest

from scheduler.cards import BatchCard, Cards
from scheduler.domain.kitchen import STEP
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayWork, Presence, presence
from scheduler.model.decisions import total
from scheduler.model.limits import freeze_minutes
from scheduler.solve.place import refuted
from scheduler.solve.settings import Clock

REDUCE_EFFORT = 0.1
"""Deterministic seconds for each step of reducing a cut; undecided steps are not taken."""
ANYWHERE = -1
"""The ring of a kind of batch that may stand on any."""

Members = frozenset[int]


@dataclass(frozen=True, slots=True)
class Cut:
    """At least so many batches of each set of cards, so many minutes of freezing, nobody else or longer in:
    such a day cannot be placed; ``proved`` tells a proof from a day merely left undecided."""

    batches: tuple[tuple[Members, int], ...]
    freezing: int
    people: tuple[Presence, ...]
    proved: bool


def undecided(work: DayWork) -> Cut:
    """The cut that keeps plans away from a day that could be neither placed nor refuted."""
    batches = tuple((frozenset((m,)), n) for m, n in sorted(Counter(work.batches).items()))
    return Cut(batches, work.freezing, work.people, proved=False)


def easiest(cards: list[BatchCard]) -> BatchCard | None:
    """A batch that fits wherever one of the cards fits, so that what refutes it refutes them all.

    Cards are laid over each other at the moment the heat goes off; what is common to all of them is kept:
    the last minutes at the stove, the first of potting. None if they stand for different times.
    """
    if len({card.stand for card in cards}) != 1:
        return None
    cooking = min(card.cooking for card in cards)
    return replace(
        cards[0],
        ring=cards[0].ring if len({card.ring for card in cards}) == 1 else ANYWHERE,
        jars=min(card.jars for card in cards),
        pieces=tuple(min(row) for row in zip_longest(*(c.pieces for c in cards), fillvalue=0) if min(row)),
        dissolve=cooking, boil=0, test=0, reboil=0, reboils=0,
        pot=min(card.pot for card in cards), wash=min(card.wash for card in cards),
    )  # fmt: skip


def kinds(cards: Cards) -> tuple[Cards, tuple[dict[int, int], ...], dict[int, Members]]:
    """Kinds of batches, widest first: cards with an easiest batch of each kind added at the end; for every
    width the index that stands for each card; and the cards of each index."""
    batches = list(cards.batches)
    members = {m: frozenset((m,)) for m in range(len(batches))}
    widths = []
    for width in (
        lambda c: (c.pan,),
        lambda c: (c.pan, c.from_freezer),
        lambda c: (c.pan, c.ring, c.from_freezer),
    ):
        stands: dict[int, int] = {}
        for key in sorted({width(card) for card in cards.batches}):
            mine = [m for m, card in enumerate(cards.batches) if width(card) == key]
            card = easiest([cards.batches[m] for m in mine])
            if card is not None:
                members[len(batches)] = frozenset(mine)
                stands |= dict.fromkeys(mine, len(batches))
                batches.append(card)
        if len(stands) == len(cards.batches):
            widths.append(stands)
    return replace(cards, batches=tuple(batches)), tuple(widths), members


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


def reduce(cards: Cards, work: DayWork, clock: Clock) -> Cut:
    """The widest cut that can be proved from a work that was refuted."""
    wider, widths, members = kinds(cards)

    def impossible(tried: DayWork) -> bool:
        return not clock.over and refuted(wider, tried, REDUCE_EFFORT)

    for stands in widths:
        tried = replace(work, batches=tuple(sorted(stands[m] for m in work.batches)))
        if impossible(tried):
            work = tried
            break
    work = _with_more_people(cards, work, impossible)
    for kind in sorted(set(work.batches)):
        while kind in work.batches:
            fewer = list(work.batches)
            fewer.remove(kind)
            if not impossible(replace(work, batches=tuple(fewer))):
                break
            work = replace(work, batches=tuple(fewer))
    if work.freezing and impossible(replace(work, freezing=0)):
        work = replace(work, freezing=0)
    batches = tuple((members[kind], n) for kind, n in sorted(Counter(work.batches).items()))
    return Cut(batches, work.freezing, work.people, proved=True)


def _with_more_people(cards: Cards, work: DayWork, impossible: Callable[[DayWork], bool]) -> DayWork:
    """The same work with as many people in, for as long, as still leave it impossible."""
    most = fullest(cards)
    everybody = replace(work, people=tuple(most[person] for person in sorted(most)))
    if impossible(everybody):
        return everybody
    for person, here in most.items():
        others = [other for other in work.people if other.person != person]
        tried = replace(work, people=tuple(sorted([*others, here], key=lambda p: p.person)))
        if impossible(tried):
            work = tried
    return work


def add(model: AllocationModel, cut: Cut) -> None:
    """Forbid the work of a cut on every day whose people are no roomier than the cut's."""
    cards, x = model.cards, model.x
    there = {here.person: here for here in cut.people}
    _, common = freeze_minutes(cards)
    for d in range(cards.days):
        ways_out = []
        for n, (members, least) in enumerate(cut.batches):
            fewer = model.model.new_bool_var(f"fewer than {least} of {n} on {d}")
            cooked = total(x.count[d][m] for m in sorted(members))
            model.model.add(cooked <= least - 1).only_enforce_if(fewer)
            ways_out.append(fewer)
        if cut.freezing:
            less = model.model.new_bool_var(f"freezes less on {d}")
            model.model.add(x.freezing_minutes(d) <= common * (cut.freezing - STEP)).only_enforce_if(less)
            ways_out.append(less)
        for i, staff in enumerate(cards.staff):
            here = presence(cards, staff)
            if staff.day == d and not (here.person in there and no_roomier(here, there[here.person])):
                ways_out.append(x.staff[i])
        clause = model.model.add_bool_or(ways_out)
        if not cut.proved:
            clause.only_enforce_if(model.avoid)


def covers(cut: Cut, work: DayWork) -> bool:
    """Whether the cut forbids the work."""
    there = {here.person: here for here in cut.people}
    return (
        all(sum(m in members for m in work.batches) >= least for members, least in cut.batches)
        and work.freezing >= cut.freezing
        and all(here.person in there and no_roomier(here, there[here.person]) for here in work.people)
    )
