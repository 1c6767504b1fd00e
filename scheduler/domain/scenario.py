"""A scenario is everything the farm told us; a situation is a scenario as of one day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from scheduler.domain.days import Closure, Span, joined, open_minutes
from scheduler.domain.fruit import Fruit, Lot, PunnetDemand
from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.people import Person, Shift, WorkRules
from scheduler.domain.recipes import Recipe
from scheduler.domain.trade import Delivery, Good, Order, ShopDemand

USUAL_ZONE = "Europe/Dublin"


class Units(StrEnum):
    """The units in which a farm reads its plan; its files and its plan are metric whatever they are."""

    METRIC = "metric"
    IMPERIAL = "imperial"


@dataclass(frozen=True, slots=True)
class Slack:
    """What a rank may give up for the next one: a share of its best value, and kg (spoiled only)."""

    spoiled_share: float
    spoiled_kg: float
    short_share: float
    money_share: float


@dataclass(frozen=True, slots=True)
class Scenario:
    """One farm over ``days`` days from ``start``.

    ``picks`` are fresh lots that arrive on their day, as they are graded; ``picked`` is what was listed.
    ``time_zone`` is the IANA name of the zone whose clock the kitchen goes by; in ``units`` the farm
    reads its plan.
    """

    name: str
    farm: str
    kitchen_id: str
    currency: str
    start: date
    days: int
    kitchen: Kitchen
    work_rules: WorkRules
    slack: Slack
    fruits: tuple[Fruit, ...]
    recipes: tuple[Recipe, ...]
    lots: tuple[Lot, ...]
    picks: tuple[Lot, ...]
    punnets: tuple[PunnetDemand, ...]
    people: tuple[Person, ...]
    shifts: tuple[Shift, ...]
    orders: tuple[Order, ...]
    goods: tuple[Good, ...]
    deliveries: tuple[Delivery, ...]
    closures: tuple[Closure, ...] = ()
    shop: tuple[ShopDemand, ...] = ()
    picked: tuple[Lot, ...] = ()
    out: tuple[OutOfUse, ...] = ()
    held: tuple[HeldBatch, ...] = ()
    time_zone: str = USUAL_ZONE
    units: Units = Units.METRIC

    def dates(self) -> tuple[date, ...]:
        """The planned days, in order."""
        return tuple(self.start + timedelta(days=i) for i in range(self.days))

    def closed(self, day: date) -> tuple[Span, ...]:
        """When the kitchen cannot be used on a day, in order and apart from each other."""
        return joined((row.start, row.end) for row in self.closures if row.day == day)

    def open_minutes(self, day: date, start: int, end: int) -> int:
        """Minutes between two times of a day in which the kitchen can be used."""
        opens, closes = max(start, self.kitchen.open), min(end, self.kitchen.close)
        return open_minutes(self.closed(day), opens, closes)

    def fruit(self, name: str) -> Fruit:
        return next(fruit for fruit in self.fruits if fruit.name == name)

    def recipe(self, name: str) -> Recipe:
        return next(recipe for recipe in self.recipes if recipe.name == name)

    def person(self, name: str) -> Person:
        return next(person for person in self.people if person.name == name)


@dataclass(frozen=True, slots=True)
class Situation:
    """A scenario as of the evening before ``as_of``, with what has happened so far.

    ``log`` holds the entries of the season log; it is empty until one is kept. ``input_hash``
    fingerprints the scenario's files, so that a plan can say what it was made from.
    """

    scenario: Scenario
    as_of: date
    input_hash: str
    log: tuple[str, ...] = ()
