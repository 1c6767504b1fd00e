"""The finished preserve of a recipe: what law and safety look at, and what they warn of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from scheduler.domain.fruit import Fruit
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.languages import say, spoken
from scheduler.law.composition import Composition, Ingredient, Role, plain
from scheduler.law.life import life_of, months_after
from scheduler.law.safety import Concern, Process, concerns
from scheduler.physics import solids
from scheduler.physics.composition import Pectin, known_fruits, weak_in_pectin

LEMON_GRAMS = 45.0
"""Juice of one lemon; common practice, from memory."""


def usual_shares(recipe: Recipe) -> tuple[float, ...]:
    """Shares of the prepared fruit (fractions, adding to 1), in the recipe's order: each band filled to the
    same part of its width."""
    low = sum(share.low for share in recipe.fruits)
    width = sum(share.high - share.low for share in recipe.fruits)
    part = (1 - low) / width if width else 0.0
    return tuple(share.low + part * (share.high - share.low) for share in recipe.fruits)


def jam_kg_per_kg(recipe: Recipe, fruits: Mapping[str, Fruit]) -> float:
    """Kg of finished preserve from a kg of prepared fruit at the usual shares; ``fruits`` by name.

    What a bag or sieve lets through is as sweet as the fruit and water that go into it.
    """
    sugars = [fruits[share.fruit].solids for share in recipe.fruits]
    fruit_solids = solids.mix_of(usual_shares(recipe), sugars)
    kept = recipe.kept_share
    return float(solids.jam_kg(kept, fruit_solids, recipe.sugar_per_kg, recipe.final_solids))


def into_pan_kg_per_kg(recipe: Recipe) -> float:
    """Kg that go into the last boil for a kg of prepared fruit: fruit and liquid, as far as kept, sugar."""
    return recipe.kept_share * (1 + recipe.liquid_per_kg) + recipe.sugar_per_kg


def composition_of(recipe: Recipe, fruits: Mapping[str, Fruit]) -> Composition:
    """Grams at mixing for 100 g of finished preserve, at the usual shares of its fruits.

    Things of one name and role are added up, so that the juice of lemons and lemon juice are one. Of fruit
    that is strained, fruit and water count as far as they pass, each by its share of the whole: so an act
    counts juice without the water in it (Council Directive 2001/113/EC, Annex I, read; see
    ``Composition.fruit_at_least`` for the stricter count). The pulp of fruit butter counts alike.
    Raises ValueError where less goes in than comes out.
    """
    per_kg = 100 / jam_kg_per_kg(recipe, fruits)
    added: dict[tuple[Role, str], Ingredient] = {}
    for name, kg, role, allergen in _into_the_pan(recipe):
        if kg > 0:
            item = Ingredient(name, kg * per_kg, role, allergen)
            same = added.get((role, plain(name)))
            if same:
                item = Ingredient(same.name, same.grams + item.grams, role, same.allergen or allergen)
            added[role, plain(name)] = item
    held_back = recipe.water_per_kg * (1 - recipe.kept_share) if recipe.kind.of_juice else 0.0
    return Composition(
        recipe.kind, tuple(added.values()), recipe.final_solids, water_left_out=held_back * per_kg
    )


def process_of(recipe: Recipe, composition: Composition, potted: date) -> Process:
    """How jars of a recipe potted on a day are made and how long they keep."""
    months = recipe.best_before_months or life_of(composition).usual
    return Process(
        recipe.ph, recipe.judged_by, potted, months_after(potted, months), recipe.heat_step, recipe.approver
    )


def concerns_of(recipe: Recipe, fruits: Mapping[str, Fruit], potted: date) -> list[Concern]:
    """What the guards of food safety say of a recipe potted on a day; errors as for ``composition_of``."""
    composition = composition_of(recipe, fruits)
    return concerns(composition, process_of(recipe, composition, potted))


def warnings_of(scenario: Scenario) -> tuple[str, ...]:
    """What a cook should know of each recipe though nothing is refused, potted on the first day."""
    fruits = {fruit.name: fruit for fruit in scenario.fruits}
    told = []
    for recipe in scenario.recipes:
        found = [_said(c) for c in concerns_of(recipe, fruits, scenario.start) if not c.refused]
        found += _doubts_of_set(composition_of(recipe, fruits))
        told += [f"{recipe.name}. {warning}" for warning in found]
    return tuple(told)


def _said(concern: Concern) -> str:
    """A warning of the guards, in the reader's words."""
    told = say(
        "Take care: {what} is {value}; allowed: {allowed}.",
        what=spoken(concern.what),
        value=spoken(concern.value),
        allowed=spoken(concern.allowed),
    )
    read = say("read") if concern.verified else say("not verified")
    return f"{told} {spoken(concern.why)} {spoken(concern.way_out)}. ({spoken(concern.source)}; {read})"


def _into_the_pan(recipe: Recipe) -> Iterator[tuple[str, float, Role, bool]]:
    """Name, kg for a kg of prepared fruit, role, and whether it is an allergen."""
    kept = recipe.kept_share
    for share, part in zip(recipe.fruits, usual_shares(recipe), strict=True):
        yield share.fruit, kept * part, Role.FRUIT, False
    yield "sugar", recipe.sugar_per_kg, Role.SUGAR, False
    yield "water", kept * recipe.water_per_kg, Role.WATER, False
    yield "lemon juice", recipe.lemons_per_kg * LEMON_GRAMS / 1000, Role.ACID, False
    yield "pectin", recipe.pectin_g_per_kg / 1000, Role.PECTIN, False
    for other in recipe.others:
        yield other.name, other.g_per_kg / 1000, other.role, other.allergen


def _doubts_of_set(composition: Composition) -> Iterator[str]:
    """Fruit too low in pectin for what must set, or of unknown pectin, where no acid or pectin helps."""
    if not composition.kind.sets or composition.grams(Role.ACID) or composition.grams(Role.PECTIN):
        return
    known = {plain(name): name for name in known_fruits()}
    of_all = composition.grams(Role.FRUIT)
    shares = {plain(fruit.name): fruit.grams / of_all for fruit in composition.fruits}
    weak = weak_in_pectin({known[name]: share for name, share in shares.items() if name in known})
    if weak:
        yield _weak(*weak)
    unknown = [fruit.name for fruit in composition.fruits if plain(fruit.name) not in known]
    if unknown:
        yield say(
            "Take care: the pectin of {fruits} is unknown; try the set in a small batch.",
            fruits=say(" and ").join(unknown),
        )


def _weak(pectin: Pectin, fruits: Sequence[str]) -> str:
    """What helps fruit with little or medium pectin to set."""
    named = say(" and ").join(fruits)
    if pectin is Pectin.LOW:
        return say(
            "Take care: {fruits}: low in pectin, needs lemon juice, pectin, or a quarter of high-pectin "
            "fruit such as redcurrant or gooseberry.",
            fruits=named,
        )
    return say(
        "Take care: {fruits}: may need lemon juice, pectin, or a quarter of high-pectin fruit such as "
        "redcurrant or gooseberry where it is very ripe.",
        fruits=named,
    )
