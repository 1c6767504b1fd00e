"""The section "Day limits of the allocation" of the rule book, worked out a second time.

A limit is a row ``sum of work × batches (+ minutes of preparing to freeze) <= room``; the rows of hands
have their room in the shifts in use.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise

from scheduler.domain.kitchen import Kitchen
from scheduler.domain.people import OVERTIME_STEP, Person, Shift, Skill, WorkRules
from scheduler.domain.scenario import Scenario
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind

ANY = "any"
Kind = tuple[object, ...]


@dataclass(frozen=True)
class Turn:
    """A shift with the overtime that is used of it."""

    shift: Shift
    overtime: int
    breaks: tuple[int, ...]  # where the break owed may start; empty where none is owed
    break_minutes: int

    @property
    def leaves(self) -> int:
        return self.shift.end + self.overtime

    def usable(self, opens: int, closes: int) -> int:
        """Minutes present from ``opens`` to ``closes``, less the least overlap of the break owed."""
        present = overlap(self.shift.start, self.leaves, opens, closes)
        lost = [overlap(start, start + self.break_minutes, opens, closes) for start in self.breaks]
        return present - min(lost, default=0)


@dataclass(frozen=True)
class Room:
    """One limit that does not depend on people: the work of a card and the room of a day."""

    name: str
    work: dict[BookCard, int]
    room: int


@dataclass(frozen=True)
class Hands:
    """One limit of a set of kinds of work: the work of a card and the window it must fall into."""

    kinds: tuple[str, ...]
    work: dict[BookCard, Fraction]
    opens: int
    closes: int


def overlap(start: int, end: int, opens: int, closes: int) -> int:
    return max(0, min(end, closes) - max(start, opens))


def turns(scenario: Scenario) -> Iterator[Turn]:
    """Every shift offered with every overtime for which the break owed has a place."""
    for shift in scenario.shifts:
        for overtime in range(0, shift.overtime_minutes + 1, OVERTIME_STEP):
            leaves = shift.end + overtime
            owed = scenario.work_rules.break_minutes(leaves - shift.start)
            places = tuple(break_starts(shift.start, leaves, owed, scenario.work_rules)) if owed else ()
            if places or not owed:
                yield Turn(shift, overtime, places, owed)


def break_starts(arrives: int, leaves: int, owed: int, rules: WorkRules) -> Iterator[int]:
    """Where a break of ``owed`` minutes may start: inside, with no stretch of work too long."""
    for start in range(0, leaves, 5):
        before, after = start - arrives, leaves - start - owed
        if min(before, after) >= 5 and max(before, after) <= rules.longest_stretch_minutes:
            yield start


def can_do(person: Person, kinds: Iterable[str]) -> bool:
    return any(kind == ANY or kind in person.skills for kind in kinds)


def head(card: BookCard, kitchen: Kitchen) -> int:
    """Minutes from opening to the earliest start of dissolving."""
    oven = kitchen.oven
    longest = max(card.pieces(), default=0)
    return max(longest, oven.load_minutes + oven.heat_minutes - card.to_pot, 0)


def fits(card: BookCard, kitchen: Kitchen) -> bool:
    return kitchen.open + head(card, kitchen) + card.chain + card.wash <= kitchen.close


def room_limits(kitchen: Kitchen, cards: list[BookCard]) -> list[Room]:
    """Pans, rings, heatproof places and the jar oven."""
    if not cards:
        return []
    day, oven, places = kitchen.close - kitchen.open, kitchen.oven, kitchen.heatproof_places
    baking = oven.load_minutes + oven.heat_minutes
    rooms = [
        Room("jar oven", {c: c.jars * (baking + c.pot) for c in cards}, oven.jars * day),
        *_classes("pans", cards, lambda c: pan_kind(c.pan), [*map(pan_kind, kitchen.pans)], kitchen),
        *_classes("rings", cards, lambda c: ring_kind(c.ring), [*map(ring_kind, kitchen.rings)], kitchen),
    ]
    if places:
        lost = min(head(c, kitchen) + c.to_pot - c.stand for c in cards) + min(c.wash for c in cards)
        rooms.append(Room("heatproof places", {c: c.stand + c.pot for c in cards}, places * (day - lost)))
    return rooms


def _classes(
    name: str,
    cards: list[BookCard],
    kind: Callable[[BookCard], Kind],
    owned: Sequence[Kind],
    kitchen: Kitchen,
) -> Iterator[Room]:
    """One room for each kind of pan or ring."""
    for found in dict.fromkeys(map(kind, cards)):
        members = [card for card in cards if kind(card) == found]
        room = kitchen.close - kitchen.open - min(head(card, kitchen) for card in members)
        if name == "pans":
            work = {card: card.chain + card.wash for card in members}
        else:
            work = {card: card.hold for card in members}
            room -= min(card.chain - card.hold + card.wash for card in members)
        yield Room(f"{name} {found}", work, owned.count(found) * room)


def hands_limits(kitchen: Kitchen, cards: list[BookCard]) -> list[Hands]:
    """One limit for every set of kinds of work."""
    windows = {Skill.PREPARE: (kitchen.open, kitchen.close), ANY: (kitchen.open, kitchen.close)}
    if cards:
        first = kitchen.open + min(head(c, kitchen) for c in cards)
        pots = kitchen.open + min(head(c, kitchen) + c.to_pot for c in cards)
        done = kitchen.close - min(c.stand + c.pot + c.wash for c in cards)
        windows[Skill.COOK] = (first, done)
        windows[Skill.FILL] = (pots, kitchen.close - min(c.wash for c in cards))
    limits = []
    for size in range(1, len(windows) + 1):
        for kinds in combinations(windows, size):
            work = {c: sum((_work(c, kind, kitchen) for kind in kinds), Fraction()) for c in cards}
            opens, closes = min(windows[k][0] for k in kinds), max(windows[k][1] for k in kinds)
            limits.append(Hands(kinds, work, opens, closes))
    return limits


def heat_cells(opens: int, closes: int, offered: Sequence[Turn]) -> Iterator[tuple[int, list[Turn]]]:
    """The cook window cut at every arriving and leaving: length and the turns all through each cell."""
    marks = {time for turn in offered for time in (turn.shift.start, turn.leaves) if opens < time < closes}
    for start, end in pairwise(sorted({opens, closes} | marks)):
        yield end - start, [turn for turn in offered if turn.shift.start <= start and turn.leaves >= end]


def _work(card: BookCard, kind: str, kitchen: Kitchen) -> Fraction:
    """Person-minutes of one kind of work that a batch takes."""
    if kind == Skill.PREPARE:
        return Fraction(card.prepare)
    if kind == Skill.COOK:
        return Fraction(card.to_pot - card.stand, kitchen.pans_per_cook)
    if kind == Skill.FILL:
        return Fraction(kitchen.fillers * card.pot)
    return Fraction(kitchen.oven.load_minutes + card.wash)
