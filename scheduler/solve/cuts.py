"""Cuts: what a day that cannot be placed teaches the allocation.

A cut says: a day on which at least so many batches of these kinds are cooked, at least so many minutes are
prepared to freeze and jars labelled, fruit is taken out for tomorrow, nobody is in for longer or may do more
than these people, the kitchen is closed at these times, and these pans and rings are out, has no timetable.
Removing a batch, freezing or labelling less, taking nothing out, being in for longer, being allowed more,
being open for longer or having more pans never makes a day harder, so it holds on every day. What is held or
ruled out by name is named only where the day needs it (``Pin``, ``Barred``): such a cut holds on days on
which as much is asked of batches of the same cards. It is reduced before use: to nothing given, the most
people, the fewest batches, no work beside them, and the widest kinds of batches.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import zip_longest
from typing import Any

from ortools.sat.python import cp_model

from scheduler.cards import BatchCard, Cards
from scheduler.domain.days import Span
from scheduler.domain.kitchen import STEP
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import Barred, DayWork, Pin, Place, Presence, presence
from scheduler.model.decisions import total
from scheduler.model.given import day_work, pin
from scheduler.model.limits import freeze_minutes
from scheduler.plan_rows import Part
from scheduler.solve.place import refuted
from scheduler.solve.settings import Clock

REDUCE_EFFORT = 0.04
"""Deterministic seconds for each step of reducing a cut; undecided steps are not taken."""
MOST_STEPS = 30
"""Steps for one cut: counted, not timed, so that a seed repeats its plan."""
ANYWHERE = -1
"""The ring of a kind of batch that may stand on any."""

WIDTHS = (("pan",), ("pan", "from_freezer"), ("pan", "ring", "from_freezer"))
"""What the cards of a kind have in common, widest kinds first."""

Members = frozenset[int]


@dataclass(frozen=True, slots=True)
class Cut:
    """At least so many batches of each set of cards, so many minutes of freezing, labelling and taking out,
    nobody else or longer in, closed at these times, out, pinned and barred like this or more: such a day
    cannot be placed; ``proved`` tells a proof from a day merely left undecided."""

    batches: tuple[tuple[Members, int], ...]
    freezing: int
    people: tuple[Presence, ...]
    closed: tuple[Span, ...]
    labelling: int
    taking_out: int
    proved: bool
    out: tuple[Place, ...] = ()
    pins: tuple[Pin, ...] = ()
    barred: tuple[Barred, ...] = ()


def undecided(work: DayWork) -> Cut:
    """The cut that keeps plans away from a day that could be neither placed nor refuted."""
    batches = tuple((frozenset((m,)), n) for m, n in sorted(Counter(work.batches).items()))
    return _cut(work, batches, proved=False)


def _cut(work: DayWork, batches: tuple[tuple[Members, int], ...], proved: bool) -> Cut:
    return Cut(
        batches, work.freezing, work.people, work.closed, work.labelling, work.taking_out, proved, work.out,
        work.pins, work.barred,
    )  # fmt: skip


def easiest(cards: list[BatchCard]) -> BatchCard | None:
    """A batch that fits wherever one of the cards fits, so that what refutes it refutes them all.

    Cards are laid over each other at the moment the heat goes off; what is common to all of them is kept:
    the last minutes at the stove, the first of potting, the least that any draws of gas and of electricity
    (nothing where one draws of the other). None if they stand for different times.
    """
    if len({card.stand for card in cards}) != 1:
        return None
    cooking = min(card.cooking for card in cards)
    return replace(
        cards[0],
        ring=cards[0].ring if len({card.ring for card in cards}) == 1 else ANYWHERE,
        filled=(min(card.jars for card in cards),),
        wash_jars=min(card.wash_jars for card in cards),
        pieces=tuple(min(row) for row in zip_longest(*(c.pieces for c in cards), fillvalue=0) if min(row)),
        part=Part.WHOLE, soften=0, strain=0, dissolve=cooking, boil=0, test=0, reboil=0, reboils=0,
        standby=min(card.standby for card in cards),
        electric_watts=min(card.electric_watts for card in cards),
        gas_watts=min(card.gas_watts for card in cards),
        pot=min(card.pot for card in cards), wash=min(card.wash for card in cards),
    )  # fmt: skip


class Kinds:
    """Kinds of batches by index: every card is one by itself, wider ones are added when they are asked for.

    ``cards`` holds an easiest batch for each; ``members`` the cards that it stands for.
    """

    def __init__(self, cards: Cards) -> None:
        self.own = range(len(cards.batches))
        self.cards = cards
        self.members: list[Members] = [frozenset((m,)) for m in self.own]

    def kind(self, members: Members) -> int | None:
        """The index of a kind of these cards; None if no easiest batch stands for them all."""
        if members in self.members:
            return self.members.index(members)
        card = easiest([self.cards.batches[m] for m in sorted(members)])
        if card is None:
            return None
        self.cards = replace(self.cards, batches=(*self.cards.batches, card))
        self.members.append(members)
        return len(self.members) - 1

    def alike(self, kind: int, fields: Sequence[str]) -> Members:
        """All cards that have some fields in common with a kind."""
        batches = self.cards.batches
        mine = [getattr(batches[kind], name) for name in fields]
        return frozenset(m for m in self.own if [getattr(batches[m], name) for name in fields] == mine)


def fullest(cards: Cards) -> dict[int, Presence]:
    """Everybody in from their earliest arriving to their latest leaving on any day, without a break, and with
    every skill that counts on some day."""
    most: dict[int, Presence] = {}
    for staff in cards.staff:
        here = replace(presence(cards, staff), break_minutes=0, break_first=0, break_last=0)
        known = most.get(staff.person, here)
        most[staff.person] = replace(
            here,
            skills=known.skills | here.skills,
            start=min(known.start, here.start),
            leave=max(known.leave, here.leave),
        )
    return most


def no_roomier(here: Presence, there: Presence) -> bool:
    """Whether every way to be in like ``here`` is a way to be in like ``there`` (same person)."""
    if here.start < there.start or here.leave > there.leave or not here.skills <= there.skills:
        return False
    if not there.break_minutes:
        return True
    inside = there.break_first <= here.break_first and here.break_last <= there.break_last
    return here.break_minutes >= there.break_minutes and inside


def no_longer_open(here: tuple[Span, ...], there: tuple[Span, ...]) -> bool:
    """Whether a kitchen closed at the times ``here`` is closed at those of ``there``."""
    return all(any(a <= since and until <= b for a, b in here) for since, until in there)


def reduce(cards: Cards, work: DayWork, clock: Clock) -> Cut:
    """The widest cut that can be proved from a work that was refuted."""
    kinds = Kinds(cards)
    steps = iter(range(MOST_STEPS))

    def impossible(tried: DayWork) -> bool:
        in_time = not clock.over and next(steps, None) is not None
        return in_time and refuted(kinds.cards, tried, REDUCE_EFFORT)

    work = _with_less_given(work, impossible)
    # An easiest batch of several has no recipe that could be barred.
    for fields in WIDTHS if not work.barred else ():
        stands = [kinds.kind(kinds.alike(m, fields)) for m in _free(work)]
        wider = [kind for kind in stands if kind is not None]
        tried = _with_free(work, wider)
        if len(wider) == len(stands) and impossible(tried):
            work = tried
            break
    work = _with_more_people(cards, work, impossible)
    work = _with_fewer_batches(work, impossible)
    less = (partial(replace, freezing=0), partial(replace, labelling=0), partial(replace, taking_out=0))
    for tried in (without(work) for without in less):
        if tried != work and impossible(tried):
            work = tried
    if not work.barred:
        work = _with_more_cards(kinds, work, impossible)
    # A batch that is pinned is of some kind, too, and counts there beside those that are not.
    pinned = [each.card for each in work.pins]
    batches = tuple(
        (kinds.members[kind], n + sum(card in kinds.members[kind] for card in pinned))
        for kind, n in sorted(Counter(_free(work)).items())
    )
    return _cut(work, batches, proved=True)


def _free(work: DayWork) -> list[int]:
    """The batches that are not pinned."""
    return sorted((Counter(work.batches) - Counter(each.card for each in work.pins)).elements())


def _with_free(work: DayWork, free: Iterable[int]) -> DayWork:
    """The same work with other batches beside those that are pinned."""
    return replace(work, batches=tuple(sorted([*free, *(each.card for each in work.pins)])))


def _with_less_given(work: DayWork, impossible: Callable[[DayWork], bool]) -> DayWork:
    """The same work without those closed times, places out, pins and bars that it is impossible without."""
    for name in ("closed", "out", "barred", "pins"):
        nothing: dict[str, Any] = {name: ()}
        if getattr(work, name) and impossible(tried := replace(work, **nothing)):
            work = tried
    for n in reversed(range(len(work.pins))) if len(work.pins) > 1 else ():
        tried = replace(work, pins=(*work.pins[:n], *work.pins[n + 1 :]))
        if impossible(tried):
            work = tried
    return work


def _with_fewer_batches(work: DayWork, impossible: Callable[[DayWork], bool]) -> DayWork:
    """The same work without the batches that it is impossible without; those pinned stay with their pins."""
    for kind in sorted(set(_free(work))):
        while kind in _free(work):
            fewer = _free(work)
            fewer.remove(kind)
            if not impossible(_with_free(work, fewer)):
                break
            work = _with_free(work, fewer)
    return work


def _with_more_cards(kinds: Kinds, work: DayWork, impossible: Callable[[DayWork], bool]) -> DayWork:
    """The same work with its kinds widened, card by card of the same pan, as long as it stays impossible.

    A card belongs to one kind only, or a batch of it would count twice; so two kinds become one as a whole.
    """
    for card in kinds.own:
        for kind in sorted(set(_free(work))):
            if card in kinds.members[kind] or card not in kinds.alike(kind, ("pan",)):
                continue
            owner = next((other for other in set(_free(work)) if card in kinds.members[other]), card)
            wider = kinds.kind(kinds.members[kind] | kinds.members[owner])
            if wider is None:
                continue
            tried = _with_free(work, (wider if n in (kind, owner) else n for n in _free(work)))
            if impossible(tried):
                work = tried
                break
    return work


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
        others = _other_pins(model, d, cut)
        if others is None or not _given_as_much(day_work(cards, d, (), 0, ()), cut):
            continue
        ways_out: list[cp_model.LiteralT] = [*others]
        for n, (members, least) in enumerate(cut.batches):
            fewer = model.model.new_bool_var(f"fewer than {least} of {n} on {d}")
            cooked = total(x.count[d][m] for m in sorted(members))
            model.model.add(cooked <= least - 1).only_enforce_if(fewer)
            ways_out.append(fewer)
        if cut.freezing:
            less = model.model.new_bool_var(f"freezes less on {d}")
            model.model.add(x.freezing_minutes(d) <= common * (cut.freezing - STEP)).only_enforce_if(less)
            ways_out.append(less)
        if cut.labelling:
            less = model.model.new_bool_var(f"labels less on {d}")
            model.model.add(x.label_steps[d] < cut.labelling // STEP).only_enforce_if(less)
            ways_out.append(less)
        if cut.taking_out:
            ways_out.append(~x.takes_out[d])
        for i, staff in enumerate(cards.staff):
            here = presence(cards, staff)
            if staff.day == d and not (here.person in there and no_roomier(here, there[here.person])):
                ways_out.append(x.staff[i])
        clause = model.model.add_bool_or(ways_out)
        if not cut.proved:
            clause.only_enforce_if(model.avoid)


def _other_pins(model: AllocationModel, d: int, cut: Cut) -> list[cp_model.IntVar] | None:
    """For each pin of a cut, whether fewer rows of a day hold such a batch; None if it has fewer anyway."""
    cards, x = model.cards, model.x
    rows = {h: row for h, row in enumerate(cards.scenario.held) if row.day == cards.dates[d]}
    ways_out = []
    for each, least in Counter(cut.pins).items():
        same = [x.meets[h, m] for h, m in x.meets if h in rows and pin(cards, rows[h], m) == each]
        if len(same) < least:
            return None
        fewer = model.model.new_bool_var(f"holds fewer than {least} of {each} on {d}")
        model.model.add(total(same) <= least - 1).only_enforce_if(fewer)
        ways_out.append(fewer)
    return ways_out


def _given_as_much(work: DayWork, cut: Cut) -> bool:
    """Whether a day is closed and short of places like a cut, and as much is ruled out of its places."""
    out, barred = Counter(work.out), Counter(work.barred)
    less_room = Counter(cut.out) <= out and Counter(cut.barred) <= barred
    return less_room and no_longer_open(work.closed, cut.closed)


def covers(cut: Cut, work: DayWork) -> bool:
    """Whether the cut forbids the work."""
    there = {here.person: here for here in cut.people}
    return (
        all(sum(m in members for m in work.batches) >= least for members, least in cut.batches)
        and work.freezing >= cut.freezing
        and work.labelling >= cut.labelling
        and work.taking_out >= cut.taking_out
        and _given_as_much(work, cut)
        and Counter(cut.pins) <= Counter(work.pins)
        and all(here.person in there and no_roomier(here, there[here.person]) for here in work.people)
    )
