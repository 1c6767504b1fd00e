"""Cards of what is there and what is asked for: fruit and its lots, goods, products, orders, the shop.

Units as in ``cards``: mass 0.1 kg, money 0.00001 of the currency, days counted from the first planned day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class FruitCard:
    """``keep`` of ``SHARE`` is left after preparing; values are card money per 0.1 kg as picked.

    ``frozen_value`` is per 0.1 kg prepared. ``saleable`` is the most that could have been sold. ``box`` is
    the kitchen's freezer box that it is packed in, if its boxes are counted.
    """

    name: str
    keep: int
    prepare_per_hour: float
    table_value: int
    kitchen_value: int
    frozen_value: int
    wanted_later: int
    box_volume: int  # microlitres in boxes per 0.1 kg
    freezer_days: int
    saleable: int
    box: int | None = None


@dataclass(frozen=True, slots=True)
class LotCard:
    """A fresh lot. Last days may lie before it arrives (never) or past the horizon."""

    name: str
    fruit: int
    table: bool
    units: int
    arrives: int
    last_sold: int
    last_peak: int
    last_cooked: int
    left_value: int  # card money that 0.1 kg left at the end of the horizon is still worth

    @property
    def end(self) -> int:
        """The day at whose end what is left has spoiled."""
        return max(self.last_cooked, self.arrives)


@dataclass(frozen=True, slots=True)
class FrozenCard:
    """A freezer lot on hand; ``last`` is the last day it may be thawed, -1 if already past."""

    name: str
    fruit: int
    units: int
    last: int
    use_by: date


@dataclass(frozen=True, slots=True)
class Product:
    """A recipe in one of its sizes; ``jars_on_hand`` are settled."""

    recipe: int
    size: int
    jar: str
    jars_on_hand: int


@dataclass(frozen=True, slots=True)
class OrderCard:
    """Without ``parts`` all of its jars are filled or none."""

    name: str
    product: int
    jars: int
    due: int
    weight: int
    price: int
    parts: bool


@dataclass(frozen=True, slots=True)
class ShopCard:
    """Jars of a product that are to be left, settled, at the end of a day."""

    day: int
    product: int
    jars: int


@dataclass(frozen=True, slots=True)
class GoodCard:
    """``scale`` units in one of the good's own unit; ``price`` card money per card unit.

    What is bought ``comes`` on these days only, in packs of ``pack`` units, ``least`` of them or more.
    ``lasting`` says, for the day after each date, how many of the units on hand may be used from then on.
    """

    name: str
    scale: int
    on_hand: int
    delivered: tuple[int, ...]
    price: int
    lead: int
    comes: tuple[int, ...]
    pack: int
    least: int
    lasting: tuple[tuple[int, int], ...] = ()

    @property
    def any_quantity(self) -> bool:
        return self.pack == self.least == 1
