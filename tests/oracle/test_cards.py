"""Cards: every number of every card is the one worked out a second time from the rule book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from random import Random

import pytest

from scheduler.cards import MONEY, BatchCard, Cards
from scheduler.check.panful import Panful, panful
from scheduler.check.sizes import juice_kg, kg_of_step, largest_kg, parts_of
from scheduler.domain.kitchen import DripStands, Pan
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario, Situation
from scheduler.law.composition import Kind
from scheduler.making import make_cards
from scheduler.plan import Part
from tests.kitchens import random_kitchen
from tests.oracle.cards_by_book import (
    BookCard,
    book_cards,
    equal_pieces,
    pan_kind,
    pan_kinds,
    ring_kind,
    ring_kinds,
)
from tests.oracle.day_limits import fits

SEEDS = range(60)


@pytest.mark.parametrize("seed", SEEDS)
def test_cards_are_those_of_the_book(seed: int) -> None:
    situation = random_kitchen(seed)
    cards = make_cards(situation)
    kitchen = situation.scenario.kitchen
    book = {by_book(card) for card in book_cards(situation.scenario) if fits(card, kitchen)}
    assert {by_program(cards, card) for card in cards.batches} == book


@pytest.mark.parametrize("seed", SEEDS)
def test_cards_of_the_auditor_are_those_of_the_book(seed: int) -> None:
    situation = kitchen_of_kinds(seed)
    book = {by_book(card) for card in book_cards(situation.scenario)}
    assert by_auditor(situation) == book


def test_most_kitchens_have_cards() -> None:
    empty = [seed for seed in SEEDS if not book_cards(random_kitchen(seed).scenario)]
    assert len(empty) < 15


def test_many_kitchens_have_cards_of_each_kind_and_part() -> None:
    seen: Counter[tuple[Kind, Part]] = Counter()
    for seed in SEEDS:
        scenario = kitchen_of_kinds(seed).scenario
        seen.update({(scenario.recipe(card.recipe).kind, card.part) for card in book_cards(scenario)})
    whole = {(kind, Part.WHOLE) for kind in (Kind.JAM, Kind.MARMALADE, Kind.BUTTER, Kind.CHUTNEY)}
    juice = {(kind, part) for kind in (Kind.JELLY, Kind.CORDIAL) for part in (Part.SOFTEN, Part.BOIL)}
    assert seen.keys() == whole | juice
    assert min(seen.values()) >= 5, seen


def kitchen_of_kinds(seed: int) -> Situation:
    """A random kitchen that makes more than jam, with drip stands that are tight now and then."""
    rng, situation = Random(f"kinds {seed}"), random_kitchen(seed)
    scenario = situation.scenario
    kitchen = replace(scenario.kitchen, drip_stands=DripStands(2, rng.choice((3.0, 6.0, 30.0))))
    recipes = tuple(_of_a_kind(rng, recipe) for recipe in scenario.recipes)
    return replace(situation, scenario=replace(scenario, kitchen=kitchen, recipes=recipes))


def _of_a_kind(rng: Random, recipe: Recipe) -> Recipe:
    """The recipe as another kind of preserve; with half the sugar where half of the fruit stays behind."""
    kind = rng.choice(list(Kind))
    strained = kind in (Kind.JELLY, Kind.CORDIAL, Kind.BUTTER)
    return replace(
        recipe,
        kind=kind,
        soften_minutes=rng.randint(5, 25) if strained else rng.choice((0, 5, 10)),
        strained_share=rng.choice((0.5, 0.6, 0.8)) if strained else None,
        strain_kg_per_hour=rng.choice((20.0, 60.0)),
        water_per_kg=rng.choice((0.1, 0.2, 0.4)),
        sugar_per_kg=rng.choice((0.4, 0.5, 0.6)) if strained else recipe.sugar_per_kg,
        final_solids=rng.choice((0.55, 0.6, 0.65)),
        longest_boil_minutes=rng.choice((60, 90)),
    )


def by_book(card: BookCard) -> tuple[object, ...]:
    return (
        card.recipe, card.part, pan_kind(card.pan), ring_kind(card.ring), round(card.step, 6),
        card.from_freezer, card.units, card.jars, card.sugar, card.lemons, card.pectin,
        tuple(sorted(card.pieces())), card.soften, card.strain, card.dissolve, card.boil, card.set_test,
        card.reboils and card.reboil, card.reboils, card.stand, card.pot, card.wash, card.energy,
        round(card.last_jar_c, 3),
    )  # fmt: skip


def by_program(cards: Cards, card: BatchCard) -> tuple[object, ...]:
    return (
        cards.scenario.recipes[card.recipe].name, Part.WHOLE, pan_kind(cards.pans[card.pan].pan),
        ring_kind(cards.rings[card.ring].ring), round(card.fill_step, 6), card.from_freezer, card.kg,
        card.jars, card.sugar, card.lemons, card.pectin, tuple(sorted(card.pieces)), 0, 0, card.dissolve,
        card.boil, card.test, card.reboils and card.reboil, card.reboils, card.stand, card.pot, card.wash,
        card.energy * 100 / MONEY, round(card.last_jar_c, 3),
    )  # fmt: skip


def by_auditor(situation: Situation) -> set[tuple[object, ...]]:
    """All cards that the auditor allows, of one pan and one ring of each kind."""
    scenario, kitchen = situation.scenario, situation.scenario.kitchen
    found: set[tuple[object, ...]] = set()
    for recipe, pan, ring, frozen in product(
        scenario.recipes, pan_kinds(kitchen), ring_kinds(kitchen), (False, True)
    ):
        if pan.diameter_cm > ring.largest_pan_cm or (frozen and recipe.frozen_share < 1):
            continue
        for part, step, kg in sizes(scenario, recipe, pan, frozen):
            card = panful(scenario, recipe, part, pan, ring, kg, frozen)
            if isinstance(card, Panful):
                found.add((
                    recipe.name, part, pan_kind(pan), ring_kind(ring), round(step, 6), frozen,
                    round(10 * card.kg), card.jars, round(10 * card.sugar_kg), card.lemons, card.pectin_g,
                    tuple(equal_pieces(card.prepare)[::-1]), card.soften, card.strain, card.dissolve,
                    card.boil, card.set_test, card.reboils and card.reboil, card.reboils, card.stand,
                    card.pot_up, card.wash, round(100 * card.energy), round(card.last_jar_c, 3),
                ))  # fmt: skip
    return found


def sizes(scenario: Scenario, recipe: Recipe, pan: Pan, frozen: bool) -> Iterator[tuple[Part, float, float]]:
    """Part, share of the pan and kg of each size of batch, as the auditor has them."""
    if recipe.two_days:
        full = largest_kg(recipe, Part.BOIL, pan)
        yield from ((Part.BOIL, kg / full, kg) for kg in juice_kg(scenario, recipe, frozen) if kg <= full)
    part = parts_of(recipe)[0]
    for step in scenario.kitchen.fill_steps:
        yield part, step, kg_of_step(scenario.kitchen, recipe, part, pan, step)
