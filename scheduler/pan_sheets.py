"""What each pan of the kitchen makes of a recipe: a full pan, the largest safe batch, what stands in its way.

A jelly or a cordial has sheets of two parts: what a pan softens, and what it boils of the juice next day.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from scheduler.batch_sheet import BatchSheet, batch_sheet
from scheduler.cards import FORGIVEN, SCALE, BatchCard, Cards, PanClass, RingClass, rounded_down
from scheduler.domain.kitchen import Kitchen, Pan
from scheduler.domain.recipes import Recipe
from scheduler.panful import LEAST_BATCH_KG, Panful, Refusal, Rule, full_kg, juice_panful, panful
from scheduler.physics import cooling, solids
from scheduler.plan_rows import Part

LEAST_FILL = 0.3
"""Share of the largest batch from which on minutes are drawn against kg."""

_MOST_POINTS = 60


@dataclass(frozen=True, slots=True)
class PanSheet:
    """One part of a recipe in equal pans on the strongest of the rings of one heat; no ring where none is
    wide enough.

    ``room_kg`` is the prepared fruit (kg; of juice, the fruit whose juice it is) of a pan at its safe fill,
    ``limit_kg`` the most that a drip stand holds, or that is softened the day before; None for a whole batch.
    ``full`` is the batch of the lesser of these, or what stands in its way; ``largest`` the largest batch
    that no rule refuses, None if all are refused, by the rules ``refused_by``. ``pottable_kg`` is the least
    and most preserve (kg) of which the last jar is still hot enough; 0 and 0 if there is none, None where
    nothing is potted.
    """

    part: Part
    pan: PanClass
    ring: RingClass | None
    room_kg: float
    limit_kg: float | None
    full: BatchSheet | Refusal
    largest: BatchSheet | None
    refused_by: tuple[Refusal, ...]
    pottable_kg: tuple[float, float] | None
    curve: tuple[Panful, ...]

    @property
    def best(self) -> BatchSheet | None:
        """The batch to show: the largest safe one, else the refused full one."""
        return self.largest or (self.full if isinstance(self.full, BatchSheet) else None)

    @property
    def refusal(self) -> Refusal | None:
        """What stands in the way of the full batch."""
        return self.full.refusal if isinstance(self.full, BatchSheet) else self.full


def pan_sheets(cards: Cards, r: int) -> tuple[PanSheet, ...]:
    """The sheets of recipe ``r`` of the cards: softening pans first, then those for the juice of what is
    softened; of the juice there are none where nothing can be softened."""
    recipe = cards.scenario.recipes[r]
    plain = partial(batch_sheet, cards)
    if not recipe.two_days:
        return tuple(_pan_sheet(way, plain) for way in _ways(cards, r, Part.WHOLE, None))
    stand = cards.kitchen.drip_stands.litres / solids.mix_litres(1.0, 0.0, recipe.water_per_kg)
    ways = list(_ways(cards, r, Part.SOFTEN, stand))
    softening = [_pan_sheet(way, plain) for way in ways]
    most = max((found.largest.kg for found in softening if found.largest), default=None)
    if most is None:
        return tuple(softening)

    def boiled(found: Panful) -> BatchSheet:
        way = _softens(ways, softening, found.card)
        softened = way.filled(found.card.kg)
        assert isinstance(softened, Panful)
        return batch_sheet(cards, found, batch_sheet(cards, softened))

    return (*softening, *(_pan_sheet(way, boiled) for way in _ways(cards, r, Part.BOIL, most)))


@dataclass(frozen=True, slots=True)
class _Way:
    """A part of a recipe in a pan on a ring, by their indices; no ring where none is wide enough."""

    cards: Cards
    part: Part
    r: int
    p: int
    q: int | None
    limit_kg: float | None

    @property
    def recipe(self) -> Recipe:
        return self.cards.scenario.recipes[self.r]

    @property
    def pan(self) -> Pan:
        return self.cards.pans[self.p].pan

    @property
    def room_kg(self) -> float:
        return full_kg(self.recipe, self.pan, self.part)

    @property
    def most(self) -> int:
        """Units of the full batch."""
        limit = self.room_kg if self.limit_kg is None else self.limit_kg
        return rounded_down(min(self.room_kg, limit), 1 / SCALE)

    def filled(self, units: int) -> Panful | Refusal:
        """The panful of so many units of fruit, or of their juice."""
        assert self.q is not None
        scenario, ring, index = self.cards.scenario, self.cards.rings[self.q].ring, (self.r, self.p, self.q)
        if self.part is Part.BOIL:
            return juice_panful(scenario, self.recipe, self.pan, ring, units, False, index)
        step = 1.0 if units == self.most else units / SCALE / self.room_kg
        return panful(scenario, self.recipe, self.pan, ring, step, False, index, self.part)


def _ways(cards: Cards, r: int, part: Part, limit_kg: float | None) -> Iterator[_Way]:
    for p in range(len(cards.pans)):
        for q in _rings_for(cards, p):
            yield _Way(cards, part, r, p, q, limit_kg)


def _rings_for(cards: Cards, pan: int) -> list[int | None]:
    """The strongest ring of each kind of heat that takes a pan; one None where no ring does."""
    across = cards.pans[pan].pan.diameter_cm
    wide = [q for q, each in enumerate(cards.rings) if across <= each.ring.largest_pan_cm + FORGIVEN]

    def reaches(q: int) -> float:
        return cards.rings[q].ring.kw * cards.rings[q].ring.efficiency

    by_heat = sorted(wide, key=lambda q: cards.rings[q].ring.heat)
    strongest = [max(alike, key=reaches) for _, alike in groupby(by_heat, lambda q: cards.rings[q].ring.heat)]
    return [*strongest] or [None]


def _softens(ways: Sequence[_Way], sheets: Sequence[PanSheet], juice: BatchCard) -> _Way:
    """Where fruit softens for juice: in the same pan on the same ring, else in the smallest that takes it."""
    able = {
        way: found.largest.kg
        for way, found in zip(ways, sheets, strict=True)
        if found.largest and found.largest.card.kg >= juice.kg
    }
    same = next((way for way in able if (way.p, way.q) == (juice.pan, juice.ring)), None)
    return same or min(able, key=lambda way: able[way])


def _pan_sheet(way: _Way, sheet_of: Callable[[Panful], BatchSheet]) -> PanSheet:
    cards, pan = way.cards, way.cards.pans[way.p]
    potted = way.part is not Part.SOFTEN
    if way.q is None:
        widest = max(each.ring.largest_pan_cm for each in cards.rings)
        refused = Refusal(Rule.PAN_TOO_WIDE, way.pan.diameter_cm, widest)
        pottable = (0.0, 0.0) if potted else None
        return PanSheet(
            way.part, pan, None, way.room_kg, way.limit_kg, refused, None, (refused,), pottable, ()
        )
    most = way.most
    full, (largest, refused_by) = way.filled(most), _largest(way)
    drawn = [*range(math.ceil(LEAST_FILL * most), most, max(1, most // _MOST_POINTS)), most]
    curve = tuple(found for units in drawn if isinstance(found := way.filled(units), Panful))
    return PanSheet(
        way.part, pan, cards.rings[way.q], way.room_kg, way.limit_kg,
        full if isinstance(full, Refusal) else sheet_of(full),
        None if largest is None else sheet_of(largest),
        refused_by,
        _pottable_kg(curve, way.recipe, way.pan, cards.kitchen) if potted else None,
        curve,
    )  # fmt: skip


def _largest(way: _Way) -> tuple[Panful | None, tuple[Refusal, ...]]:
    """The largest panful that no rule refuses; None, and the rules in their order, if all are refused."""
    refused: dict[Rule, Refusal] = {}
    least = min(way.most, round(LEAST_BATCH_KG * SCALE))
    for units in range(way.most, least - 1, -1):
        found = way.filled(units)
        if isinstance(found, Panful) and found.refusal is None:
            return found, ()
        refusal = found if isinstance(found, Refusal) else found.refusal
        assert refusal is not None
        refused.setdefault(refusal.rule, refusal)
    return None, tuple(refused.values())


def _pottable_kg(curve: Sequence[Panful], recipe: Recipe, pan: Pan, kitchen: Kitchen) -> tuple[float, float]:
    batch = curve[-1].card if curve else None
    if batch is None or batch.set_c < kitchen.potting_limit_c:
        return 0.0, 0.0
    jars_a_minute = kitchen.fillers * kitchen.jars_per_filler_hour / 60
    return cooling.potted_in_time_kg(
        batch.test + batch.stand,
        jars_a_minute * recipe.jar_kg / (1 - recipe.pan_loss),
        kitchen.potting_limit_c, batch.set_c, pan.diameter_cm, kitchen.room_c,
    )  # fmt: skip
