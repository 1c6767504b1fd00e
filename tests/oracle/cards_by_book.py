"""Batch cards worked out a second time, straight from the section "Cards" of the rule book.

Only ``scheduler.physics`` is shared with the program. Masses are whole numbers of 0.1 kg, money is in
cents, times are minutes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import permutations

from scheduler.domain.kitchen import Heat, Kitchen, Pan, Ring
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.physics import boil, cooling, setpoint, solids

FORGIVEN = 1e-6


@dataclass(frozen=True)
class BookCard:
    """One way of cooking one batch: a recipe in a pan on a ring at a fill step."""

    recipe: str
    pan: Pan
    ring: Ring
    step: float
    from_freezer: bool
    units: int  # prepared fruit, 0.1 kg
    jars: int
    sugar: int  # 0.1 kg
    lemons: int
    pectin: int
    prepare: int
    dissolve: int
    boil: int
    reboils: int
    reboil: int
    set_test: int
    stand: int
    pot: int
    wash: int
    energy: int  # cents
    places: bool  # whether the kitchen has heatproof places
    last_jar_c: float

    @cached_property
    def to_pot(self) -> int:
        """Minutes from the start of dissolving to the start of potting."""
        return self.on_heat + self.set_test * (self.reboils + 1) + self.stand

    @cached_property
    def on_heat(self) -> int:
        return self.dissolve + self.boil + self.reboil * self.reboils

    @cached_property
    def chain(self) -> int:
        return self.to_pot + self.pot

    @cached_property
    def hold(self) -> int:
        """Minutes that a ring is held."""
        return self.to_pot - self.stand if self.places else self.chain

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
    cards = [
        card(scenario, recipe, pan, ring, step, frozen)
        for recipe in scenario.recipes
        for pan in pan_kinds(kitchen)
        for ring in ring_kinds(kitchen)
        if pan.diameter_cm <= ring.largest_pan_cm
        for step in kitchen.fill_steps
        for frozen in ((False, True) if recipe.frozen_share == 1 else (False,))
    ]
    return [found for found in cards if found is not None]


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
    scenario: Scenario, recipe: Recipe, pan: Pan, ring: Ring, step: float, from_freezer: bool
) -> BookCard | None:
    """The card, or None where the book says that there is none."""
    kitchen = scenario.kitchen
    full = pan.litres * pan.fill / solids.mix_litres(1, recipe.sugar_per_kg, recipe.water_per_kg)
    units = floor(10 * step * full)
    kg = units / 10
    fruits = [scenario.fruit(share.fruit) for share in recipe.fruits]
    bands = [(share.low, share.high) for share in recipe.fruits]
    thinnest = min(dot(mix, [fruit.solids for fruit in fruits]) for mix in corners(bands))
    if units < 5:
        return None
    sugar, water = kg * recipe.sugar_per_kg, kg * recipe.water_per_kg
    jam = solids.jam_kg(kg, thinnest, sugar, recipe.final_solids)
    jars = floor(jam * (1 - recipe.pan_loss) / recipe.jar_kg)
    off = kg + sugar + water - jam
    if jars < 1 or off < 0 or jars > kitchen.oven.jars:
        return None
    hours = [1 / (1 - fruit.preparation_loss) / fruit.prepare_kg_per_hour for fruit in fruits]
    slowest = max(dot(mix, hours) for mix in corners(bands))
    heat = boil.heat_up_minutes(
        kg, thinnest, sugar, water, kitchen.chiller.celsius,
        setpoint.water_boils_c(kitchen.altitude_m), ring.kw, ring.efficiency,
    )  # fmt: skip
    boiling = five(boil.boil_minutes(off, ring.kw, ring.efficiency, pan.diameter_cm, kitchen.altitude_m))
    dissolve = five(max(recipe.dissolve_minutes, heat))
    set_test, stand = five(kitchen.set_test_minutes), five(kitchen.stand_minutes)
    reboil, miss = five(kitchen.reboil_minutes), 1 - kitchen.first_set_share
    reboils = next(n for n in range(100) if 1 - miss ** (n + 1) >= kitchen.keep_share)
    if boiling + reboils * reboil > recipe.longest_boil_minutes:
        return None
    pot = five(60 * jars / (kitchen.fillers * kitchen.jars_per_filler_hour))
    hot = setpoint.set_temperature_c(recipe.final_solids, kitchen.altitude_m)
    last = cooling.temperature_after(set_test + stand + pot, hot, jam, pan.diameter_cm, kitchen.room_c)
    if last < kitchen.potting_limit_c:
        return None
    price = kitchen.gas_price_kwh if ring.heat is Heat.GAS else kitchen.electricity_price_kwh
    return BookCard(
        recipe=recipe.name, pan=pan, ring=ring, step=step, from_freezer=from_freezer, units=units, jars=jars,
        sugar=ceil(10 * sugar), lemons=ceil(kg * recipe.lemons_per_kg),
        pectin=ceil(kg * recipe.pectin_g_per_kg),
        prepare=0 if from_freezer else five(60 * kg * slowest), dissolve=dissolve, boil=boiling,
        reboils=reboils, reboil=reboil, set_test=set_test, stand=stand, pot=pot,
        wash=five(kitchen.wash_minutes), places=kitchen.heatproof_places > 0, last_jar_c=last,
        energy=floor(100 * ring.kw * (dissolve + boiling + reboils * reboil) / 60 * price + 0.5),
    )  # fmt: skip


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
