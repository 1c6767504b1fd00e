"""The situation as the auditor sees it: everything by name, with the lives of all lots."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.domain.fruit import Fruit, Grade, Lot, Place
from scheduler.domain.scenario import Situation
from scheduler.physics import keeping

FORGIVEN = 1e-6
"""Error that a rounding up or down forgives, in its own unit."""

DAYS_PER_MONTH = 30.4


@dataclass(frozen=True, slots=True)
class FreshLot:
    """A pick, or a lot on hand in the chiller.

    The three lives are whole days of age, below 0 where warm hours used them up; ``fresh_cook_days`` is the
    cook life had it come in at once.
    """

    name: str
    fruit: Fruit
    grade: Grade
    kg: float
    picked: date
    on_hand: bool
    sell_days: int
    peak_days: int
    cook_days: int
    fresh_cook_days: int

    def age(self, day: date) -> int:
        """Days from the pick day to ``day``."""
        return (day - self.picked).days

    @property
    def last_day(self) -> date:
        """The last day on which the lot may be cooked."""
        return self.picked + timedelta(days=self.cook_days)

    @property
    def last_sell_day(self) -> date:
        return self.picked + timedelta(days=self.sell_days)


@dataclass(frozen=True, slots=True)
class FrozenLot:
    """A lot on hand in the freezer (``frozen_on`` is None), or the fruit frozen on one planned day."""

    name: str
    fruit: Fruit
    kg: float
    frozen_on: date | None
    use_by: date


class Farm:
    """A situation, indexed by name and by day. It is taken as sound: intake has read it."""

    def __init__(self, situation: Situation) -> None:
        self.situation = situation
        self.scenario = scenario = situation.scenario
        self.kitchen = scenario.kitchen
        self.days = scenario.dates()
        self.first, self.last = self.days[0], self.days[-1]
        self.planned = frozenset(self.days)
        self.fruits = {fruit.name: fruit for fruit in scenario.fruits}
        self.recipes = {recipe.name: recipe for recipe in scenario.recipes}
        self.products = {
            (recipe.name, size.jar): size for recipe in scenario.recipes for size in recipe.sizes
        }
        self.jar_names = frozenset(jar for _, jar in self.products)
        self.pans = {pan.name: pan for pan in self.kitchen.pans}
        self.rings = {ring.name: ring for ring in self.kitchen.rings}
        self.people = {person.name: person for person in scenario.people}
        self.goods = {good.name: good for good in scenario.goods}
        self.orders = {order.name: order for order in scenario.orders if order.due in self.planned}
        self.shop = [row for row in scenario.shop if row.day in self.planned]
        self.fresh = {lot.name: lot for lot in self._fresh_lots()}
        self.frozen = {lot.name: lot for lot in self._frozen_lots()}
        self.lot_names = self.fresh.keys() | self.frozen.keys()
        self.order_names = frozenset(order.name for order in scenario.orders)
        self.demand: dict[tuple[str, date], float] = {}
        for row in scenario.punnets:
            key = (row.fruit, row.day)
            self.demand[key] = self.demand.get(key, 0.0) + row.kg

    def _fresh_lots(self) -> list[FreshLot]:
        """Lots on hand in the chiller, then the picks of the planned days."""
        chilled = [lot for lot in self.scenario.lots if lot.place == Place.CHILLER]
        picks = [lot for lot in self.scenario.picks if lot.day in self.planned]
        return [self._fresh(lot, True) for lot in chilled] + [self._fresh(lot, False) for lot in picks]

    def _fresh(self, lot: Lot, on_hand: bool) -> FreshLot:
        fruit = self.fruits[lot.fruit]
        sell, peak, cook = (
            self._whole_days(fruit, days, lot.warm_hours, lot.warm_celsius)
            for days in (fruit.sell_days, fruit.peak_days, fruit.cook_days)
        )
        fresh = self._whole_days(fruit, fruit.cook_days, 0.0, 0.0)
        return FreshLot(lot.name, fruit, lot.grade, lot.kg, lot.day, on_hand, sell, peak, cook, fresh)

    def _whole_days(self, fruit: Fruit, days_at_0c: float, warm_hours: float, warm_celsius: float) -> int:
        """A life in days of age: what the warm hours leave of it is lived at the chiller's temperature."""
        warm_days = warm_hours / 24
        lived = warm_days * keeping.pace(fruit.keeps_like, warm_celsius) if warm_hours else 0.0
        chilled = (days_at_0c - lived) / keeping.pace(fruit.keeps_like, self.kitchen.chiller.celsius)
        return math.floor(warm_days + chilled + FORGIVEN)

    def _frozen_lots(self) -> list[FrozenLot]:
        """One lot that may be frozen of each fruit on each planned day, then the lots on hand."""
        new = [
            FrozenLot(
                name=f"{fruit.name} frozen {day.isoformat()}",
                fruit=fruit,
                kg=0.0,
                frozen_on=day,
                use_by=day + timedelta(days=math.floor(fruit.freezer_months * DAYS_PER_MONTH + FORGIVEN)),
            )
            for fruit in self.scenario.fruits
            for day in self.days
        ]
        on_hand = [
            FrozenLot(lot.name, self.fruits[lot.fruit], lot.kg, None, lot.use_by or date.max)
            for lot in self.scenario.lots
            if lot.place == Place.FREEZER
        ]
        return new + on_hand
