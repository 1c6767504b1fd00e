"""What comes in and goes out: orders for jars, goods of the dry store and their deliveries."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

SUGAR, LEMONS, PECTIN = "sugar", "lemons", "pectin"
"""Goods that recipes use by themselves: kg of sugar, lemons by count, grams of pectin."""


class Weekday(StrEnum):
    """Days of the week, Monday first as in ISO 8601."""

    MON = "Mon"
    TUE = "Tue"
    WED = "Wed"
    THU = "Thu"
    FRI = "Fri"
    SAT = "Sat"
    SUN = "Sun"


ANY_DAY = frozenset(Weekday)


@dataclass(frozen=True, slots=True)
class Order:
    """``jars`` of a recipe due on a day, in the size that ``jar`` names. ``weight`` says how much a missing
    jar matters (1 is usual).

    Without ``parts`` the customer takes all of it or nothing.
    """

    name: str
    customer: str
    recipe: str
    jar: str
    jars: int
    due: date
    price: float
    weight: int
    parts: bool = True


@dataclass(frozen=True, slots=True)
class ShopDemand:
    """How many settled jars of a recipe and size are to be left for the farm's shop at the end of a day."""

    day: date
    recipe: str
    jar: str
    jars: int


@dataclass(frozen=True, slots=True)
class Good:
    """A good of the dry store. ``price`` is money per unit; bought goods come after ``lead_days``.

    ``pack`` is how many units a pack holds (None: any quantity can be bought), ``least_packs`` the packs of
    the least order; bought goods come on ``delivery_days`` only.

    Of what is on hand ``opened`` units are in opened packs, to be used by ``opened_use_by``; the others are
    used by ``best_before`` (None: they outlast the plan, as does all that is delivered or bought).
    """

    name: str
    unit: str
    on_hand: float
    price: float
    lead_days: int
    pack: float | None = None
    least_packs: int = 1
    delivery_days: frozenset[Weekday] = ANY_DAY
    best_before: date | None = None
    opened: float = 0.0
    opened_use_by: date | None = None

    def comes_on(self, day: date) -> bool:
        """Whether goods that are bought may come on this day of the week."""
        return list(Weekday)[day.weekday()] in self.delivery_days


@dataclass(frozen=True, slots=True)
class Delivery:
    """A delivery that is already ordered and paid for.

    It comes on ``day`` at ``at``, minutes from midnight (None: before the kitchen opens).
    """

    day: date
    good: str
    quantity: float
    at: int | None = None

    def counts_from(self, opens: int) -> date:
        """The day from which it is there to be used, in a kitchen that opens at ``opens``."""
        late = self.at is not None and self.at > opens
        return self.day + timedelta(days=late)
