"""Whether a very small day can be placed, by trying every start and every person: rules 18 to 28.

No solver: stages go one by one onto a grid of 5-minute steps, and what does not fit is undone. Good for
two or three batches in a few hours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import combinations, product

from scheduler.domain.kitchen import Kitchen
from scheduler.domain.people import Person, Skill
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind
from tests.oracle.day_limits import ANY, Turn, can_do

STEP = 5


@dataclass(frozen=True)
class Job:
    """Work to place: ``steps`` long, by ``people`` who can do ``kind``, each giving ``share`` of a hand.

    ``starts`` are the steps at which it may start, in order.
    """

    kind: str
    steps: int
    people: int
    share: int
    starts: Sequence[int]


@dataclass
class Grid:
    """What is taken in each step. Pans, rings, places and oven are counted; people by shares of a hand."""

    length: int
    hands: list[list[int]]
    used: dict[object, list[int]] = field(default_factory=dict)

    def take(self, what: object, start: int, end: int, room: int, amount: int = 1) -> bool:
        """Take ``amount`` of ``room`` from start to end, or nothing at all if it does not fit."""
        row = self.used.setdefault(what, [0] * self.length)
        if start < 0 or end > self.length or any(row[i] + amount > room for i in range(start, end)):
            return False
        for i in range(start, end):
            row[i] += amount
        return True

    def give_back(self, what: object, start: int, end: int, amount: int = 1) -> None:
        for i in range(start, end):
            self.used[what][i] -= amount


class TinyDay:
    """A day with its batches, pieces of preparing to freeze, and people with their breaks set."""

    def __init__(
        self,
        kitchen: Kitchen,
        batches: Sequence[BookCard],
        pieces: int,
        people: Sequence[tuple[Person, Turn]],
    ) -> None:
        self.kitchen, self.pieces, self.people = kitchen, pieces, people
        self.batches = sorted(batches, key=repr)
        self.length = (kitchen.close - kitchen.open) // STEP
        self.pans = [pan_kind(pan) for pan in kitchen.pans]
        self.rings = [ring_kind(ring) for ring in kitchen.rings]

    def can_be_placed(self) -> bool:
        """Try every choice of breaks; for each, every placing of the batches."""
        choices = product(*(turn.breaks or (None,) for _, turn in self.people))
        return any(self._with_breaks(breaks) for breaks in choices)

    def _with_breaks(self, breaks: Sequence[int | None]) -> bool:
        whole = self.kitchen.pans_per_cook
        hands = []
        for (_, turn), pause in zip(self.people, breaks, strict=True):
            rest = range(pause, pause + turn.break_minutes) if pause is not None else range(0)
            clock = [self.kitchen.open + STEP * i for i in range(self.length)]
            free = [turn.shift.start <= c and c + STEP <= turn.leaves and c not in rest for c in clock]
            hands.append([0 if is_free else whole for is_free in free])
        if self._work() > sum(whole - taken for hand in hands for taken in hand):
            return False
        inside = [sum(hand[i] == 0 for hand in hands) for i in range(self.length)]
        self.enough = [n >= self.kitchen.people_while_boiling for n in inside]
        return self._chains(0, -1, Grid(self.length, hands))

    def _work(self) -> int:
        """All work of the day, in steps and shares of a hand: more than there are hands never fits."""
        whole, oven, total = self.kitchen.pans_per_cook, self.kitchen.oven, self.pieces * 30 // STEP
        total *= whole
        for card in self.batches:
            total += sum(job.steps * job.people * job.share for job in self._chain(card, 0))
            total += whole * (card.prepare + card.wash + oven.load_minutes) // STEP
        return total

    def _chains(self, b: int, previous: int, grid: Grid) -> bool:
        """Place batch ``b`` from dissolve to pot up, then the next; equal batches in order of start."""
        if b == len(self.batches):
            return self._staffed(list(self._freezing()), grid, lambda: True)
        card = self.batches[b]
        same = b > 0 and self.batches[b - 1] == card
        for start in range(previous if same else 0, self.length):
            pot = start + card.to_pot // STEP
            potted = pot + card.pot // STEP
            if potted > self.length or not all(self.enough[start : pot - card.stand // STEP]):
                continue
            held = self._hold(card, start, pot, potted, grid)
            if held is None:
                continue
            jobs = list(self._chain(card, start))
            if self._staffed(jobs, grid, partial(self._around, b, start, pot, potted, grid)):
                return True
            for what, first, last in held:
                grid.give_back(what, first, last)
        return False

    def _hold(
        self, card: BookCard, start: int, pot: int, potted: int, grid: Grid
    ) -> list[tuple[object, int, int]] | None:
        """Ring, place and pan (until potted; washing comes later)."""
        ring, pan = ring_kind(card.ring), pan_kind(card.pan)
        wants = [
            (("ring", ring), start, start + card.hold // STEP, self.rings.count(ring)),
            (("pan", pan), start, potted, self.pans.count(pan)),
        ]
        if self.kitchen.heatproof_places:
            wants.append((("place",), pot - card.stand // STEP, potted, self.kitchen.heatproof_places))
        held = []
        for what, first, last, room in wants:
            if not grid.take(what, first, last, room):
                for done in held:
                    grid.give_back(*done)
                return None
            held.append((what, first, last))
        return held

    def _chain(self, card: BookCard, start: int) -> Iterator[Job]:
        """What follows without waiting, each with its one start."""
        whole, at = self.kitchen.pans_per_cook, start
        rows = [(card.dissolve, whole), (card.boil, 1), (card.set_test, whole)]
        rows += [(card.reboil, 1), (card.set_test, whole)] * card.reboils
        for minutes, share in rows:
            yield Job(Skill.COOK, minutes // STEP, 1, share, (at,))
            at += minutes // STEP
        potting = (at + card.stand // STEP,)
        yield Job(Skill.FILL, card.pot // STEP, self.kitchen.fillers, whole, potting)

    def _around(self, b: int, start: int, pot: int, potted: int, grid: Grid) -> bool:
        """Load the oven, wash the pan and prepare the fruit of a batch, then go on to the next."""
        card, oven, whole = self.batches[b], self.kitchen.oven, self.kitchen.pans_per_cook
        load, heat, hot = (m // STEP for m in (oven.load_minutes, oven.heat_minutes, oven.hot_minutes))
        pan, wash = pan_kind(card.pan), card.wash // STEP
        prepare = [
            Job(Skill.PREPARE, m // STEP, 1, whole, range(start - m // STEP + 1)) for m in card.pieces()
        ]
        for loading in range(max(0, pot - load - heat - hot), pot - load - heat + 1):
            if not grid.take("oven", loading, potted, oven.jars, card.jars):
                continue
            for washing in range(potted, self.length - wash + 1):
                if not grid.take(("pan", pan), potted, washing + wash, self.pans.count(pan)):
                    break  # washing later would hold the pan longer still
                small = [Job(ANY, load, 1, whole, (loading,)), Job(ANY, wash, 1, whole, (washing,))]
                if self._staffed(small + prepare, grid, partial(self._chains, b + 1, start, grid)):
                    return True
                grid.give_back(("pan", pan), potted, washing + wash)
            grid.give_back("oven", loading, potted, card.jars)
        return False

    def _freezing(self) -> Iterator[Job]:
        steps = 30 // STEP
        for _ in range(self.pieces):
            starts = range(self.length - steps + 1)
            yield Job(Skill.PREPARE, steps, 1, self.kitchen.pans_per_cook, starts)

    def _staffed(self, jobs: list[Job], grid: Grid, then: Callable[[], bool]) -> bool:
        """Give each job a start and its people in every way, until what comes ``then`` works out."""
        if not jobs:
            return then()
        job, rest = jobs[0], jobs[1:]
        able = [i for i, (person, _) in enumerate(self.people) if can_do(person, (job.kind,))]
        whole = self.kitchen.pans_per_cook
        for start in job.starts:
            steps = range(start, start + job.steps)
            if start + job.steps > self.length:
                break
            free = [i for i in able if all(grid.hands[i][s] + job.share <= whole for s in steps)]
            for team in combinations(free, job.people):
                self._change(grid, team, steps, job.share)
                later = rest
                if rest and rest[0] == job:  # equal jobs in order of their start
                    starts = [s for s in job.starts if s >= start]
                    later = [Job(job.kind, job.steps, job.people, job.share, starts), *rest[1:]]
                if self._staffed(later, grid, then):
                    return True
                self._change(grid, team, steps, -job.share)
        return False

    @staticmethod
    def _change(grid: Grid, team: Sequence[int], steps: range, share: int) -> None:
        for person in team:
            for step in steps:
                grid.hands[person][step] += share
