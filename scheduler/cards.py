"""Cards: a situation in whole numbers, as models and planners use it.

Units of a card: mass 0.1 kg, money 0.00001 of the currency, time minutes, days counted from the
first planned day. Durations and goods are never under-stated, jars never over-stated.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from scheduler.domain.days import Span
from scheduler.domain.kitchen import BLOCK, STEP, Kitchen, Pan, Ring
from scheduler.domain.people import Shift, Skill
from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import LEMONS, PECTIN, SUGAR
from scheduler.plan_rows import Part
from scheduler.stock_cards import FrozenCard, FruitCard, GoodCard, LotCard, OrderCard, Product, ShopCard

SCALE = 10  # units in a kg
MONEY = 100_000  # units in one of the currency
SHARE = 10_000  # units in a whole, for shares and losses
FORGIVEN = 1e-6


def rounded_up(value: float, unit: float = 1.0) -> int:
    """How many whole ``unit`` cover ``value``, forgiving an error of a millionth of a unit."""
    return math.ceil(value / unit - FORGIVEN)


def rounded_down(value: float, unit: float = 1.0) -> int:
    """How many whole ``unit`` fit in ``value``, forgiving an error of a millionth of a unit."""
    return math.floor(value / unit + FORGIVEN)


def cents(amount: float) -> int:
    """Money rounded to 0.01 with halves up, in card money."""
    return math.floor(amount * 100 + 0.5 + FORGIVEN) * (MONEY // 100)


def minutes_up(minutes: float) -> int:
    """``minutes`` rounded up to a step of the timetable."""
    return STEP * rounded_up(minutes, STEP)


@dataclass(frozen=True, slots=True)
class PanClass:
    """Equal pans; ``names`` has one entry a pan."""

    names: tuple[str, ...]
    pan: Pan


@dataclass(frozen=True, slots=True)
class RingClass:
    """Equal rings; ``names`` has one entry a ring."""

    names: tuple[str, ...]
    ring: Ring


@dataclass(frozen=True, slots=True)
class BatchCard:
    """One way to make one batch: quantities and minutes of each stage, 0 where its part has none.

    ``filled`` are jars of each of the recipe's sizes, ``kept`` those of them that are for sale. A part that
    boils juice counts in ``kg`` the fruit whose juice it is. ``standby`` minutes before potting jars and
    fillers must be ready, as the batch may have set and could not wait for its re-boils.
    """

    recipe: int
    pan: int
    ring: int
    fill_step: float
    from_freezer: bool
    kg: int
    part: Part = Part.WHOLE
    filled: tuple[int, ...] = ()
    kept: tuple[int, ...] = ()
    sugar: int = 0
    lemons: int = 0
    pectin: int = 0
    pieces: tuple[int, ...] = ()
    soften: int = 0
    strain: int = 0
    dissolve: int = 0
    boil: int = 0
    test: int = 0
    reboil: int = 0
    reboils: int = 0
    stand: int = 0
    standby: int = 0
    pot: int = 0
    wash_jars: int = 0
    wash: int = 0
    energy: int = 0
    electric_watts: int = 0
    gas_watts: int = 0
    set_c: float = 0.0
    last_jar_c: float = 0.0

    @property
    def jars(self) -> int:
        """Jars filled, of all sizes."""
        return sum(self.filled)

    @property
    def fruit(self) -> int:
        """Units of prepared fruit that go into the pan as fruit."""
        return 0 if self.part is Part.BOIL else self.kg

    @property
    def prepare(self) -> int:
        """Person-minutes of preparing fruit."""
        return sum(self.pieces)

    @property
    def cooking(self) -> int:
        """Minutes at the stove: from softening or dissolving to the end of the last set test."""
        before = self.soften + self.strain + self.dissolve + self.boil
        return before + self.test + self.reboils * (self.reboil + self.test)

    @property
    def heated(self) -> int:
        """Minutes at the stove in which the ring heats the pan: set tests and straining are left out."""
        return self.soften + self.dissolve + self.boil + self.reboils * self.reboil

    @property
    def burnt(self) -> int:
        """Watt-minutes of gas."""
        return self.gas_watts * self.heated

    @property
    def to_pot(self) -> int:
        return self.cooking + self.stand

    @property
    def chain(self) -> int:
        """Minutes from when cooking begins to the end of pot up, in which nothing waits."""
        return self.to_pot + self.pot


@dataclass(frozen=True, slots=True)
class StaffCard:
    """One way for one person to work on one day: a shift with so much overtime.

    ``skills`` are those that count on that day.
    """

    person: int
    day: int
    shift: Shift
    start: int
    leave: int
    break_minutes: int
    longest_stretch: int
    pay: int
    skills: frozenset[Skill]

    @property
    def present(self) -> int:
        return self.leave - self.start

    @property
    def break_starts(self) -> tuple[int, int]:
        """Earliest and latest start of the break owed; empty if the first is after the last."""
        first = max(self.start + STEP, self.leave - self.longest_stretch - self.break_minutes)
        last = min(self.start + self.longest_stretch, self.leave - self.break_minutes - STEP)
        return STEP * math.ceil(first / STEP), STEP * (last // STEP)


@dataclass(frozen=True, slots=True)
class SupplyCard:
    """A supply of gas, or of electricity, that has a limit.

    ``watts`` are what it gives to rings at once, ``beside_oven`` on a day on which anything is potted.
    """

    gas: bool
    watts: int
    beside_oven: int

    def drawn(self, card: BatchCard) -> int:
        """Watts that the batch draws of this supply while it cooks."""
        return card.gas_watts if self.gas else card.electric_watts


@dataclass(frozen=True, eq=False)
class Cards:
    """All a model needs, in integers. Equal to itself alone: what follows from it is kept by it."""

    situation: Situation
    days: int
    dates: tuple[date, ...]
    pans: tuple[PanClass, ...]
    rings: tuple[RingClass, ...]
    batches: tuple[BatchCard, ...]
    fruits: tuple[FruitCard, ...]
    lots: tuple[LotCard, ...]
    frozen: tuple[FrozenCard, ...]
    demand: tuple[tuple[int, ...], ...]  # [fruit][day]
    staff: tuple[StaffCard, ...]
    products: tuple[Product, ...]
    orders: tuple[OrderCard, ...]
    goods: tuple[GoodCard, ...]
    shop: tuple[ShopCard, ...]
    supplies: tuple[SupplyCard, ...] = ()
    gas: int | None = None  # watt-minutes in the bottles

    @property
    def scenario(self) -> Scenario:
        return self.situation.scenario

    @property
    def kitchen(self) -> Kitchen:
        return self.situation.scenario.kitchen

    def counts(self, staff: StaffCard) -> bool:
        """Whether somebody who is in counts among the people that a pan on the heat needs."""
        return not self.scenario.people[staff.person].learner

    def hold(self, card: BatchCard) -> int:
        """Minutes that the batch holds its ring."""
        return card.cooking if self.kitchen.heatproof_places else card.chain

    def earliest(self, card: BatchCard) -> int:
        """The earliest moment, in minutes from midnight, at which cooking of the batch can begin."""
        return self.kitchen.open + head_minutes(card, self.kitchen)

    @cached_property
    def closed(self) -> tuple[tuple[Span, ...], ...]:
        """By day, when the kitchen cannot be used."""
        return tuple(self.scenario.closed(day) for day in self.dates)

    @cached_property
    def pans_in_use(self) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """By day and class, the names of the pans that are not out of use."""
        out = {(row.day, row.pan) for row in self.scenario.out}
        return self._in_use([each.names for each in self.pans], out)

    @cached_property
    def rings_in_use(self) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """By day and class, the names of the rings that are not out of use."""
        out = {(row.day, row.ring) for row in self.scenario.out}
        return self._in_use([each.names for each in self.rings], out)

    def _in_use(
        self, classes: list[tuple[str, ...]], out: set[tuple[date, str]]
    ) -> tuple[tuple[tuple[str, ...], ...], ...]:
        return tuple(
            tuple(tuple(name for name in names if (day, name) not in out) for names in classes)
            for day in self.dates
        )

    @cached_property
    def two_days(self) -> tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]:
        """Indices of the cards that soften fruit and of those that boil its juice, by juice of one kind:
        recipe, from_freezer and kg."""
        parts: dict[tuple[int, bool, int], dict[Part, list[int]]] = {}
        for m, card in enumerate(self.batches):
            if card.part is not Part.WHOLE:
                juice = parts.setdefault((card.recipe, card.from_freezer, card.kg), {})
                juice.setdefault(card.part, []).append(m)
        return tuple((tuple(p[Part.SOFTEN]), tuple(p[Part.BOIL])) for _, p in sorted(parts.items()))

    @cached_property
    def makings(self) -> tuple[tuple[int, bool], ...]:
        """The (recipe, from_freezer) pairs that have a card, in order."""
        return tuple(sorted({(card.recipe, card.from_freezer) for card in self.batches}))

    @cached_property
    def by_making(self) -> dict[tuple[int, bool], tuple[int, ...]]:
        """Indices of the batch cards of each making."""
        return {
            making: tuple(
                i for i, card in enumerate(self.batches) if (card.recipe, card.from_freezer) == making
            )
            for making in self.makings
        }

    @cached_property
    def wanted(self) -> tuple[int, ...]:
        """Jars of each product that orders take and the shop wants to have left."""
        return tuple(
            sum(order.jars for order in self.orders if order.product == p)
            + max((row.jars for row in self.shop if row.product == p), default=0)
            for p in range(len(self.products))
        )

    def kept(self, card: BatchCard, product: int) -> int:
        """Jars of a product for sale that one batch makes."""
        of = self.products[product]
        return card.kept[of.size] if card.kept and of.recipe == card.recipe else 0

    @cached_property
    def most_made(self) -> tuple[int, ...]:
        """The most jars of each recipe that may still be made, of all sizes together."""
        on_hand = [0] * len(self.scenario.recipes)
        for of in self.products:
            on_hand[of.recipe] += of.jars_on_hand
        return tuple(
            max(0, recipe.most_jars - there)
            for recipe, there in zip(self.scenario.recipes, on_hand, strict=True)
        )

    @cached_property
    def fruit_index(self) -> dict[str, int]:
        return {fruit.name: i for i, fruit in enumerate(self.fruits)}

    def uses(self, card: BatchCard) -> dict[str, int]:
        """Goods that one batch uses, in card units."""
        recipe = self.scenario.recipes[card.recipe]
        used: dict[str, int] = {}
        wanted = (
            (SUGAR, card.sugar),
            (LEMONS, card.lemons),
            (PECTIN, card.pectin),
            *((size.jar, n) for size, n in zip(recipe.sizes, card.filled, strict=False)),
            *((size.lid, n) for size, n in zip(recipe.sizes, card.filled, strict=False)),
        )
        for name, quantity in wanted:
            if quantity:
                used[name] = used.get(name, 0) + quantity
        return used


def head_minutes(card: BatchCard, kitchen: Kitchen) -> int:
    """Minutes from opening that must pass before cooking begins: a piece of preparing, jars made hot."""
    oven = kitchen.oven
    ready = card.wash_jars + oven.load_minutes + oven.heat_minutes
    hot = ready + card.standby - card.to_pot if card.jars else 0
    return max(max(card.pieces, default=0), hot, 0)


def freeze_pieces(minutes: int) -> tuple[int, ...]:
    """Split preparing to freeze, or labelling, into whole blocks and a rest; more work contains the pieces of
    less."""
    blocks, rest = divmod(minutes, BLOCK)
    return (BLOCK,) * blocks + ((rest,) if rest else ())
