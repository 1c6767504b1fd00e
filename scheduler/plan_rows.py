"""The Plan: what is sold, cooked, frozen and given up, who does what when, and how good it is.

Masses are kg: as picked for fresh lots, as prepared for the freezer and for batches. Times of day
are minutes from midnight. Money is in the farm's currency. A Plan knows no solver: it is rows that
can be read, written and audited.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Literal

from scheduler.crates import Crate

PLAN_SCHEMA = 2
MONEY_CLOSE = 0.004
"""Relative gap at which money counts as close to the least there is."""


class StageKind(StrEnum):
    """The stages of a batch in their order, then those of a day: ``FREEZE`` is preparing fruit to freeze it,
    ``TAKE_OUT`` taking out what is cooked tomorrow, ``CLEAN_DOWN`` the last work.

    Who stands by is there to pot up a batch that sets before the plan's re-boils are used up; until it
    does they may prepare, wash or load.
    """

    PREPARE = "prepare"
    SOFTEN = "soften"
    STRAIN = "strain"
    WASH_JARS = "wash jars"
    LOAD_JARS = "jars in oven"
    DISSOLVE = "dissolve"
    BOIL = "boil"
    SET_TEST = "set test"
    REBOIL = "re-boil"
    STAND = "stand"
    STAND_BY = "stand by to pot up"
    POT_UP = "pot up"
    WASH = "wash pan"
    FREEZE = "prepare to freeze"
    LABEL = "label jars"
    TAKE_OUT = "take fruit out"
    CLEAN_DOWN = "clean down"


OF_NO_BATCH = frozenset({StageKind.FREEZE, StageKind.LABEL, StageKind.TAKE_OUT, StageKind.CLEAN_DOWN})
"""Stages of a day as a whole."""


class Part(StrEnum):
    """What a batch does of a recipe: all of it, or one of two days with juice dripping overnight between."""

    WHOLE = "whole"
    SOFTEN = "soften and strain"
    BOIL = "boil the juice"


@dataclass(frozen=True, slots=True)
class Goal:
    """One rank: ``best`` was reached when it was solved, ``value`` stands in the plan after slack.

    In a plan of the trade-off curve ``cap`` is the most that the goal may come to, best and slack together,
    and the bounds of the goals after it hold under it.
    """

    name: str
    unit: str
    value: float
    best: float
    bound: float
    gap: float
    slack: float
    cap: float | None = None


@dataclass(frozen=True, slots=True)
class Timetables:
    """How many day timetables the search placed, proved impossible, or left undecided."""

    placed: int
    refuted: int
    undecided: int


@dataclass(frozen=True, slots=True)
class LotDay:
    """A fresh lot on one day, kg as picked; ``cooked`` and ``frozen`` before trimming."""

    day: date
    lot: str
    fruit: str
    grade: str
    opening: float
    arrived: float
    sold: float
    cooked: float
    frozen: float
    given_up: float
    spoiled: float
    left: float


@dataclass(frozen=True, slots=True)
class Mix:
    """Prepared fruit of one recipe on one day; its batches are all cooked from this one mix.

    ``from_freezer`` tells the batches cooked wholly from the freezer from the others.
    """

    day: date
    recipe: str
    from_freezer: bool
    fruit: str
    fresh_kg: float
    frozen_kg: float


@dataclass(frozen=True, slots=True)
class Draw:
    """kg taken from one lot for a mix: as picked from a fresh lot, as prepared from the freezer."""

    day: date
    recipe: str
    from_freezer: bool
    lot: str
    kg: float


@dataclass(frozen=True, slots=True)
class FreezerDay:
    """A freezer lot on one day, kg as prepared. ``discarded`` has passed its date, or is lost with a freezer
    that failed; ``in_second`` of what is ``left`` lies in the second freezer.
    """

    day: date
    lot: str
    fruit: str
    use_by: date
    opening: float
    frozen: float
    thawed: float
    discarded: float
    left: float
    in_second: float = 0.0


@dataclass(frozen=True, slots=True)
class Batch:
    """One panful: ``kg`` prepared fruit at share ``fill_step`` of the pan's safe fill.

    ``filled`` are jars of each of the recipe's sizes, the retained sample and scrap among them. A ``part``
    that boils juice counts in ``kg`` the fruit whose juice it is, and names in ``juice_of`` the batch
    softened the day before. Where nothing is potted, nothing is filled; store and temperatures are 0.
    """

    id: str
    day: date
    recipe: str
    from_freezer: bool
    pan: str
    ring: str
    fill_step: float
    kg: float
    filled: tuple[int, ...]
    sugar_kg: float
    lemons: int
    pectin_g: int
    set_temperature_c: float
    last_jar_c: float
    part: Part = Part.WHOLE
    juice_of: str = ""

    @property
    def jars(self) -> int:
        """Jars filled, of all sizes."""
        return sum(self.filled)

    @property
    def fruit_kg(self) -> float:
        """kg of prepared fruit that go into the pan as fruit."""
        return 0.0 if self.part is Part.BOIL else self.kg


@dataclass(frozen=True, slots=True)
class Stage:
    """Work from ``start`` to ``end``; ``batch`` is empty for kinds ``OF_NO_BATCH``."""

    day: date
    batch: str
    kind: StageKind
    start: int
    end: int
    people: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DayShift:
    """A shift in use; ``end`` is before overtime; ``break_start`` is None where none is owed."""

    day: date
    person: str
    start: int
    end: int
    overtime_minutes: int
    break_start: int | None
    break_minutes: int

    @property
    def leaves(self) -> int:
        """When the person goes home, minutes from midnight."""
        return self.end + self.overtime_minutes


@dataclass(frozen=True, slots=True)
class JarDay:
    """Jars of a recipe and size on one day: made (without sample and scrap), shipped for orders, left at the
    end; labelled of those before."""

    day: date
    recipe: str
    jar: str
    made: int
    shipped: int
    left: int
    labelled: int = 0


@dataclass(frozen=True, slots=True)
class OrderLine:
    """How many jars of an order are filled by its due day."""

    order: str
    recipe: str
    jar: str
    due: date
    jars: int
    filled: int


@dataclass(frozen=True, slots=True)
class ShopStock:
    """Jars of a recipe and size asked for the shop at the end of a day, and the settled ones left then."""

    day: date
    recipe: str
    jar: str
    jars: int
    settled: int

    @property
    def missing(self) -> int:
        return max(0, self.jars - self.settled)


@dataclass(frozen=True, slots=True)
class Purchase:
    """A good to buy: needed on the morning of ``needed``, ordered by ``order_by`` at the latest.

    It is of so many ``packs`` (0 where any quantity can be bought) and ``comes`` on a delivery day, None
    standing for ``needed``.
    """

    good: str
    quantity: float
    needed: date
    order_by: date
    cost: float
    packs: int = 0
    comes: date | None = None

    @property
    def arrives(self) -> date:
        """The day on which it comes."""
        return self.comes or self.needed


@dataclass(frozen=True, slots=True)
class Finish:
    """When a day's last stage ends, and the earliest end proved possible for the same work."""

    day: date
    ends: int
    bound: int


@dataclass(frozen=True, slots=True)
class Totals:
    """What became of the fruit and how many jars: the fresh kg balance (see ``balance``)."""

    picked: float
    opening: float
    sold: float
    cooked: float
    frozen: float
    trimmed: float
    given_up: float
    spoiled: float
    left: float
    thawed: float
    discarded: float
    made: int
    short: int

    def balance(self) -> float:
        """kg in less kg out of the fresh fruit; 0 in a sound plan."""
        came = self.picked + self.opening
        went = self.sold + self.cooked + self.frozen + self.trimmed
        return came - went - self.given_up - self.spoiled - self.left


Status = Literal["optimal", "feasible"]


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole plan; ``kitchen_id``, ``as_of`` and ``input_hash`` say what it was made from."""

    schema: int
    kitchen_id: str
    scenario: str
    as_of: date
    input_hash: str
    currency: str
    method: Literal["exact", "habit"]
    seed: int
    seconds: float
    status: Status
    timetables: Timetables
    goals: tuple[Goal, ...]
    lots: tuple[LotDay, ...]
    mixes: tuple[Mix, ...]
    draws: tuple[Draw, ...]
    freezer: tuple[FreezerDay, ...]
    batches: tuple[Batch, ...]
    stages: tuple[Stage, ...]
    shifts: tuple[DayShift, ...]
    finishes: tuple[Finish, ...]
    jars: tuple[JarDay, ...]
    orders: tuple[OrderLine, ...]
    purchases: tuple[Purchase, ...]
    habit: Totals | None = None
    shop: tuple[ShopStock, ...] = ()
    crates: tuple[Crate, ...] = ()


def is_choice(plan: Plan) -> bool:
    """Whether a plan is one of a trade-off curve, made under caps of its own."""
    return any(goal.cap is not None for goal in plan.goals)


def totals(plan: Plan) -> Totals:
    """Add up what became of the fruit and how many jars the plan makes and misses."""
    first = min((row.day for row in plan.lots), default=plan.as_of)
    frozen = sum(row.frozen for row in plan.freezer)
    cooked = sum(mix.fresh_kg for mix in plan.mixes)
    drawn = sum(row.cooked + row.frozen for row in plan.lots)
    last = max((row.day for row in plan.lots), default=plan.as_of)
    kg = {
        "picked": sum(row.arrived for row in plan.lots),
        "opening": sum(row.opening for row in plan.lots if row.day == first),
        "sold": sum(row.sold for row in plan.lots),
        "cooked": cooked,
        "frozen": frozen,
        "trimmed": drawn - cooked - frozen,
        "given_up": sum(row.given_up for row in plan.lots),
        "spoiled": sum(row.spoiled for row in plan.lots),
        "left": sum(row.left for row in plan.lots if row.day == last),
        "thawed": sum(row.thawed for row in plan.freezer),
        "discarded": sum(row.discarded for row in plan.freezer),
    }
    made = sum(row.made for row in plan.jars)
    short = sum(line.jars - line.filled for line in plan.orders)
    return Totals(**{name: round(value, 3) for name, value in kg.items()}, made=made, short=short)
