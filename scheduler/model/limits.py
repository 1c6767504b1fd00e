"""What a day's timetable implies for the allocation: limits on pans, rings, oven and hands.

Each limit is a relaxation of the day's rules (the rule book derives them), so a bound proved with
them holds for allocation and timetables together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from itertools import combinations, pairwise
from math import lcm

import numpy as np
from numpy.typing import NDArray

from scheduler.cards import SCALE, BatchCard, Cards, StaffCard, rounded_up
from scheduler.domain.days import open_minutes
from scheduler.domain.kitchen import STEP
from scheduler.domain.people import Skill
from scheduler.model.hours import Hours, hours
from scheduler.model.stove import most_at_stove

FORGIVEN_MINUTES = 0.01
MOST_PARTS = 8
"""Finest division of a pan's or ring's day when batches are counted that follow each other on it."""


HAIR = 1e-12
"""Shares of a limit's room, exact where both are equal; those that differ do by far more."""
KEPT = 600
"""Days whose limits are kept: every rule, guide and habit of a year asks for them again."""


class Work(StrEnum):
    """Kinds of work by who may do it; anyone may do ``ANY``."""

    PREPARE = "prepare"
    COOK = "cook"
    FILL = "fill"
    ANY = "any"


MEANWHILE = frozenset({Work.PREPARE, Work.ANY})
"""Kinds of work that may be done while standing by to pot up."""


def may_do(staff: StaffCard, kinds: frozenset[Work]) -> bool:
    """Whether somebody who is in like this may do at least one of the kinds of work."""
    return Work.ANY in kinds or any(Skill(kind) in staff.skills for kind in kinds)


def subsets_of_work() -> tuple[frozenset[Work], ...]:
    """All non-empty sets of kinds of work."""
    kinds = tuple(Work)
    return tuple(frozenset(some) for size in range(1, 5) for some in combinations(kinds, size))


@dataclass(frozen=True, slots=True)
class Limit:
    """Σ batches × ``minutes`` ≤ ``capacity`` on every day."""

    name: str
    minutes: tuple[int, ...]
    capacity: int


@dataclass(frozen=True, slots=True)
class HandsLimit:
    """Σ batches × ``work`` + ``freezing`` × minutes preparing to freeze + ``chores`` × minutes of labelling
    and taking out + ``once``, if anything is cooked, ≤ Σ staff in use × ``usable`` (by index of the staff
    card)."""

    kinds: frozenset[Work]
    work: tuple[int, ...]
    freezing: int
    chores: int
    once: int
    usable: dict[int, int]


def work_of(cards: Cards, card: BatchCard, kinds: frozenset[Work]) -> int:
    """Person-minutes of a batch for some kinds of work, times the pans one cook minds."""
    work = sum(_work_of(cards, card, kind) for kind in kinds)
    if Work.FILL in kinds and not kinds & MEANWHILE:
        work += cards.kitchen.pans_per_cook * cards.kitchen.called * card.standby
    return work


def _work_of(cards: Cards, card: BatchCard, kind: Work) -> int:
    k = cards.kitchen.pans_per_cook
    if kind is Work.PREPARE:
        return k * card.prepare
    if kind is Work.COOK:
        return card.cooking
    if kind is Work.FILL:
        return k * cards.kitchen.fillers * card.pot
    return k * (cards.kitchen.oven.load_minutes * (card.jars > 0) + card.wash_jars + card.wash)


def _strongest(rows: NDArray[np.float64]) -> list[int]:
    """The rows that no other row is at least as large as in every column; of equal rows the first."""
    no_less = (rows[None, :, :] >= rows[:, None, :] - HAIR).all(axis=2)
    stronger = no_less & ~no_less.T
    equal_before = np.tril(no_less & no_less.T, -1)
    return [int(n) for n in np.flatnonzero(~(stronger | equal_before).any(axis=1))]


@lru_cache(KEPT)
def batch_limits(cards: Cards, day: int) -> tuple[Limit, ...]:
    """Limits of pans, rings, heatproof places and the jar oven on a day, over the cards it can cook.

    Those that another one implies are left out, which is most of them.
    """
    limits = _batch_limits(cards, day)
    without_room = [limit for limit in limits if limit.capacity <= 0]
    others = [limit for limit in limits if limit.capacity > 0]
    if others:
        minutes = np.array([limit.minutes for limit in others], float)
        room = np.array([limit.capacity for limit in others], float)
        others = [others[n] for n in _strongest(minutes / room[:, None])]
    return (*without_room, *others)


def _batch_limits(cards: Cards, day: int) -> tuple[Limit, ...]:
    kitchen, batches = cards.kitchen, cards.batches
    h = hours(cards, day)
    if not h.first:
        return (Limit("no hands", (1,) * len(batches), 0),)
    limits = [Limit("no time", tuple(int(m not in h.first) for m in range(len(batches))), 0)]
    for p, pan_class in enumerate(cards.pans):
        mine = {m: batches[m] for m in h.first if batches[m].pan == p}
        held = {m: (h.first[m], c.chain + c.wash, h.close) for m, c in mine.items()}
        count = len(cards.pans_in_use[day][p])
        limits += _in_a_row(f"pan {', '.join(pan_class.names)}", count, held, len(batches))
    for q, ring_class in enumerate(cards.rings):
        mine = {m: batches[m] for m in h.first if batches[m].ring == q}
        held = {m: (h.first[m], cards.hold(c), h.last[m] + cards.hold(c)) for m, c in mine.items()}
        count = len(cards.rings_in_use[day][q])
        limits += _in_a_row(f"ring {', '.join(ring_class.names)}", count, held, len(batches))
    potted = max(last + batches[m].chain for m, last in h.last.items())
    if kitchen.heatproof_places:
        span = potted - min(first + batches[m].cooking for m, first in h.first.items())
        minutes = tuple(c.stand + c.pot for c in batches)
        limits.append(Limit("heatproof places", minutes, kitchen.heatproof_places * span))
    oven = kitchen.oven
    hot = tuple(c.jars * (oven.load_minutes + oven.heat_minutes + c.pot) for c in batches)
    limits.append(Limit("jar oven", hot, oven.jars * (potted - h.open)))
    limits += _power_limits(cards, day, h)
    return tuple(limits)


def rooms(cards: Cards) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Of each supply with a limit: watts that it gives to rings at once, and those that each card draws.

    Cards that are potted share what the jar oven leaves, which is on all day when they are.
    """
    for supply in cards.supplies:
        drawn = tuple(supply.drawn(card) for card in cards.batches)
        yield supply.watts, drawn
        if supply.beside_oven < supply.watts:
            yield (
                supply.beside_oven,
                tuple(w * (card.jars > 0) for w, card in zip(drawn, cards.batches, strict=True)),
            )


def _power_limits(cards: Cards, day: int, h: Hours) -> Iterator[Limit]:
    """Of rings that draw so much or more the supply feeds so many at once: as many places, in a row."""
    for room, drawn in rooms(cards):
        for watts in sorted({drawn[m] for m in h.first if drawn[m]}):
            mine = {m: cards.batches[m] for m in h.first if drawn[m] >= watts}
            at_once = max(0, room) // watts
            if at_once < sum(len(cards.rings_in_use[day][q]) for q in {card.ring for card in mine.values()}):
                on = {m: (h.first[m], c.cooking, h.last[m] + c.cooking) for m, c in mine.items()}
                yield from _in_a_row(f"power from {watts} W", at_once, on, len(drawn))


def _in_a_row(name: str, count: int, held: dict[int, tuple[int, int, int]], size: int) -> list[Limit]:
    """Batches that follow each other on ``count`` equal places: by index earliest start, minutes, latest end.

    Those that cannot start before a given moment must fit what is left of the day by themselves.
    """
    limits = []
    for start in sorted({start for start, _, _ in held.values()}):
        mine = {m: (minutes, end) for m, (first, minutes, end) in held.items() if first >= start}
        span = max(end for _, end in mine.values()) - start
        row = tuple(mine[m][0] if m in mine else 0 for m in range(size))
        limits += _packed(f"{name} after {start}", row, count, span)
    return limits


def _packed(name: str, minutes: tuple[int, ...], count: int, span: int) -> list[Limit]:
    """What fits ``count`` places of ``span`` minutes, one after the other on each.

    Minutes alone would let a batch begin on one place and end on another. With ``parts`` k, a batch takes
    ⌊(k + 1) × minutes ÷ span⌋ of the k parts of a place (its plain share where that comes out even):
    a dual feasible function, Fekete & Schepers, New classes of fast lower bounds for bin packing (2001).
    """
    limits = [Limit(name, minutes, count * span)]
    for parts in range(1, MOST_PARTS + 1):
        shares = tuple(
            parts * m if (parts + 1) * m % span == 0 else span * ((parts + 1) * m // span) for m in minutes
        )
        if any(share > parts * m for share, m in zip(shares, minutes, strict=True)):
            limits.append(Limit(f"{name} in {parts}", shares, count * parts * span))
    return limits


@lru_cache(KEPT)
def hands_limits(cards: Cards, day: int) -> tuple[HandsLimit, ...]:
    """For every set of kinds of work: what only the people who can do one of them can give on a day.

    Those that another one implies, whoever is in, are left out.
    """
    limits = _hands_limits(cards, day)
    people = sorted({i for limit in limits for i in limit.usable})
    rows = [
        (*limit.work, limit.freezing, limit.chores, limit.once, *(-limit.usable.get(i, 0) for i in people))
        for limit in limits
    ]
    return tuple(limits[n] for n in _strongest(np.array(rows, float)))


def minding(cards: Cards, day: int) -> dict[int, int]:
    """Minutes at the stove times the pans one cook minds, by index of the staff card of each cook."""
    return next(limit.usable for limit in _hands_limits(cards, day) if limit.kinds == {Work.COOK})


@lru_cache(KEPT)
def _hands_limits(cards: Cards, day: int) -> tuple[HandsLimit, ...]:
    windows = _windows(cards, hours(cards, day))
    k = cards.kitchen.pans_per_cook
    limits = []
    for kinds, work in _work_rows(cards):
        window = (min(windows[kind][0] for kind in kinds), max(windows[kind][1] for kind in kinds))
        usable = {
            i: k * usable_minutes(cards, staff, window)
            for i, staff in enumerate(cards.staff)
            if staff.day == day and may_do(staff, kinds)
        }
        chores = k * (Work.ANY in kinds)
        once = chores * cards.kitchen.clean_down_minutes
        if kinds == {Work.COOK}:
            usable = {i: min(n, k * _at_stove(cards, cards.staff[i], window)) for i, n in usable.items()}
        limits.append(HandsLimit(kinds, work, k * (Work.PREPARE in kinds), chores, once, usable))
    return tuple(limits)


@lru_cache(2)
def _work_rows(cards: Cards) -> tuple[tuple[frozenset[Work], tuple[int, ...]], ...]:
    """For every set of kinds of work the minutes of each batch card, the same on every day."""
    return tuple(
        (kinds, tuple(work_of(cards, card, kinds) for card in cards.batches)) for kinds in subsets_of_work()
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """A stretch of a day in which the same offered shifts run: staff cards of all who count, and of cooks."""

    minutes: int
    everybody: tuple[int, ...]
    cooks: tuple[int, ...]


def heat_cells(cards: Cards, day: int) -> tuple[Cell, ...]:
    """The time in which pans may be on the heat, cut where offered shifts and closed times begin or end."""
    h = hours(cards, day)
    if not h.first:
        return ()
    start, end = _windows(cards, h)[Work.COOK]
    offered = [(i, staff) for i, staff in enumerate(cards.staff) if staff.day == day]
    times = [t for _, s in offered for t in (s.start, s.leave)]
    times += [t for span in cards.closed[day] for t in span]
    marks = {start, end, *(t for t in times if start < t < end)}
    cells = []
    for begins, ends in pairwise(sorted(marks)):
        if not open_minutes(cards.closed[day], begins, ends):
            continue
        there = [(i, s) for i, s in offered if s.start <= begins and s.leave >= ends]
        cooks = tuple(i for i, s in there if Skill.COOK in s.skills)
        cells.append(Cell(ends - begins, tuple(i for i, s in there if cards.counts(s)), cooks))
    return tuple(cells)


def _windows(cards: Cards, h: Hours) -> dict[Work, tuple[int, int]]:
    """When each kind of work can happen on a day."""
    kitchen = cards.kitchen
    windows = dict.fromkeys(Work, (kitchen.open, kitchen.close))
    windows[Work.PREPARE] = (kitchen.open, kitchen.close - kitchen.clean_down_minutes)
    if h.first:
        cooked = max(last + cards.batches[m].cooking for m, last in h.last.items())
        from_pot = min(
            first + cards.batches[m].to_pot - cards.batches[m].standby for m, first in h.first.items()
        )
        potted = max(last + cards.batches[m].chain for m, last in h.last.items())
        windows[Work.COOK] = (min(h.first.values()), cooked)
        windows[Work.FILL] = (from_pot, potted)
    return windows


def usable_minutes(cards: Cards, staff: StaffCard, window: tuple[int, int]) -> int:
    """Minutes of a presence inside ``window``, the kitchen being open, that no placing of the break can take
    away or add."""
    closed = cards.closed[staff.day]

    def overlap(start: int, end: int) -> int:
        return open_minutes(closed, max(start, window[0]), min(end, window[1]))

    inside = overlap(staff.start, staff.leave)
    if not staff.break_minutes:
        return inside
    first, last = staff.break_starts
    starts = range(first, last + 1, STEP)
    return inside - min(overlap(at, at + staff.break_minutes) for at in starts)


def _at_stove(cards: Cards, staff: StaffCard, window: tuple[int, int]) -> int:
    """The most minutes inside ``window`` that somebody may mind pans, breaks left out."""
    present = max(0, min(staff.leave, window[1]) - max(staff.start, window[0]))
    return most_at_stove(cards.scenario.work_rules, present)


def freeze_minutes(cards: Cards) -> tuple[tuple[int, ...], int]:
    """Integers a_f and b such that Σ a_f × units drawn ÷ b are the minutes of preparing to freeze."""
    rates = [Fraction(60) / Fraction(str(fruit.prepare_per_hour)) / SCALE for fruit in cards.fruits]
    common = lcm(*(rate.denominator for rate in rates)) if rates else 1
    return tuple(int(rate * common) for rate in rates), common


def freeze_work(cards: Cards, drawn: tuple[float, ...]) -> int:
    """Minutes of preparing to freeze, in steps of the timetable, for the units drawn of each fruit."""
    per_unit, common = freeze_minutes(cards)
    minutes = sum(a * units for a, units in zip(per_unit, drawn, strict=True)) / common
    return STEP * rounded_up((minutes - FORGIVEN_MINUTES) / STEP)
