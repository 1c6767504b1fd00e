"""One situation and one plan of it, the plan's rows indexed for the checks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable
from datetime import date
from typing import TypeVar

from scheduler.check.farm import Farm
from scheduler.check.panful import NoCard, Panful, panful
from scheduler.plan import Batch, DayShift, Draw, FreezerDay, JarDay, LotDay, Mix, Plan, Stage

Row = TypeVar("Row")
Key = TypeVar("Key", bound=Hashable)

Making = tuple[date, str, bool]
"""Day, recipe, from_freezer: all its batches are cooked from one mix."""


class Case:
    """A farm and the sound rows of a plan. Where rows are repeated, the first one counts."""

    def __init__(self, farm: Farm, plan: Plan) -> None:
        self.farm = farm
        self.plan = plan
        self.lot_days: dict[tuple[str, date], LotDay] = first_of(plan.lots, lambda row: (row.lot, row.day))
        self.freezer_days: dict[tuple[str, date], FreezerDay] = first_of(
            plan.freezer, lambda row: (row.lot, row.day)
        )
        self.jar_days: dict[tuple[str, date], JarDay] = first_of(plan.jars, lambda row: (row.recipe, row.day))
        self.batches: dict[str, Batch] = first_of(plan.batches, lambda row: row.id)
        self.makings: dict[Making, list[Batch]] = grouped(plan.batches, making_of)
        self.mixes: dict[Making, list[Mix]] = grouped(plan.mixes, making_of)
        self.draws: dict[Making, list[Draw]] = grouped(plan.draws, making_of)
        self.stages_of: dict[str, list[Stage]] = grouped(plan.stages, lambda row: row.batch)
        self.stages_on: dict[date, list[Stage]] = grouped(plan.stages, lambda row: row.day)
        self.shifts_on: dict[date, list[DayShift]] = grouped(plan.shifts, lambda row: row.day)
        self._cards: dict[tuple[str, str, str, float, bool], Panful | NoCard] = {}

    def card(self, batch: Batch) -> Panful | NoCard:
        """The card of a batch, recomputed; or why there is none."""
        key = (batch.recipe, batch.pan, batch.ring, batch.fill_step, batch.from_freezer)
        if key not in self._cards:
            self._cards[key] = panful(
                self.farm.scenario,
                self.farm.recipes[batch.recipe],
                self.farm.pans[batch.pan],
                self.farm.rings[batch.ring],
                batch.fill_step,
                batch.from_freezer,
            )
        return self._cards[key]

    def made(self, recipe: str, day: date) -> int:
        """Jars of a recipe that the batches of a day fill."""
        makings = [self.makings.get((day, recipe, frozen), []) for frozen in (False, True)]
        return sum(batch.jars for batches in makings for batch in batches)

    def kg_of(self, making: Making) -> float:
        """kg of prepared fruit in all batches of a making."""
        return sum(batch.kg for batch in self.makings.get(making, []))


def making_of(row: Batch | Mix | Draw) -> Making:
    return (row.day, row.recipe, row.from_freezer)


def making_name(making: Making) -> str:
    """How findings name a making."""
    day, recipe, from_freezer = making
    return f"{day.isoformat()}, {recipe}" + (" from the freezer" if from_freezer else "")


def first_of(rows: Iterable[Row], key: Callable[[Row], Key]) -> dict[Key, Row]:
    """The first row of each key."""
    found: dict[Key, Row] = {}
    for row in rows:
        found.setdefault(key(row), row)
    return found


def grouped(rows: Iterable[Row], key: Callable[[Row], Key]) -> dict[Key, list[Row]]:
    """All rows of each key, in their order."""
    found: dict[Key, list[Row]] = defaultdict(list)
    for row in rows:
        found[key(row)].append(row)
    return dict(found)


def repeated(rows: Iterable[Row], key: Callable[[Row], Key]) -> list[Key]:
    """Keys that more than one row has, in order of their first row."""
    return [found for found, same in grouped(rows, key).items() if len(same) > 1]
