"""Batch cards worked out a second time, straight from the section "Cards" of the rule book.

Only ``scheduler.physics`` is shared with the program. Masses are whole numbers of 0.1 kg, money is in
cents, times are minutes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import permutations

from scheduler.domain.kitchen import Heat, Kitchen, Pan, Ring, Thaw
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.physics import boil, cooling, setpoint, solids
from scheduler.plan_rows import Part

FORGIVEN = 1e-6


@dataclass(frozen=True)
class BookCard:
    """One way of cooking one batch: a part of a recipe in a pan on a ring, of so much fruit or its juice."""

    recipe: str
    part: Part
    pan: Pan
    ring: Ring
    step: float
    from_freezer: bool
    units: int  # prepared fruit, 0.1 kg
    filled: tuple[int, ...]
    for_sale: tuple[int, ...]
    sugar: int  # 0.1 kg
    lemons: int
    pectin: int
    prepare: int
    soften: int
    strain: int
    dissolve: int
    boil: int
    reboils: int
    reboil: int
    set_test: int
    stand: int
    stand_by: int
    pot: int
    wash_jars: int
    wash: int
    energy: int  # cents
    places: bool  # whether the kitchen has heatproof places
    last_jar_c: float

    @property
    def jars(self) -> int:
        return sum(self.filled)

    @cached_property
    def to_pot(self) -> int:
        """Minutes from when cooking begins to the start of potting."""
        return self.soften + self.strain + self.on_heat + self.set_test * (self.reboils + 1) + self.stand

    @cached_property
    def on_heat(self) -> int:
        """Minutes with the sugar in."""
        return self.dissolve + self.boil + self.reboil * self.reboils

    @cached_property
    def chain(self) -> int:
        return self.to_pot + self.pot

    @cached_property
    def hold(self) -> int:
        """Minutes that a ring is held."""
        return self.to_pot - self.stand if self.places or self.part is Part.SOFTEN else self.chain

    @cached_property
    def cooking(self) -> int:
        """Minutes that its ring is on."""
        return self.to_pot - self.stand

    @cached_property
    def watts(self) -> int:
        """What its ring draws."""
        return ceil(1000 * self.ring.kw)

    @property
    def on_gas(self) -> bool:
        return self.ring.heat is Heat.GAS

    def pieces(self) -> list[int]:
        """Minutes of the pieces of preparing."""
        return equal_pieces(self.prepare)


def whole_pieces(minutes: int) -> list[int]:
    """Pieces of 30 minutes and one of the rest."""
    return [30] * (minutes // 30) + ([minutes % 30] if minutes % 30 else [])


def equal_pieces(minutes: int) -> list[int]:
    """Pieces of at most 30 minutes, as equal as multiples of 5 allow."""
    count, steps = math.ceil(minutes / 30), minutes // 5
    return [5 * (steps // count + (i < steps % count)) for i in range(count)]


def book_cards(scenario: Scenario) -> list[BookCard]:
    """All cards of one pan of each kind on one ring of each kind (names tell kinds apart)."""
    kitchen = scenario.kitchen
    places = [
        (pan, ring)
        for pan in pan_kinds(kitchen)
        for ring in ring_kinds(kitchen)
        if pan.diameter_cm <= ring.largest_pan_cm
    ]
    found: list[BookCard] = []
    for recipe in scenario.recipes:
        first = Part.SOFTEN if recipe.two_days else Part.WHOLE
        for frozen in (False, True) if recipe.frozen_share == 1 else (False,):
            sizes = [
                (pan, ring, step, units_of_step(kitchen, recipe, first, pan, step))
                for pan, ring in places
                for step in kitchen.fill_steps
            ]
            ways = recipe.fill_shares if first is Part.WHOLE else ((),)
            of_fruit = [card(scenario, recipe, first, *size, frozen, way) for size in sizes for way in ways]
            found += filter(None, of_fruit)
            if first is Part.SOFTEN:
                drips = sorted({one.units for one in of_fruit if one})
                sizes = [(*place, *fill) for place in places for fill in juices(recipe, place[0], drips)]
                boiled = (
                    card(scenario, recipe, Part.BOIL, *size, frozen, way)
                    for size in sizes
                    for way in recipe.fill_shares
                )
                found += filter(None, boiled)
    return list(dict.fromkeys(found))


def juices(recipe: Recipe, pan: Pan, drips: list[int]) -> list[tuple[float, int]]:
    """How full the pan is of each juice that it holds, and the fruit (0.1 kg) that the juice is of."""
    full = pan.litres * pan.fill / litres_with_sugar(recipe)
    return [(units / 10 / full, units) for units in drips if units <= floor(10 * full)]


def liquid(recipe: Recipe) -> float:
    """Water for 1 kg of fruit; a chutney's vinegar is boiled away like it."""
    sour = [other.g_per_kg / 1000 for other in recipe.others if other.role == "vinegar"]
    return sum(sour, recipe.water_per_kg) if recipe.kind == "chutney" else recipe.water_per_kg


def litres_with_sugar(recipe: Recipe) -> float:
    """Litres of what is kept of 1 kg of fruit and its water, with the sugar."""
    kept = recipe.kept_share
    return solids.mix_litres(kept, recipe.sugar_per_kg, kept * liquid(recipe))


def units_of_step(kitchen: Kitchen, recipe: Recipe, part: Part, pan: Pan, step: float) -> int:
    """Prepared fruit (0.1 kg) of a batch that is cooked from fruit."""
    without = solids.mix_litres(1, 0, liquid(recipe))
    stages = [without] if part is Part.SOFTEN or recipe.soften_minutes else []
    if part is Part.WHOLE:
        stages.append(litres_with_sugar(recipe))
    in_pan = floor(10 * step * pan.litres * pan.fill / max(stages))
    return min(in_pan, floor(10 * kitchen.drip_stands.litres / without)) if part is Part.SOFTEN else in_pan


def pan_kind(pan: Pan) -> tuple[float, ...]:
    return (pan.litres, pan.diameter_cm, pan.fill)


def ring_kind(ring: Ring) -> tuple[object, ...]:
    return (ring.heat, ring.kw, ring.efficiency, ring.largest_pan_cm)


def pan_kinds(kitchen: Kitchen) -> list[Pan]:
    """The first pan of each kind."""
    return list({pan_kind(pan): pan for pan in reversed(kitchen.pans)}.values())


def ring_kinds(kitchen: Kitchen) -> list[Ring]:
    """The first ring of each kind."""
    return list({ring_kind(ring): ring for ring in reversed(kitchen.rings)}.values())


def card(
    scenario: Scenario,
    recipe: Recipe,
    part: Part,
    pan: Pan,
    ring: Ring,
    step: float,
    units: int,
    from_freezer: bool,
    shares: Sequence[float],
) -> BookCard | None:
    """The card of ``units`` of fruit, or of the juice of so much, shared out among the jar sizes; None where
    the book says there is none."""
    kitchen = scenario.kitchen
    if units < 5:
        return None
    bare = BookCard(
        recipe=recipe.name, part=part, pan=pan, ring=ring, step=step, from_freezer=from_freezer, units=units,
        filled=(), for_sale=(), sugar=0, lemons=0, pectin=0, prepare=0, soften=0, strain=0, dissolve=0,
        boil=0, reboils=0, reboil=0, set_test=0, stand=0, stand_by=0, pot=0, wash_jars=0, energy=0,
        wash=five(washing(kitchen, recipe)), places=kitchen.heatproof_places > 0, last_jar_c=0.0,
    )  # fmt: skip
    begun = bare if part is Part.BOIL else with_fruit_softened(bare, scenario, recipe)
    done = begun if part is Part.SOFTEN else with_sugar_boiled(begun, scenario, recipe, shares)
    if done is None:
        return None
    price = kitchen.gas_price_kwh if ring.heat is Heat.GAS else kitchen.electricity_price_kwh
    return replace(done, energy=floor(100 * ring.kw * (done.soften + done.on_heat) / 60 * price + 0.5))


def washing(kitchen: Kitchen, recipe: Recipe) -> int:
    """Minutes of washing a pan, in full after an allergen or what stains, where the kitchen does so."""
    traces = [other for other in recipe.others if other.allergen] or recipe.stains
    return (traces and kitchen.full_wash_minutes) or kitchen.wash_minutes


def with_fruit_softened(card: BookCard, scenario: Scenario, recipe: Recipe) -> BookCard:
    """What comes before the sugar."""
    fruits = [scenario.fruit(share.fruit) for share in recipe.fruits]
    kg, hours = card.units / 10, [1 / (1 - f.preparation_loss) / f.prepare_kg_per_hour for f in fruits]
    prepare = five(60 * kg * max(dot(mix, hours) for mix in mixes(recipe)))
    soften = strain = 0
    if recipe.soften_minutes:
        parts = (kg, thinnest(scenario, recipe), 0, kg * liquid(recipe))
        heat = heat_minutes(card, scenario.kitchen, *parts, warm=False)
        soften = five(recipe.soften_minutes + thawing(card, scenario, recipe) + heat)
    if recipe.strained_share is not None:
        strain = five(60 * kg * (1 + recipe.water_per_kg) / recipe.strain_kg_per_hour)
    return replace(card, prepare=0 if card.from_freezer else prepare, soften=soften, strain=strain)


def with_sugar_boiled(
    card: BookCard, scenario: Scenario, recipe: Recipe, shares: Sequence[float]
) -> BookCard | None:
    """What comes after the fruit is softened and strained, of juice on the next day."""
    kitchen, pan, ring, y = scenario.kitchen, card.pan, card.ring, recipe.kept_share
    kg = card.units / 10
    sugar, water, sweet = kg * recipe.sugar_per_kg, y * kg * liquid(recipe), thinnest(scenario, recipe)
    jam = solids.jam_kg(y * kg, sweet, sugar, recipe.final_solids)
    filled = in_sizes(jam * (1 - recipe.pan_loss), recipe, shares)
    jars, for_sale = sum(filled), without_sample(filled, kitchen)
    off = y * kg + water + sugar - jam
    most = kitchen.oven.jars if kitchen.rack_jars is None else min(kitchen.oven.jars, kitchen.rack_jars)
    if not sum(for_sale) or off < 0 or jars > most:
        return None
    heat = heat_minutes(card, kitchen, y * kg, sweet, sugar, water, warm=card.soften > 0)
    if card.part is Part.WHOLE and not card.soften:
        heat += thawing(card, scenario, recipe)
    boiling = five(boil.boil_minutes(off, ring.kw, ring.efficiency, pan.diameter_cm, kitchen.altitude_m))
    set_test = reboil = reboils = stand = 0
    if recipe.tested:
        set_test, stand = five(kitchen.set_test_minutes), five(kitchen.stand_minutes)
        reboil, miss = five(kitchen.reboil_minutes), 1 - kitchen.first_set_share
        reboils = next(n for n in range(100) if 1 - miss ** (n + 1) >= kitchen.keep_share)
    if boiling + reboils * reboil > recipe.longest_boil_minutes:
        return None
    pot = five(60 * jars / (kitchen.fillers * kitchen.jars_per_filler_hour))
    hot = setpoint.set_temperature_c(recipe.final_solids, kitchen.altitude_m)
    until = set_test + stand + pot
    again = 0 if kitchen.keep_hot else reboils * (reboil + set_test)
    last, *later = [
        cooling.temperature_after(until + wait, hot, jam, pan.diameter_cm, kitchen.room_c)
        for wait in range(0, again + 5, 5)
    ]
    if last < kitchen.potting_limit_c:
        return None
    pace = kitchen.oven.wash_jars_per_hour
    too_cold = sum(celsius < kitchen.potting_limit_c for celsius in later)
    return replace(
        card, filled=filled, for_sale=for_sale, sugar=ceil(10 * sugar),
        lemons=ceil(kg * recipe.lemons_per_kg), pectin=ceil(kg * recipe.pectin_g_per_kg),
        dissolve=five(max(recipe.dissolve_minutes, heat)), boil=boiling, reboils=reboils, reboil=reboil,
        set_test=set_test, stand=stand, stand_by=5 * too_cold, pot=pot, last_jar_c=last,
        wash_jars=five(60 * jars / pace) if pace else 0,
    )  # fmt: skip


def in_sizes(kg: float, recipe: Recipe, shares: Sequence[float]) -> tuple[int, ...]:
    """Jars of each size: the first size first, each of its share and of what was left over before it."""
    left, filled = 0.0, []
    for size, share in zip(recipe.sizes, shares, strict=True):
        left += share * kg
        filled.append(floor(left / size.jar_kg))
        left -= filled[-1] * size.jar_kg
    return tuple(filled)


def without_sample(filled: tuple[int, ...], kitchen: Kitchen) -> tuple[int, ...]:
    """Rule 63: what is for sale of each size; the sample is of the last sizes."""
    owed, kept = kitchen.sample_jars, []
    for jars in filled[::-1]:
        sound = floor(jars * (1 - kitchen.scrap_share))
        kept.append(max(0, sound - owed))
        owed = max(0, owed - sound)
    return tuple(kept[::-1])


def heat_minutes(
    card: BookCard, kitchen: Kitchen, fruit: float, sweet: float, sugar: float, water: float, warm: bool
) -> float:
    """Minutes to the boiling point of water, from the chiller's temperature or the room's."""
    start = kitchen.room_c if warm else kitchen.chiller.celsius
    boils = setpoint.water_boils_c(kitchen.altitude_m)
    return boil.heat_up_minutes(fruit, sweet, sugar, water, start, boils, card.ring.kw, card.ring.efficiency)


def thawing(card: BookCard, scenario: Scenario, recipe: Recipe) -> float:
    """Minutes on the ring to thaw all that may be frozen."""
    kitchen, frozen = scenario.kitchen, card.units / 10 * (1 if card.from_freezer else recipe.frozen_share)
    if kitchen.thaw is Thaw.OVERNIGHT or not frozen:
        return 0
    return boil.heat_up_minutes(
        frozen, thinnest(scenario, recipe), 0, 0, kitchen.freezer.celsius, kitchen.chiller.celsius,
        card.ring.kw, card.ring.efficiency,
    )  # fmt: skip


def mixes(recipe: Recipe) -> list[list[float]]:
    return corners([(share.low, share.high) for share in recipe.fruits])


def thinnest(scenario: Scenario, recipe: Recipe) -> float:
    """Solids of the fruit, the lowest of all mixes."""
    sweet = [scenario.fruit(share.fruit).solids for share in recipe.fruits]
    return min(dot(mix, sweet) for mix in mixes(recipe))


def corners(bands: list[tuple[float, float]]) -> list[list[float]]:
    """Corner mixes: in some order of the fruits, each takes as much as the bands leave it."""
    found = []
    for order in permutations(range(len(bands))):
        mix = [low for low, _ in bands]
        for i in order:
            mix[i] += min(bands[i][1] - bands[i][0], 1 - sum(mix))
        found.append(mix)
    return found


def dot(left: list[float], right: list[float]) -> float:
    return sum(a * b for a, b in zip(left, right, strict=True))


def floor(value: float) -> int:
    return math.floor(value + FORGIVEN)


def ceil(value: float) -> int:
    return math.ceil(value - FORGIVEN)


def five(minutes: float) -> int:
    """Minutes rounded up to a multiple of 5."""
    return 5 * math.ceil((minutes - FORGIVEN) / 5)
