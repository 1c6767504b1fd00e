"""The card of one panful, worked out afresh from the rule book: kg, jars, store, minutes, temperatures."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scheduler.check.farm import FORGIVEN
from scheduler.domain.kitchen import Heat, Kitchen, Pan, Ring
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.physics import boil, cooling, setpoint, solids

LEAST_KG = 0.5
"""Less than this is too little to boil without burning (common practice, no source)."""

MOST_REBOILS = 99


@dataclass(frozen=True, slots=True)
class NoCard:
    """There is no card, and why."""

    why: str


@dataclass(frozen=True, slots=True)
class Panful:
    """What a batch must be: kg of prepared fruit, jars, store, °C, minutes of each stage, money of energy."""

    kg: float
    jars: int
    sugar_kg: float
    lemons: int
    pectin_g: int
    set_temperature_c: float
    last_jar_c: float
    prepare: int
    dissolve: int
    boil: int
    set_test: int
    reboils: int
    reboil: int
    stand: int
    pot_up: int
    wash: int
    energy: float


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
    scenario: Scenario, recipe: Recipe, pan: Pan, ring: Ring, step: float, from_freezer: bool
) -> Panful | NoCard:
    """The card of (recipe, pan, ring, fill step, from_freezer), or why there is none.

    What the physics refuses (a value out of its range) has no card either.
    """
    try:
        return _card(scenario, recipe, pan, ring, step, from_freezer)
    except ValueError as refused:
        return NoCard(str(refused))


def _card(
    scenario: Scenario, recipe: Recipe, pan: Pan, ring: Ring, step: float, from_freezer: bool
) -> Panful | NoCard:
    kitchen = scenario.kitchen
    kg = batch_kg(recipe, pan, step)
    if kg < LEAST_KG - FORGIVEN:
        return NoCard(f"{kg:.1f} kg is too little to boil; at least {LEAST_KG} kg")
    sugar, water = kg * recipe.sugar_per_kg, kg * recipe.water_per_kg
    fruit_solids = least_solids(scenario, recipe)
    jam = solids.jam_kg(kg, fruit_solids, sugar, recipe.final_solids)
    jars = down(jam * (1 - recipe.pan_loss) / recipe.jar_kg)
    water_off = kg + sugar + water - jam
    reboils = fewest_reboils(kitchen.first_set_share, kitchen.keep_share)
    if why := _unfit(kitchen, jars, water_off, reboils):
        return NoCard(why)
    assert reboils is not None
    boils_at = setpoint.water_boils_c(kitchen.altitude_m)
    start_c = kitchen.chiller.celsius
    heat_up = boil.heat_up_minutes(
        kg, fruit_solids, sugar, water, start_c, boils_at, ring.kw, ring.efficiency
    )
    dissolve = up_to_five(max(recipe.dissolve_minutes, heat_up))
    boiling = up_to_five(
        kitchen.measured.boil_factor
        * boil.boil_minutes(water_off, ring.kw, ring.efficiency, pan.diameter_cm, kitchen.altitude_m)
    )
    reboil, set_test = up_to_five(kitchen.reboil_minutes), up_to_five(kitchen.set_test_minutes)
    stand = up_to_five(kitchen.stand_minutes)
    pot_up = up_to_five(60 * jars / (kitchen.fillers * kitchen.jars_per_filler_hour))
    on_heat = boiling + reboils * reboil
    if on_heat > recipe.longest_boil_minutes:
        return NoCard(f"{on_heat} min of boiling; at most {recipe.longest_boil_minutes}")
    offset = kitchen.measured.set_offset_k
    set_c = setpoint.set_temperature_c(recipe.final_solids, kitchen.altitude_m, offset_k=offset)
    last_c = cooling.temperature_after(
        set_test + stand + pot_up, set_c, jam, pan.diameter_cm, kitchen.room_c, covered=True
    )
    if last_c < kitchen.potting_limit_c - FORGIVEN:
        return NoCard(f"last jar at {last_c:.1f} °C; at least {kitchen.potting_limit_c} °C")
    price = kitchen.gas_price_kwh if ring.heat == Heat.GAS else kitchen.electricity_price_kwh
    return Panful(
        kg=kg,
        jars=jars,
        sugar_kg=up(sugar, 0.1) / 10,
        lemons=up(kg * recipe.lemons_per_kg),
        pectin_g=up(kg * recipe.pectin_g_per_kg),
        set_temperature_c=set_c,
        last_jar_c=last_c,
        prepare=0 if from_freezer else up_to_five(60 * most_prepare_hours(scenario, recipe) * kg),
        dissolve=dissolve,
        boil=boiling,
        set_test=set_test,
        reboils=reboils,
        reboil=reboil,
        stand=stand,
        pot_up=pot_up,
        wash=up_to_five(kitchen.wash_minutes),
        energy=cents(ring.kw * (dissolve + on_heat) / 60 * price),
    )


def _unfit(kitchen: Kitchen, jars: int, water_off: float, reboils: int | None) -> str:
    """Why a panful cannot be cooked whatever its minutes; empty if it can."""
    if jars < 1:
        return "not one full jar"
    if jars > kitchen.oven.jars:
        return f"{jars} jars; the jar oven holds {kitchen.oven.jars}"
    if water_off < 0:
        return "the mix is thicker than the final solids before it boils"
    if reboils is None:
        return "no number of re-boils reaches the share of batches to keep minutes for"
    return ""


def batch_kg(recipe: Recipe, pan: Pan, step: float) -> float:
    """kg of prepared fruit in a pan filled to ``step`` of its safe fill, to 0.1 kg."""
    largest = pan.litres * pan.fill / solids.mix_litres(1, recipe.sugar_per_kg, recipe.water_per_kg)
    return down(step * largest, 0.1) / 10


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
