"""One panful: a recipe in a pan on a ring at a fill step, as a card of whole numbers or refused by a rule."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from scheduler.cards import (
    FORGIVEN,
    SCALE,
    BatchCard,
    cents,
    head_minutes,
    minutes_up,
    rounded_down,
    rounded_up,
)
from scheduler.domain.fruit import Fruit
from scheduler.domain.kitchen import BLOCK, STEP, Heat, Kitchen, Pan, Ring, Thaw
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.languages import measures, message, say, spoken
from scheduler.physics import boil, cooling, setpoint, settest, solids
from scheduler.physics.pan import largest_fruit_kg
from scheduler.plan_rows import Part

LEAST_BATCH_KG = 0.5  # too little to boil without burning; common practice, no source


class Rule(StrEnum):
    """Rules that refuse a panful."""

    PAN_TOO_WIDE = "pan too wide for the ring"
    TOO_LITTLE = "too little fruit to boil"
    NO_JAR = "not one full jar"
    NONE_FOR_SALE = "no jar left for sale"
    OVEN_FULL = "more jars than the oven holds"
    RACKS_FULL = "more jars than the racks hold"
    TOO_MUCH_JUICE = "more juice than the pan holds"
    TOO_THICK = "mix too thick before it boils"
    BOILS_TOO_LONG = "boils longer than the recipe allows"
    LAST_JAR_COLD = "last jar too cold"
    DAY_TOO_SHORT = "longer than the kitchen is open"
    STOVE_TOO_LONG = "longer at the stove than anybody may be"


_MEANT: dict[Rule, tuple[str, str, str]] = {
    Rule.PAN_TOO_WIDE: (
        message("pan across"),
        message("at most {limit}"),
        message("Use a smaller pan or a wider ring."),
    ),
    Rule.TOO_LITTLE: (
        message("fruit"),
        message("at least {limit}, or it burns"),
        message("Use a larger pan or fill it further."),
    ),
    Rule.NO_JAR: (
        message("full jars"),
        message("at least {limit}"),
        message("Make a larger batch or use smaller jars."),
    ),
    Rule.NONE_FOR_SALE: (
        message("jars without sample and scrap"),
        message("at least {limit}"),
        message("Make a larger batch or use smaller jars."),
    ),
    Rule.RACKS_FULL: (
        message("jars"),
        message("at most {limit} on the racks"),
        message("Make a smaller batch, use larger jars or more racks."),
    ),
    Rule.OVEN_FULL: (
        message("jars"),
        message("at most {limit} in the oven"),
        message("Make a smaller batch or use larger jars."),
    ),
    Rule.TOO_MUCH_JUICE: (
        message("fruit of the juice"),
        message("at most {limit}"),
        message("Use a larger pan or less fruit."),
    ),
    Rule.TOO_THICK: (
        message("water to drive off"),
        message("at least {limit}"),
        message("Use less sugar, or boil further."),
    ),
    Rule.BOILS_TOO_LONG: (
        message("boil with its re-boils"),
        message("at most {limit}, the recipe's longest"),
        message("Make a smaller batch, or use a stronger ring or a wider pan."),
    ),
    Rule.LAST_JAR_COLD: (
        message("last jar"),
        message("at least {limit}"),
        message(
            "Put more hands to filling or stand it for less time; a small batch cools while it "
            "stands, a large one while it is potted."
        ),
    ),
    Rule.DAY_TOO_SHORT: (
        message("minutes from opening"),
        message("at most {limit}"),
        message("Make a smaller batch or open longer."),
    ),
    Rule.STOVE_TOO_LONG: (
        message("longest stage"),
        message("at most {limit} in a row at the stove"),
        message("Make a smaller batch, or raise longest_stove_minutes if those who cook can bear it."),
    ),
}
_UNITS = {Rule.PAN_TOO_WIDE: "cm", Rule.TOO_LITTLE: "kg", Rule.TOO_MUCH_JUICE: "kg",
          Rule.TOO_THICK: "kg", Rule.LAST_JAR_COLD: measures.CELSIUS,
          Rule.BOILS_TOO_LONG: "min", Rule.STOVE_TOO_LONG: "min"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Refusal:
    """The rule that refuses a panful, its value and what it allows (cm, kg, jars, minutes or °C)."""

    rule: Rule
    value: float
    limit: float

    def __str__(self) -> str:
        what, allowed, way_out = map(spoken, _MEANT[self.rule])
        value, allowed = self._said(self.value), allowed.format(limit=self._said(self.limit))
        told = say("{what} {value}; allowed: {allowed}.", what=what, value=value, allowed=allowed)
        rule = spoken(self.rule)
        return f"{rule[0].upper()}{rule[1:]}: {told} {way_out}"

    def _said(self, amount: float) -> str:
        unit = _UNITS.get(self.rule, "")
        heat = unit == measures.CELSIUS
        return measures.degrees(amount, None) if heat else measures.quantity(amount, unit)


@dataclass(frozen=True, slots=True)
class Panful:
    """A panful worked out, and the rule that refuses it, if any.

    ``jam_kg`` is the finished preserve before the pan's loss, ``water_off_kg`` what the boil drives off,
    ``boil_minutes`` how long that takes before the card rounds it up.
    """

    card: BatchCard
    jam_kg: float
    water_off_kg: float
    boil_minutes: float
    refusal: Refusal | None


def safe_card(found: Panful | Refusal) -> BatchCard | None:
    """The card of a panful that no rule refuses."""
    return found.card if isinstance(found, Panful) and found.refusal is None else None


def panful(
    scenario: Scenario,
    recipe: Recipe,
    pan: Pan,
    ring: Ring,
    step: float,
    from_freezer: bool,
    index: tuple[int, int, int] = (0, 0, 0),
    part: Part = Part.WHOLE,
    shares: tuple[float, ...] | None = None,
) -> Panful | Refusal:
    """A panful with its minutes, safe or not; only a refusal where there is nothing to cook at all.

    ``step`` is a share of the pan's safe fill (above 0, at most 1). ``index`` is that of recipe, pan and
    ring in the cards. ``part`` softens fruit for juice, or does all of a recipe; see ``juice_panful``.
    ``shares`` go into the recipe's sizes, by its first way to fill them where there are none.
    """
    units = rounded_down(step * full_kg(recipe, pan, part), 1 / SCALE)
    if part is Part.SOFTEN:
        dripping = scenario.kitchen.drip_stands.litres / solids.mix_litres(1.0, 0.0, recipe.water_per_kg)
        units = min(units, rounded_down(dripping, 1 / SCALE))
    blank = BatchCard(*index, step, from_freezer, units, part)
    return _panful(blank, scenario, recipe, pan, ring, shares or recipe.fill_shares[0])


def juice_panful(
    scenario: Scenario,
    recipe: Recipe,
    pan: Pan,
    ring: Ring,
    units: int,
    from_freezer: bool,
    index: tuple[int, int, int] = (0, 0, 0),
    shares: tuple[float, ...] | None = None,
) -> Panful | Refusal:
    """The panful that boils the juice of ``units`` of softened fruit (0.1 kg); as ``panful`` otherwise."""
    room = full_kg(recipe, pan, Part.BOIL)
    if units / SCALE > room + FORGIVEN:
        return Refusal(Rule.TOO_MUCH_JUICE, units / SCALE, room)
    blank = BatchCard(*index, round(units / SCALE / room, 3), from_freezer, units, Part.BOIL)
    return _panful(blank, scenario, recipe, pan, ring, shares or recipe.fill_shares[0])


def full_kg(recipe: Recipe, pan: Pan, part: Part = Part.WHOLE) -> float:
    """Prepared fruit (kg) of a pan at its safe fill, not yet rounded down.

    What fills the pan is fruit and water while they soften, what is kept of them with the sugar later.
    """
    most = []
    if recipe.soften_minutes and part is not Part.BOIL:
        most.append(largest_fruit_kg(pan.litres, pan.fill, 0.0, recipe.liquid_per_kg))
    if part is not Part.SOFTEN:
        sugar, water = recipe.sugar_per_kg, recipe.liquid_per_kg
        most.append(largest_fruit_kg(pan.litres, pan.fill, sugar, water, recipe.kept_share))
    return min(most)


def _panful(
    blank: BatchCard, scenario: Scenario, recipe: Recipe, pan: Pan, ring: Ring, shares: tuple[float, ...]
) -> Panful | Refusal:
    kitchen = scenario.kitchen
    if pan.diameter_cm > ring.largest_pan_cm + FORGIVEN:
        return Refusal(Rule.PAN_TOO_WIDE, pan.diameter_cm, ring.largest_pan_cm)
    if blank.kg / SCALE < LEAST_BATCH_KG - FORGIVEN:
        return Refusal(Rule.TOO_LITTLE, blank.kg / SCALE, LEAST_BATCH_KG)
    watts, gas = rounded_up(1000 * ring.kw), ring.heat is Heat.GAS
    wash = minutes_up(kitchen.wash_after(recipe.leaves_traces))
    card = replace(blank, wash=wash, gas_watts=watts * gas, electric_watts=watts * (not gas))
    if blank.part is not Part.BOIL:
        card = _softened(card, scenario, recipe, ring)
    if blank.part is Part.SOFTEN:
        card = replace(card, energy=_energy(card, ring, kitchen))
        return Panful(card, 0.0, 0.0, 0.0, _refusal(card, recipe, scenario))
    return _boiled(card, scenario, recipe, pan, ring, shares)


def _softened(card: BatchCard, scenario: Scenario, recipe: Recipe, ring: Ring) -> BatchCard:
    """The card with its minutes of preparing, softening and straining."""
    kitchen, kg = scenario.kitchen, card.kg / SCALE
    bands = [(share.low, share.high) for share in recipe.fruits]
    fruits = [scenario.fruit(share.fruit) for share in recipe.fruits]
    soften = strain = 0
    if recipe.soften_minutes:
        fruit_solids = solids.mix_extreme(bands, [fruit.solids for fruit in fruits], largest=False)
        heat_up = boil.heat_up_minutes(
            kg, fruit_solids, 0.0, kg * recipe.liquid_per_kg, kitchen.chiller.celsius,
            setpoint.water_boils_c(kitchen.altitude_m), ring.kw, ring.efficiency,
        )  # fmt: skip
        soften = minutes_up(
            recipe.soften_minutes + _thaw_minutes(card, scenario, recipe, ring, fruit_solids) + heat_up
        )
    if recipe.strained_share is not None:
        strain = minutes_up(60 * kg * (1 + recipe.water_per_kg) / recipe.strain_kg_per_hour)
    pieces = () if card.from_freezer else pieces_of(_prepare_minutes(kg, bands, fruits))
    return replace(card, pieces=pieces, soften=soften, strain=strain)


def _boiled(
    card: BatchCard, scenario: Scenario, recipe: Recipe, pan: Pan, ring: Ring, shares: tuple[float, ...]
) -> Panful | Refusal:
    """The panful boiled with its sugar, potted; what is kept of fruit and water is as sweet as they are."""
    kitchen, kg = scenario.kitchen, card.kg / SCALE
    fruit_solids = solids.mix_extreme(
        [(share.low, share.high) for share in recipe.fruits],
        [scenario.fruit(share.fruit).solids for share in recipe.fruits],
        largest=False,
    )
    strained, sugar = kg * recipe.kept_share, kg * recipe.sugar_per_kg
    water = strained * recipe.liquid_per_kg
    jam = solids.jam_kg(strained, fruit_solids, sugar, recipe.final_solids)
    filled = solids.share_out(jam, recipe.pan_loss, [size.jar_kg for size in recipe.sizes], shares)
    kept = for_sale(filled, kitchen)
    jars = sum(filled)
    water_off = solids.water_off_kg(strained, fruit_solids, sugar, recipe.final_solids, water)
    if nothing := _nothing_to_cook(jars, sum(kept), water_off, kitchen):
        return nothing
    heat_up = boil.heat_up_minutes(
        strained, fruit_solids, sugar, water, kitchen.room_c if card.soften else kitchen.chiller.celsius,
        setpoint.water_boils_c(kitchen.altitude_m), ring.kw, ring.efficiency,
    )  # fmt: skip
    if not card.soften:
        heat_up += _thaw_minutes(card, scenario, recipe, ring, fruit_solids)
    boiling = kitchen.measured.boil_factor * boil.boil_minutes(
        water_off, ring.kw, ring.efficiency, pan.diameter_cm, kitchen.altitude_m
    )
    offset = kitchen.measured.set_offset_k
    card = replace(
        card,
        filled=filled, kept=kept, wash_jars=_wash_jars(jars, kitchen), sugar=rounded_up(sugar, 1 / SCALE),
        lemons=rounded_up(kg * recipe.lemons_per_kg), pectin=rounded_up(kg * recipe.pectin_g_per_kg),
        dissolve=minutes_up(max(recipe.dissolve_minutes, heat_up)), boil=minutes_up(boiling),
        pot=minutes_up(60 * jars / (kitchen.fillers * kitchen.jars_per_filler_hour)),
        set_c=setpoint.set_temperature_c(recipe.final_solids, kitchen.altitude_m, offset_k=offset),
    )  # fmt: skip
    if recipe.tested:
        reboils = int(settest.reboils_within(kitchen.keep_share, kitchen.first_set_share))
        card = replace(
            card, test=minutes_up(kitchen.set_test_minutes), reboil=minutes_up(kitchen.reboil_minutes),
            reboils=reboils, stand=minutes_up(kitchen.stand_minutes),
        )  # fmt: skip

    def last_jar(waiting: int) -> float:
        minutes = card.test + waiting + card.stand + card.pot
        return float(
            cooling.temperature_after(minutes, card.set_c, jam, pan.diameter_cm, kitchen.room_c, covered=True)
        )

    again = card.reboils * (card.reboil + card.test)
    waits = range(0, again + STEP, STEP)
    hot = [minutes for minutes in waits if kitchen.keep_hot or last_jar(minutes) >= kitchen.potting_limit_c]
    standby = again - max(hot, default=0)
    energy = _energy(card, ring, kitchen)
    card = replace(card, energy=energy, standby=standby, last_jar_c=last_jar(0))
    return Panful(card, jam, water_off, boiling, _refusal(card, recipe, scenario))


def pieces_of(minutes: int) -> tuple[int, ...]:
    """Split preparing into the fewest pieces of at most a block, as equal as steps allow."""
    count = math.ceil(minutes / BLOCK)
    if not count:
        return ()
    steps, more = divmod(minutes // STEP, count)
    return tuple(STEP * (steps + (i < more)) for i in range(count))


def _thaw_minutes(
    card: BatchCard, scenario: Scenario, recipe: Recipe, ring: Ring, fruit_solids: float
) -> float:
    """Minutes to thaw, in the pan, as much of the fruit as may be frozen; 0 where it was thawed before."""
    kitchen = scenario.kitchen
    share = 1.0 if card.from_freezer else recipe.frozen_share
    if kitchen.thaw is Thaw.OVERNIGHT or card.part is Part.BOIL or not share:
        return 0.0
    return float(
        boil.heat_up_minutes(
            share * card.kg / SCALE, fruit_solids, 0.0, 0.0, kitchen.freezer.celsius, kitchen.chiller.celsius,
            ring.kw, ring.efficiency,
        )
    )  # fmt: skip


def _wash_jars(jars: int, kitchen: Kitchen) -> int:
    pace = kitchen.oven.wash_jars_per_hour
    return 0 if pace is None else minutes_up(60 * jars / pace)


def for_sale(filled: tuple[int, ...], kitchen: Kitchen) -> tuple[int, ...]:
    """Jars of each size without scrap and the retained sample, which is of the last sizes that have any."""
    sound = [rounded_down(n * (1 - kitchen.scrap_share)) for n in filled]
    sample = kitchen.sample_jars
    for size in reversed(range(len(sound))):
        taken = min(sample, sound[size])
        sound[size] -= taken
        sample -= taken
    return tuple(sound)


def _nothing_to_cook(jars: int, kept: int, water_off: float, kitchen: Kitchen) -> Refusal | None:
    if water_off < 0:
        return Refusal(Rule.TOO_THICK, water_off, 0)
    if jars < 1:
        return Refusal(Rule.NO_JAR, jars, 1)
    if kept < 1:
        return Refusal(Rule.NONE_FOR_SALE, kept, 1)
    if jars > kitchen.oven.jars:
        return Refusal(Rule.OVEN_FULL, jars, kitchen.oven.jars)
    if kitchen.rack_jars is not None and jars > kitchen.rack_jars:
        return Refusal(Rule.RACKS_FULL, jars, kitchen.rack_jars)
    return None


def _refusal(card: BatchCard, recipe: Recipe, scenario: Scenario) -> Refusal | None:
    kitchen, longest = scenario.kitchen, scenario.work_rules.longest_stove_minutes
    on_boil = card.boil + card.reboils * card.reboil
    if on_boil > recipe.longest_boil_minutes:
        return Refusal(Rule.BOILS_TOO_LONG, on_boil, recipe.longest_boil_minutes)
    if card.jars and card.last_jar_c < kitchen.potting_limit_c:
        return Refusal(Rule.LAST_JAR_COLD, card.last_jar_c, kitchen.potting_limit_c)
    needed = head_minutes(card, kitchen) + card.chain + card.wash + kitchen.clean_down_minutes
    if needed > kitchen.close - kitchen.open:
        return Refusal(Rule.DAY_TOO_SHORT, needed, kitchen.close - kitchen.open)
    stage = max(card.soften, card.strain, card.dissolve, card.boil, card.test, card.reboil)
    if longest is not None and stage > longest:
        return Refusal(Rule.STOVE_TOO_LONG, stage, longest)
    return None


def _prepare_minutes(kg: float, bands: list[tuple[float, float]], fruits: list[Fruit]) -> int:
    hours_per_kg = [1 / (1 - fruit.preparation_loss) / fruit.prepare_kg_per_hour for fruit in fruits]
    return minutes_up(60 * kg * solids.mix_extreme(bands, hours_per_kg, largest=True))


def _energy(card: BatchCard, ring: Ring, kitchen: Kitchen) -> int:
    gas = ring.heat is Heat.GAS
    price = kitchen.gas_price_kwh if gas else kitchen.electricity_price_kwh
    return cents(ring.kw * card.heated / 60 * price)
