"""One situation and one plan of it, the plan's rows indexed for the checks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable
from datetime import date
from typing import TypeVar

from scheduler.auditor.farm import Farm
from scheduler.auditor.finding import same
from scheduler.auditor.panful import NoCard, Panful, down, kept, panful
from scheduler.auditor.sizes import juice_kg, kg_of_step, largest_kg, parts_of
from scheduler.domain.kitchen import Pan
from scheduler.domain.recipes import Recipe
from scheduler.domain.trade import Order, ShopDemand
from scheduler.plan_rows import (
    Batch,
    DayShift,
    Draw,
    FreezerDay,
    JarDay,
    LotDay,
    Mix,
    OrderLine,
    Part,
    Plan,
    ShopStock,
    Stage,
)

Row = TypeVar("Row")
Key = TypeVar("Key", bound=Hashable)

Product = tuple[str, str]
"""Recipe and jar: a recipe in one of its sizes."""

Making = tuple[date, str, bool]
"""Day, recipe, from_freezer: all its batches that use fruit are cooked from one mix."""


class Case:
    """A farm and the sound rows of a plan. Where rows are repeated, the first one counts."""

    def __init__(self, farm: Farm, plan: Plan) -> None:
        self.farm = farm
        self.plan = plan
        self.lot_days: dict[tuple[str, date], LotDay] = first_of(plan.lots, lambda row: (row.lot, row.day))
        self.freezer_days: dict[tuple[str, date], FreezerDay] = first_of(
            plan.freezer, lambda row: (row.lot, row.day)
        )
        self.jar_days: dict[tuple[Product, date], JarDay] = first_of(
            plan.jars, lambda row: (product_of(row), row.day)
        )
        self.batches: dict[str, Batch] = first_of(plan.batches, lambda row: row.id)
        self.makings: dict[Making, list[Batch]] = grouped(filter(uses_fruit, plan.batches), making_of)
        self.batches_of: dict[tuple[str, date], list[Batch]] = grouped(
            plan.batches, lambda row: (row.recipe, row.day)
        )
        self.mixes: dict[Making, list[Mix]] = grouped(plan.mixes, making_of)
        self.draws: dict[Making, list[Draw]] = grouped(plan.draws, making_of)
        self.stages_of: dict[str, list[Stage]] = grouped(plan.stages, lambda row: row.batch)
        self.stages_on: dict[date, list[Stage]] = grouped(plan.stages, lambda row: row.day)
        self.shifts_on: dict[date, list[DayShift]] = grouped(plan.shifts, lambda row: row.day)
        self._cards: dict[tuple[str, Part, str, str, float, bool, tuple[int, ...]], Panful | NoCard] = {}
        self._juice_kg: dict[tuple[str, bool], frozenset[float]] = {}

    def card(self, batch: Batch) -> Panful | NoCard:
        """The card of a batch, recomputed; or why there is none."""
        size = batch.kg if batch.part == Part.BOIL else batch.fill_step
        key = (batch.recipe, batch.part, batch.pan, batch.ring, size, batch.from_freezer, batch.filled)
        if key not in self._cards:
            self._cards[key] = self._worked_out(batch)
        return self._cards[key]

    def _worked_out(self, batch: Batch) -> Panful | NoCard:
        farm, part = self.farm, batch.part
        recipe, pan, ring = farm.recipes[batch.recipe], farm.pans[batch.pan], farm.rings[batch.ring]
        if part not in parts_of(recipe):
            return NoCard(f"{recipe.name} is made as {' and '.join(parts_of(recipe))}, not as {part}")
        if part == Part.BOIL:
            if why := self._no_juice(recipe, pan, batch):
                return NoCard(why)
            kg = round(batch.kg, 1)
        else:
            kg = kg_of_step(farm.kitchen, recipe, part, pan, batch.fill_step)
        cards = [
            panful(farm.scenario, recipe, part, pan, ring, kg, batch.from_freezer, shares)
            for shares in recipe.fill_shares
        ]
        mine = (card for card in cards if isinstance(card, Panful) and card.filled == batch.filled)
        return next(mine, cards[0])

    def _no_juice(self, recipe: Recipe, pan: Pan, batch: Batch) -> str:
        """Why there is no such juice, or why it does not fit the pan; empty if it does."""
        key = (recipe.name, batch.from_freezer)
        if key not in self._juice_kg:
            self._juice_kg[key] = juice_kg(self.farm.scenario, recipe, batch.from_freezer)
        most = down(largest_kg(recipe, batch.part, pan), 0.1) / 10
        if not any(same(batch.kg, kg) for kg in self._juice_kg[key]):
            sizes = " or ".join(f"{kg:g}" for kg in sorted(self._juice_kg[key]))
            return f"juice of {batch.kg:g} kg of fruit; batches soften {sizes or 'no'} kg"
        if round(batch.kg, 1) > most:
            return f"juice of {batch.kg:g} kg of fruit; the pan holds that of {most:g} kg"
        return ""

    def made(self, product: Product, day: date) -> int:
        """Jars of a product for sale that the batches of a day make."""
        recipe, jar = product
        size = [size.jar for size in self.farm.recipes[recipe].sizes].index(jar)
        todays = self.batches_of.get((recipe, day), [])
        return sum(self.for_sale(batch)[size] for batch in todays if len(batch.filled) > size)

    def for_sale(self, batch: Batch) -> tuple[int, ...]:
        """Jars of each size of a batch without scrap and its retained sample."""
        return kept(self.farm.kitchen, batch.filled)

    def kg_of(self, making: Making) -> float:
        """kg of prepared fruit that the batches of a making use."""
        return sum(batch.kg for batch in self.makings.get(making, []))


def uses_fruit(batch: Batch) -> bool:
    """Whether a batch is cooked from fruit, and not from the juice of the day before."""
    return batch.part != Part.BOIL


def product_of(row: Order | ShopDemand | JarDay | OrderLine | ShopStock) -> Product:
    return (row.recipe, row.jar)


def product_on(product: Product, day: date) -> str:
    """How findings name a product on a day."""
    return f"{day.isoformat()}, {product[0]} in {product[1]}"


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
