"""Days that are as in an earlier plan: its rows as values of variables, as timetables, and read out again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from ortools.sat.python import cp_model

from scheduler.cards import SCALE, Cards
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.day import DayTimetable, DayWork, Task
from scheduler.model.decisions import Decisions
from scheduler.model.given import day_work
from scheduler.model.mip import solve
from scheduler.plan_rows import Batch, Plan, StageKind

FORGIVEN = 1e-3
"""Card units (a tenth of a gram) within which the masses of kept days are met: a plan rounds to less."""

Within = dict[int, tuple[float, float]]
"""By index of a variable, the least and the most that it may be."""

TABLES = ("lots", "mixes", "draws", "freezer", "batches", "stages", "shifts", "finishes", "jars")
"""Tables of a plan whose rows are of a day."""


@dataclass(frozen=True)
class Kept:
    """The first ``days`` days are as in ``plan``, which was made from input that agrees on them."""

    plan: Plan
    days: int


class Rows:
    """The rows of a plan, as a model's variables ask for them: by index of lot, fruit, card and day."""

    def __init__(self, cards: Cards, plan: Plan) -> None:
        self.cards, self.plan = cards, plan
        self.index = {day: d for d, day in enumerate(cards.dates)}
        self.lots = {(row.lot, row.day): row for row in plan.lots}
        self.drawn = {(row.day, row.recipe, row.lot): row.kg for row in plan.draws if not row.from_freezer}
        self.mixed = {(row.day, row.recipe, row.from_freezer, row.fruit): row for row in plan.mixes}
        past = {lot.name for lot in cards.frozen if lot.last < 0}
        self.freezer: dict[tuple[str, date], list[Any]] = {}
        for row in plan.freezer:
            if row.lot not in past:
                self.freezer.setdefault((row.fruit, row.day), []).append(row)

    def batches(self, d: int) -> list[tuple[int, Batch]]:
        """Card and batch of a day, in the order in which the model counts them; without those of no card."""
        began: dict[str, int] = {}
        for stage in self.plan.stages:
            if stage.kind not in _BEFORE_COOKING:
                began[stage.batch] = min(stage.start, began.get(stage.batch, stage.start))
        mine = [batch for batch in self.plan.batches if batch.day == self.cards.dates[d]]
        known = [(m, batch) for batch in mine if (m := self.card(batch)) is not None]
        return sorted(known, key=lambda pair: (pair[0], began[pair[1].id]))

    def card(self, batch: Batch) -> int | None:
        """The card of a batch; None if the situation has none like it."""
        cards = self.cards
        for m, card in enumerate(cards.batches):
            same = (card.part, card.from_freezer, card.filled) == (
                batch.part,
                batch.from_freezer,
                batch.filled,
            )
            here = batch.pan in cards.pans[card.pan].names and batch.ring in cards.rings[card.ring].names
            named = cards.scenario.recipes[card.recipe].name == batch.recipe
            if same and here and named and card.kg == round(batch.kg * SCALE):
                return m
        return None

    def staff(self) -> tuple[int, ...]:
        """The staff cards of the shifts in use."""
        used = {(row.person, row.day, row.start, row.leaves) for row in self.plan.shifts}
        people, dates = self.cards.scenario.people, self.cards.dates
        return tuple(
            i
            for i, card in enumerate(self.cards.staff)
            if (people[card.person].name, dates[card.day], card.start, card.leave) in used
        )

    def labelled(self, product: int, d: int) -> int:
        """Jars of a product labelled on a day."""
        of = self.cards.products[product]
        key = (self.cards.scenario.recipes[of.recipe].name, of.jar, self._day(d))
        return sum(row.labelled for row in self.plan.jars if (row.recipe, row.jar, row.day) == key)

    def of_lot(self, column: str) -> Callable[[tuple[int, int]], float]:
        return lambda key: getattr(
            self.lots.get((self.cards.lots[key[0]].name, self._day(key[1]))), column, 0.0
        )

    def cooked(self, key: tuple[int, int, int]) -> float:
        i, d, r = key
        recipe = self.cards.scenario.recipes[r].name
        return self.drawn.get((self._day(d), recipe, self.cards.lots[i].name), 0.0)

    def mix(self, column: str) -> Callable[[tuple[int, tuple[int, bool], int]], float]:
        def value(key: tuple[int, tuple[int, bool], int]) -> float:
            d, (r, from_freezer), f = key
            recipe = self.cards.scenario.recipes[r].name
            row = self.mixed.get((self._day(d), recipe, from_freezer, self.cards.fruits[f].name))
            return getattr(row, column, 0.0)

        return value

    def frozen(self, column: str) -> Callable[[tuple[int, int]], float]:
        """Of all lots of a fruit together."""

        def value(key: tuple[int, int]) -> float:
            rows = self.freezer.get((self.cards.fruits[key[0]].name, self._day(key[1])), [])
            return float(sum(getattr(row, column) for row in rows))

        return value

    def _day(self, d: int) -> date:
        return self.cards.dates[d]


_BEFORE_COOKING = frozenset({StageKind.PREPARE, StageKind.WASH_JARS, StageKind.LOAD_JARS})


def within(x: Decisions, kept: Kept) -> Within:
    """What keeps the variables of the kept days at the values of their plan.

    Which of two freezers holds what is left open: it ties no day to the next, and is read from the plan.
    """
    rows = Rows(x.cards, kept.plan)
    found = _counted(x, rows, kept.days)
    masses: list[tuple[Mapping[Any, cp_model.IntVar], Callable[[Any], float], int]] = [
        (x.sold, rows.of_lot("sold"), 1), (x.freeze, rows.of_lot("frozen"), 1),
        (x.given_up, rows.of_lot("given_up"), 1), (x.cooked, rows.cooked, 1),
        (x.fresh, rows.mix("fresh_kg"), 0), (x.thaw, rows.mix("frozen_kg"), 0),
        (x.frozen, rows.frozen("frozen"), 1), (x.level, rows.frozen("left"), 1),
        (x.discarded, rows.frozen("discarded"), 1),
    ]  # fmt: skip
    for table, value, day in masses:
        for key, var in table.items():
            if key[day] < kept.days:
                units = SCALE * value(key)
                found[var.index] = (max(0.0, units - FORGIVEN), units + FORGIVEN)
    return found


def _counted(x: Decisions, rows: Rows, days: int) -> Within:
    """Batches and people of the first days, and jars of the orders due on them."""
    found: Within = {}
    for d in range(days):
        todays = [m for m, _ in rows.batches(d)]
        found |= {var.index: (todays.count(m),) * 2 for m, var in enumerate(x.count[d])}
    used = rows.staff()
    for i, var in enumerate(x.staff):
        if x.cards.staff[i].day < days:
            found[var.index] = (float(i in used),) * 2
    for (p, d), var in x.labelled.items():
        if d < days:
            found[var.index] = (float(rows.labelled(p, d)),) * 2
    filled = {line.order: line.filled for line in rows.plan.orders}
    for order, var in zip(x.cards.orders, x.filled, strict=True):
        if order.due < days:
            found[var.index] = (filled[order.name],) * 2
    return found


def timetable(cards: Cards, plan: Plan, d: int) -> tuple[DayWork, DayTimetable]:
    """A day of a plan as the search knows days; its work is told apart from any that it makes itself."""
    rows, day = Rows(cards, plan), cards.dates[d]
    todays = rows.batches(d)
    place = {batch.id: b for b, (_, batch) in enumerate(todays)} | {"": -1}
    people = {person.name: p for p, person in enumerate(cards.scenario.people)}
    tasks = [
        Task(place[s.batch], s.kind, s.start, s.end, tuple(people[name] for name in s.people))
        for s in plan.stages
        if s.day == day and s.kind is not StageKind.STAND
    ]
    ends = next((row for row in plan.finishes if row.day == day), None)
    return day_work(cards, d, tuple(m for m, _ in todays), -1 - d, ()), DayTimetable(
        tasks=tuple(tasks),
        pans=tuple(cards.pans_in_use[d][cards.batches[m].pan].index(b.pan) for m, b in todays),
        rings=tuple(cards.rings_in_use[d][cards.batches[m].ring].index(b.ring) for m, b in todays),
        breaks=tuple(
            (people[s.person], s.break_start)
            for s in plan.shifts
            if s.day == day and s.break_start is not None
        ),
        ends=ends.ends if ends else cards.kitchen.open,
        bound=ends.bound if ends else cards.kitchen.open,
    )


def whole(model: AllocationModel, kept: Kept, seconds: float) -> Allocation | None:
    """The earlier plan over all days, as far as its batches, people and freezing still make a plan."""
    x, rows = model.x, Rows(model.cards, kept.plan)
    known = [rows.card(batch) is not None for batch in kept.plan.batches]
    if not all(known):
        return None
    kept_days, all_days = within(x, kept), range(model.cards.days)
    fixed = {var.index: 0.0 for row in x.count for var in row}
    for d in all_days:
        for m, _ in rows.batches(d):
            fixed[x.count[d][m].index] += 1.0
    used = rows.staff()
    fixed |= {var.index: float(i in used) for i, var in enumerate(x.staff)}
    fixed |= {var.index: SCALE * rows.of_lot("frozen")(key) for key, var in x.freeze.items()}
    fixed = {index: value for index, value in fixed.items() if index not in kept_days}
    model.model.minimize(1_000_000_000 * model.goals["short"] + model.goals["spoiled"])
    answer = solve(
        model.model, model.masses, seconds, 1, 0, lambda *_: False, fixed=fixed, within=kept_days
    )  # fmt: skip
    return None if answer.values is None else model.read(answer.values)


def with_kept(plan: Plan, kept: Kept) -> Plan:
    """A plan whose rows of the kept days are those of the earlier plan, to the last digit."""
    last = kept.plan.as_of.toordinal() + kept.days - 1
    new: dict[str, Any] = {}
    for table in TABLES:
        old = [row for row in getattr(kept.plan, table) if row.day.toordinal() <= last]
        later = [row for row in getattr(plan, table) if row.day.toordinal() > last]
        new[table] = (*old, *later)
    return replace(plan, **new)
