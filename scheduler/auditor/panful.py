"""The card of one panful, worked out afresh from the rule book: jars, store, minutes, temperatures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import accumulate

from scheduler.auditor.farm import FORGIVEN
from scheduler.domain.kitchen import STEP, Heat, Kitchen, Pan, Ring, Thaw
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.physics import boil, cooling, setpoint, solids
from scheduler.plan_rows import Part

LEAST_KG = 0.5
"""Less than this is too little to boil without burning (common practice, no source)."""

MOST_REBOILS = 99


@dataclass(frozen=True, slots=True)
class NoCard:
    """There is no card, and why."""

    why: str


@dataclass(frozen=True, slots=True)
class Panful:
    """What a batch must be: kg of prepared fruit, jars, store, °C, minutes of each stage, money of energy.

    What a part of a recipe does not have is 0.
    """

    kg: float
    filled: tuple[int, ...] = ()
    sugar_kg: float = 0.0
    lemons: int = 0
    pectin_g: int = 0
    set_temperature_c: float = 0.0
    last_jar_c: float = 0.0
    prepare: int = 0
    soften: int = 0
    strain: int = 0
    dissolve: int = 0
    boil: int = 0
    set_test: int = 0
    reboils: int = 0
    reboil: int = 0
    stand: int = 0
    stand_by: int = 0
    pot_up: int = 0
    wash_jars: int = 0
    wash: int = 0
    energy: float = 0.0

    @property
    def jars(self) -> int:
        """Jars filled, of all sizes."""
        return sum(self.filled)


def up(value: float, unit: float = 1.0) -> int:
    """``value`` in units, rounded up to a whole number of them; an error of 1e-6 units is forgiven."""
    return math.ceil(value / unit - FORGIVEN)


def down(value: float, unit: float = 1.0) -> int:
    """``value`` in units, rounded down to a whole number of them; an error of 1e-6 units is forgiven."""
    return math.floor(value / unit + FORGIVEN)


def up_to_five(minutes: float) -> int:
    return 5 * up(minutes, 5)


def cents(money: float) -> float:
    """Money to 0.01, halves up."""
    return math.floor(money * 100 + 0.5 + FORGIVEN) / 100


def panful(
    scenario: Scenario,
    recipe: Recipe,
    part: Part,
    pan: Pan,
    ring: Ring,
    kg: float,
    from_freezer: bool,
    shares: Sequence[float],
) -> Panful | NoCard:
    """The card of ``kg`` of prepared fruit, of juice the fruit that it came from; or why there is none.

    What it gives is shared out among the recipe's jar sizes in ``shares``.
    Whether the pan holds so much is for ``sizes`` to say. What the physics refuses (a value out of its
    range) has no card either.
    """
    if kg < LEAST_KG - FORGIVEN:
        return NoCard(f"{kg:.1f} kg is too little to boil; at least {LEAST_KG} kg")
    try:
        card = Panful(kg, wash=up_to_five(wash_minutes(scenario.kitchen, recipe)))
        if part == Part.BOIL:
            return _boiled(scenario, recipe, pan, ring, card, 0.0, shares)
        thawing = _thawing(scenario, recipe, ring, kg, from_freezer)
        card = _softened(scenario, recipe, ring, card, from_freezer, thawing)
        if part == Part.SOFTEN:
            return card
        return _boiled(scenario, recipe, pan, ring, card, thawing, shares)
    except ValueError as refused:
        return NoCard(str(refused))


def wash_minutes(kitchen: Kitchen, recipe: Recipe) -> float:
    """What a pan is washed for: in full, where the kitchen has such a wash, after an allergen or fruit that
    stains (rule 46)."""
    full, traces = kitchen.full_wash_minutes, recipe.stains or any(o.allergen for o in recipe.others)
    return kitchen.wash_minutes if full is None or not traces else full


def _thawing(scenario: Scenario, recipe: Recipe, ring: Ring, kg: float, from_freezer: bool) -> float:
    """Minutes in the pan until all fruit that may be frozen is as warm as the chiller."""
    kitchen = scenario.kitchen
    frozen = kg if from_freezer else recipe.frozen_share * kg
    if kitchen.thaw == Thaw.OVERNIGHT or frozen == 0:
        return 0.0
    return boil.heat_up_minutes(
        frozen, least_solids(scenario, recipe), 0.0, 0.0,
        kitchen.freezer.celsius, kitchen.chiller.celsius, ring.kw, ring.efficiency,
    )  # fmt: skip


def _softened(
    scenario: Scenario, recipe: Recipe, ring: Ring, card: Panful, from_freezer: bool, thawing: float
) -> Panful:
    """What comes before the sugar: fruit is prepared, softened in its water and strained."""
    kitchen, water = scenario.kitchen, card.kg * recipe.liquid_per_kg
    prepare = soften = strain = 0
    if not from_freezer:
        prepare = up_to_five(60 * most_prepare_hours(scenario, recipe) * card.kg)
    if recipe.soften_minutes > 0:
        start_c = kitchen.chiller.celsius
        heat_up = _heat_up(kitchen, ring, card.kg, least_solids(scenario, recipe), 0.0, water, start_c)
        soften = up_to_five(recipe.soften_minutes + thawing + heat_up)
    if recipe.strained_share is not None:
        strain = up_to_five(60 * (card.kg + water) / recipe.strain_kg_per_hour)
    energy = _energy(kitchen, ring, soften)
    return replace(card, prepare=prepare, soften=soften, strain=strain, energy=energy)


def _boiled(
    scenario: Scenario,
    recipe: Recipe,
    pan: Pan,
    ring: Ring,
    card: Panful,
    thawing: float,
    shares: Sequence[float],
) -> Panful | NoCard:
    """What follows with the sugar, for what is kept of fruit and water."""
    kitchen = scenario.kitchen
    kept, sugar = recipe.kept_share * card.kg, recipe.sugar_per_kg * card.kg
    water, fruit_solids = kept * recipe.liquid_per_kg, least_solids(scenario, recipe)
    jam = solids.jam_kg(kept, fruit_solids, sugar, recipe.final_solids)
    filled = fill(jam * (1 - recipe.pan_loss), [size.jar_kg for size in recipe.sizes], shares)
    jars = sum(filled)
    water_off = kept + water + sugar - jam
    reboils = fewest_reboils(kitchen.first_set_share, kitchen.keep_share) if recipe.tested else 0
    if why := _unfit(kitchen, filled, water_off, reboils):
        return NoCard(why)
    assert reboils is not None
    start_c = kitchen.room_c if card.soften else kitchen.chiller.celsius
    heat_up = _heat_up(kitchen, ring, kept, fruit_solids, sugar, water, start_c)
    first = 0.0 if card.soften else thawing
    dissolve = up_to_five(max(recipe.dissolve_minutes, first + heat_up))
    boiling = up_to_five(
        kitchen.measured.boil_factor
        * boil.boil_minutes(water_off, ring.kw, ring.efficiency, pan.diameter_cm, kitchen.altitude_m)
    )
    reboil = up_to_five(kitchen.reboil_minutes) if recipe.tested else 0
    on_boil = boiling + reboils * reboil
    if on_boil > recipe.longest_boil_minutes:
        return NoCard(f"{on_boil} min of boiling; at most {recipe.longest_boil_minutes}")
    set_test = up_to_five(kitchen.set_test_minutes) if recipe.tested else 0
    stand = up_to_five(kitchen.stand_minutes) if recipe.tested else 0
    pot_up = up_to_five(60 * jars / (kitchen.fillers * kitchen.jars_per_filler_hour))
    offset = kitchen.measured.set_offset_k
    set_c = setpoint.set_temperature_c(recipe.final_solids, kitchen.altitude_m, offset_k=offset)
    cooled = set_test + stand + pot_up
    cools = partial(
        cooling.temperature_after,
        start_c=set_c, kg=jam, diameter_cm=pan.diameter_cm, room_c=kitchen.room_c, covered=True,
    )  # fmt: skip
    last_c = cools(cooled)
    early = 0 if kitchen.keep_hot else reboils * (reboil + set_test)
    stand_by = next(
        early - waits
        for waits in range(early, -1, -STEP)
        if waits == 0 or cools(cooled + waits) >= kitchen.potting_limit_c
    )
    if last_c < kitchen.potting_limit_c - FORGIVEN:
        return NoCard(f"last jar at {last_c:.1f} °C; at least {kitchen.potting_limit_c} °C")
    return replace(
        card,
        filled=filled,
        wash_jars=up_to_five(60 * jars / pace) if (pace := kitchen.oven.wash_jars_per_hour) else 0,
        sugar_kg=up(sugar, 0.1) / 10,
        lemons=up(card.kg * recipe.lemons_per_kg),
        pectin_g=up(card.kg * recipe.pectin_g_per_kg),
        set_temperature_c=set_c,
        last_jar_c=last_c,
        dissolve=dissolve,
        boil=boiling,
        set_test=set_test,
        reboils=reboils,
        reboil=reboil,
        stand=stand,
        stand_by=stand_by,
        pot_up=pot_up,
        energy=_energy(kitchen, ring, card.soften + dissolve + on_boil),
    )


def _heat_up(
    kitchen: Kitchen, ring: Ring, kg: float, fruit_solids: float, sugar: float, water: float, start_c: float
) -> float:
    """Minutes until all that is in the pan is at the boiling point of water here."""
    boils_at = setpoint.water_boils_c(kitchen.altitude_m)
    return boil.heat_up_minutes(kg, fruit_solids, sugar, water, start_c, boils_at, ring.kw, ring.efficiency)


def _energy(kitchen: Kitchen, ring: Ring, minutes: int) -> float:
    """Money for so many minutes of a ring's heat, to 0.01."""
    price = kitchen.gas_price_kwh if ring.heat == Heat.GAS else kitchen.electricity_price_kwh
    return cents(ring.kw * minutes / 60 * price)


def fill(kg: float, sizes: Sequence[float], shares: Sequence[float]) -> tuple[int, ...]:
    """Jars of each size, filled in order: its share of the kg, and what filled no jar of those before it."""
    full: list[int] = []
    for size, so_far in zip(sizes, accumulate(shares), strict=True):
        in_jars = sum(n * kg_each for n, kg_each in zip(full, sizes, strict=False))
        full.append(down((so_far * kg - in_jars) / size))
    return tuple(full)


def kept(kitchen: Kitchen, filled: Sequence[int]) -> tuple[int, ...]:
    """Jars of each size for sale: without scrap and the retained sample, of the last that has any."""
    sound = [down(n * (1 - kitchen.scrap_share)) for n in filled]
    sample = min(kitchen.sample_jars, sum(sound))
    while sample > 0:
        last = max(place for place, n in enumerate(sound) if n > 0)
        sound[last] -= 1
        sample -= 1
    return tuple(sound)


def _unfit(kitchen: Kitchen, filled: Sequence[int], water_off: float, reboils: int | None) -> str:
    """Why a panful cannot be cooked whatever its minutes; empty if it can."""
    jars, racks = sum(filled), kitchen.rack_jars
    faults = (
        (jars < 1, "not one full jar"),
        (sum(kept(kitchen, filled)) < 1, "no jar for sale beside its sample and scrap"),
        (racks is not None and jars > racks, f"{jars} jars; the racks hold {racks}"),
        (jars > kitchen.oven.jars, f"{jars} jars; the jar oven holds {kitchen.oven.jars}"),
        (water_off < 0, "the mix is thicker than the final solids before it boils"),
        (reboils is None, "no number of re-boils reaches the share of batches to keep minutes for"),
    )
    return next((why for bad, why in faults if bad), "")


def least_solids(scenario: Scenario, recipe: Recipe) -> float:
    """The lowest solids of the fruit over all mixes of a recipe, a fraction of mass."""
    values = [scenario.fruit(share.fruit).solids for share in recipe.fruits]
    return solids.mix_extreme([(share.low, share.high) for share in recipe.fruits], values, largest=False)


def most_prepare_hours(scenario: Scenario, recipe: Recipe) -> float:
    """The most person-hours over all mixes to prepare 1 kg, as prepared."""
    fruits = [scenario.fruit(share.fruit) for share in recipe.fruits]
    hours = [1 / (1 - fruit.preparation_loss) / fruit.prepare_kg_per_hour for fruit in fruits]
    return solids.mix_extreme([(share.low, share.high) for share in recipe.fruits], hours, largest=True)


def fewest_reboils(first_set_share: float, keep_share: float) -> int | None:
    """The fewest re-boils after which ``keep_share`` of batches have set; None if no number does."""
    unset = 1 - first_set_share
    for reboils in range(MOST_REBOILS + 1):
        if 1 - unset ** (reboils + 1) >= keep_share - 1e-9:
            return reboils
    return None
