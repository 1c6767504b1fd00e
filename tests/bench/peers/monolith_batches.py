"""The batches of a day of the monolith, each of which may or may not be cooked, and where they stand.

Each class of pans has as many slots for batches as a day can hold; a slot is empty or has one card.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.cards import SHARE, BatchCard
from scheduler.domain.kitchen import BLOCK, STEP
from scheduler.model.allocation import AllocationModel
from scheduler.model.decisions import total, weighted
from scheduler.model.hours import hours
from scheduler.model.limits import Work, batch_limits, freeze_minutes

Demand = tuple[cp_model.IntervalVar, int]


@dataclass(frozen=True)
class Slot:
    """Room for one batch: by card whether it is that one, and when its work begins."""

    day: int
    choice: dict[int, cp_model.IntVar]
    present: cp_model.IntVar
    start: cp_model.IntVar
    wash: cp_model.IntVar
    load: cp_model.IntVar
    pieces: tuple[cp_model.IntVar, ...]


class DayBatches:
    """Batches, freezing, and rules without people of one day, added to an allocation in whole units."""

    def __init__(self, whole: AllocationModel, day: int) -> None:
        self.cards, self.x, self.model, self.day = whole.cards, whole.x, whole.model, day
        self.steps = (self.cards.kitchen.close - self.cards.kitchen.open) // STEP
        self.work: dict[Work, list[Demand]] = {kind: [] for kind in Work}
        self.tests: list[cp_model.IntervalVar] = []
        self.heats: list[cp_model.IntervalVar] = []
        self.held: dict[int, list[cp_model.IntervalVar]] = {p: [] for p in range(len(self.cards.pans))}
        self.rings: dict[int, list[cp_model.IntervalVar]] = {q: [] for q in range(len(self.cards.rings))}
        self.off: list[cp_model.IntervalVar] = []
        self.hot: list[tuple[cp_model.IntervalVar, cp_model.LinearExprT]] = []
        self.first = hours(self.cards, day).first
        self.slots = {p: [self._slot(p, n) for n in range(self._most(p))] for p in self.held}
        for p, slots in self.slots.items():
            self._in_order(p, slots)
        self.freezing = self._freezing()
        self._places()

    def _cards_of(self, p: int) -> list[int]:
        return [m for m in sorted(self.first) if self.cards.batches[m].pan == p]

    def _most(self, p: int) -> int:
        """The most batches that a day holds in pans of a class."""
        mine = self._cards_of(p)
        limits = batch_limits(self.cards, self.day) if mine else ()
        rooms = [
            limit.capacity // min(limit.minutes[m] for m in mine)
            for limit in limits
            if all(limit.minutes[m] for m in mine)
        ]
        return min(rooms, default=0)

    def _time(self, name: str) -> cp_model.IntVar:
        return self.model.new_int_var(0, self.steps, name)

    def _slot(self, p: int, n: int) -> Slot:
        model, name = self.model, f"{self.day}.{p}.{n}"
        choice = {m: model.new_bool_var(f"slot {name} card {m}") for m in self._cards_of(p)}
        present = model.new_bool_var(f"slot {name}")
        model.add(total(choice.values()) == present)
        pieces = max(len(self.cards.batches[m].pieces) for m in choice)
        slot = Slot(
            self.day, choice, present, self._time(f"start {name}"), self._time(f"wash {name}"),
            self._time(f"load {name}"), tuple(self._time(f"piece {name}.{i}") for i in range(pieces)),
        )  # fmt: skip
        self._cook(slot, p)
        self._prepare(slot)
        return slot

    def _sum(self, slot: Slot, minutes: Callable[[BatchCard], int]) -> cp_model.LinearExpr:
        """Steps of something of the card in a slot; 0 in an empty one."""
        return weighted(slot.choice.values(), [minutes(self.cards.batches[m]) // STEP for m in slot.choice])

    def _after(self, slot: Slot, minutes: Callable[[BatchCard], int], name: str) -> cp_model.IntVar:
        """So many minutes after cooking begins."""
        at = self._time(name)
        self.model.add(at == slot.start + self._sum(slot, minutes))
        return at

    def _span(
        self,
        slot: Slot,
        begins: cp_model.IntVar,
        minutes: Callable[[BatchCard], int],
        literal: cp_model.IntVar | None = None,
    ) -> cp_model.IntervalVar:
        """An interval of a slot, there with its batch; of fixed length where all cards have the same."""
        there = slot.present if literal is None else literal
        lengths = {minutes(self.cards.batches[m]) // STEP for m in slot.choice}
        if len(lengths) == 1:
            return self.model.new_optional_fixed_size_interval_var(begins, lengths.pop(), there, "")
        length = self.model.new_int_var(min(lengths), max(lengths), "")
        self.model.add(length == self._sum(slot, minutes)).only_enforce_if(slot.present)
        return self.model.new_optional_interval_var(begins, length, self._ends(begins, length), there, "")

    def _ends(self, begins: cp_model.IntVar, length: cp_model.IntVar) -> cp_model.IntVar:
        end = self._time("")
        self.model.add(end == begins + length)
        return end

    def _until(self, slot: Slot, begins: cp_model.IntVar, ends: cp_model.IntVar) -> cp_model.IntervalVar:
        length = self.model.new_int_var(0, self.steps, "")
        return self.model.new_optional_interval_var(begins, length, ends, slot.present, "")

    def _cook(self, slot: Slot, p: int) -> None:
        model, kitchen = self.model, self.cards.kitchen
        model.add(slot.start >= self._sum(slot, lambda card: self.cards.earliest(card) - kitchen.open))
        pot = self._after(slot, lambda card: card.to_pot, "pot")
        done = self._after(slot, lambda card: card.chain, "done")
        model.add(slot.wash >= done).only_enforce_if(slot.present)
        washed = self._time("")
        model.add(washed == slot.wash + self._sum(slot, lambda card: card.wash))
        heat = self._span(slot, slot.start, lambda card: card.cooking)
        self.heats.append(heat)
        self.work[Work.COOK].append((heat, 1))
        self._tests(slot)
        hands = kitchen.pans_per_cook
        self.work[Work.FILL].append((self._span(slot, pot, lambda card: card.pot), hands * kitchen.fillers))
        self.work[Work.ANY].append((self._span(slot, slot.wash, lambda card: card.wash), hands))
        self.held[p].append(self._until(slot, slot.start, washed))
        self._ring(slot)
        if kitchen.heatproof_places:
            cooked = self._after(slot, lambda card: card.cooking, "cooked")
            self.off.append(self._span(slot, cooked, lambda card: card.stand + card.pot))
        self._jars(slot, pot, done)

    def _jars(self, slot: Slot, pot: cp_model.IntVar, done: cp_model.IntVar) -> None:
        oven = self.cards.kitchen.oven
        ready = slot.load + (oven.load_minutes + oven.heat_minutes) // STEP
        self.model.add(ready <= pot).only_enforce_if(slot.present)
        self.model.add(ready + oven.hot_minutes // STEP >= pot).only_enforce_if(slot.present)
        loading = self._span(slot, slot.load, lambda _: oven.load_minutes)
        self.work[Work.ANY].append((loading, self.cards.kitchen.pans_per_cook))
        jars = [self.cards.batches[m].jars for m in slot.choice]
        most = self.model.new_int_var(0, max(jars), "")
        self.model.add(most == weighted(slot.choice.values(), jars))
        self.hot.append((self._until(slot, slot.load, done), most))

    def _tests(self, slot: Slot) -> None:
        """Set tests, of which a cook does one at a time; how many there are may depend on the card."""
        for n in range(1 + max(self.cards.batches[m].reboils for m in slot.choice)):
            mine = {m: var for m, var in slot.choice.items() if self.cards.batches[m].reboils >= n}
            there = slot.present
            if len(mine) < len(slot.choice):
                there = self.model.new_bool_var("")
                self.model.add(there == total(mine.values()))

            def before(card: BatchCard, n: int = n) -> int:
                return card.soften + card.dissolve + card.boil + n * (card.test + card.reboil)

            at = self._after(slot, before, "test")
            self.tests.append(self._span(slot, at, lambda card: card.test, there))

    def _ring(self, slot: Slot) -> None:
        for q in sorted({self.cards.batches[m].ring for m in slot.choice}):
            mine = [var for m, var in slot.choice.items() if self.cards.batches[m].ring == q]
            there = slot.present
            if len(mine) < len(slot.choice):
                there = self.model.new_bool_var("")
                self.model.add(there == total(mine))
            self.rings[q].append(self._span(slot, slot.start, self.cards.hold, there))

    def _prepare(self, slot: Slot) -> None:
        for i, piece in enumerate(slot.pieces):
            mine = [var for m, var in slot.choice.items() if len(self.cards.batches[m].pieces) > i]
            there = self.model.new_bool_var("")
            self.model.add(there == total(mine))

            def minutes(card: BatchCard, i: int = i) -> int:
                return card.pieces[i] if len(card.pieces) > i else 0

            steps = self._sum(slot, minutes)
            self.model.add(piece + steps <= slot.start).only_enforce_if(there)
            for m, var in slot.choice.items() if i else ():
                some = self.cards.batches[m].pieces
                if len(some) > i and some[i] == some[i - 1]:
                    self.model.add(slot.pieces[i - 1] <= piece).only_enforce_if(var)
            work = self._span(slot, piece, minutes, there)
            self.work[Work.PREPARE].append((work, self.cards.kitchen.pans_per_cook))

    def _in_order(self, p: int, slots: list[Slot]) -> None:
        """Batches of a class take its slots from the first on, in the order in which they begin."""
        for before, slot in pairwise(slots):
            self.model.add_implication(slot.present, before.present)
            self.model.add(before.start <= slot.start).only_enforce_if(slot.present)
        for m, count in enumerate(self.x.count[self.day]):
            if self.cards.batches[m].pan == p:
                self.model.add(total(slot.choice[m] for slot in slots if m in slot.choice) == count)

    def _freezing(self) -> tuple[cp_model.IntVar, ...]:
        """When pieces of preparing to freeze begin: whole ones first, then one of the rest."""
        model, whole = self.model, BLOCK // STEP
        _, common = freeze_minutes(self.cards)
        hands = self.cards.kitchen.pans_per_cook
        kg_a_day = sum(each.freeze_kg_per_day for each in self.cards.kitchen.freezers)
        slowest = min(fruit.prepare_per_hour * fruit.keep for fruit in self.cards.fruits) / SHARE
        most = int(60 * kg_a_day / slowest) // BLOCK + 2
        sizes = tuple(model.new_int_var(0, whole, f"freeze {self.day}.{i}") for i in range(most))
        starts = tuple(self._time(f"freezing {self.day}.{i}") for i in range(most))
        model.add(common * STEP * total(sizes) >= self.x.freezing_minutes(self.day))
        for i, (size, begins) in enumerate(zip(sizes, starts, strict=True)):
            some, full = model.new_bool_var(""), model.new_bool_var("")
            model.add(size >= 1).only_enforce_if(some)
            model.add(size == 0).only_enforce_if(~some)
            model.add(size == whole).only_enforce_if(full)
            work = model.new_optional_interval_var(begins, size, self._ends(begins, size), some, "")
            self.work[Work.PREPARE].append((work, hands))
            if i:
                model.add(sizes[i - 1] == whole).only_enforce_if(some)
                model.add(starts[i - 1] <= begins).only_enforce_if(full)
        return starts

    def _places(self) -> None:
        model, cards = self.model, self.cards
        for p, held in self.held.items():
            model.add_cumulative(held, [1] * len(held), len(cards.pans[p].names))
        for q, on in self.rings.items():
            model.add_cumulative(on, [1] * len(on), len(cards.rings[q].names))
        model.add_cumulative(self.off, [1] * len(self.off), cards.kitchen.heatproof_places)
        model.add_cumulative(
            [span for span, _ in self.hot], [n for _, n in self.hot], cards.kitchen.oven.jars
        )
