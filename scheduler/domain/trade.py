"""What comes in and goes out: orders for jars, goods of the dry store and their deliveries."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

SUGAR, LEMONS, PECTIN = "sugar", "lemons", "pectin"
"""Goods that recipes use by themselves: kg of sugar, lemons by count, grams of pectin."""


@dataclass(frozen=True, slots=True)
class Order:
    """``jars`` of a recipe due on a day. ``weight`` says how much a missing jar matters (1 is usual)."""

    name: str
    customer: str
    recipe: str
    jars: int
    due: date
    price: float
    weight: int


@dataclass(frozen=True, slots=True)
class Good:
    """A good of the dry store. ``price`` is money per unit; bought goods arrive after ``lead_days``."""

    name: str
    unit: str
    on_hand: float
    price: float
    lead_days: int


@dataclass(frozen=True, slots=True)
class Delivery:
    """A delivery that is already ordered and paid for; usable from the morning of ``day``."""

    day: date
    good: str
    quantity: float
