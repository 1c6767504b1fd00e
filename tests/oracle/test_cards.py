"""Cards: every number of every card is the one worked out a second time from the rule book."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from itertools import product

import pytest

from scheduler.auditor.panful import Panful, kept, panful
from scheduler.auditor.sizes import juice_kg, kg_of_step, largest_kg, parts_of
from scheduler.cards import MONEY, BatchCard, Cards
from scheduler.domain.kitchen import Pan
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario, Situation
from scheduler.law.composition import Kind
from scheduler.making import make_cards
from scheduler.plan_rows import Part
from tests.kitchens import random_kitchen
from tests.kitchens_of_kinds import kitchen_of_jars, kitchen_of_kinds
from tests.oracle.cards_by_book import (
    BookCard,
    book_cards,
    equal_pieces,
    pan_kind,
    pan_kinds,
    ring_kind,
    ring_kinds,
)
from tests.oracle.day_limits import modes

SEEDS = range(60)


@pytest.mark.parametrize("kitchen", [random_kitchen, kitchen_of_kinds, kitchen_of_jars])
@pytest.mark.parametrize("seed", SEEDS)
def test_cards_are_those_of_the_book(seed: int, kitchen: Callable[[int], Situation]) -> None:
    situation = kitchen(seed)
    cards = make_cards(situation)
    assert {by_program(cards, card) for card in cards.batches} == {
        by_book(card) for card in modes(situation.scenario)
    }


@pytest.mark.parametrize("kitchen", [kitchen_of_kinds, kitchen_of_jars])
@pytest.mark.parametrize("seed", SEEDS)
def test_cards_of_the_auditor_are_those_of_the_book(seed: int, kitchen: Callable[[int], Situation]) -> None:
    situation = kitchen(seed)
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


def by_book(card: BookCard) -> tuple[object, ...]:
    return (
        card.recipe, card.part, pan_kind(card.pan), ring_kind(card.ring), round(card.step, 3),
        card.from_freezer, card.units, card.filled, card.sugar, card.lemons, card.pectin,
        tuple(sorted(card.pieces())), card.soften, card.strain, card.dissolve, card.boil, card.set_test,
        card.reboils and card.reboil, card.reboils, card.stand, card.stand_by, card.pot, card.wash,
        card.energy, round(card.last_jar_c, 3), card.wash_jars, card.for_sale,
    )  # fmt: skip


def by_program(cards: Cards, card: BatchCard) -> tuple[object, ...]:
    return (
        cards.scenario.recipes[card.recipe].name, card.part, pan_kind(cards.pans[card.pan].pan),
        ring_kind(cards.rings[card.ring].ring), round(card.fill_step, 3), card.from_freezer, card.kg,
        card.filled, card.sugar, card.lemons, card.pectin, tuple(sorted(card.pieces)), card.soften,
        card.strain, card.dissolve, card.boil, card.test, card.reboils and card.reboil, card.reboils,
        card.stand, card.standby, card.pot, card.wash,
        card.energy * 100 / MONEY, round(card.last_jar_c, 3), card.wash_jars, card.kept,
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
            ways = [panful(scenario, recipe, part, pan, ring, kg, frozen, way) for way in recipe.fill_shares]
            for card in [way for way in ways if isinstance(way, Panful)]:
                found.add((
                    recipe.name, part, pan_kind(pan), ring_kind(ring), round(step, 3), frozen,
                    round(10 * card.kg), card.filled, round(10 * card.sugar_kg), card.lemons, card.pectin_g,
                    tuple(equal_pieces(card.prepare)[::-1]), card.soften, card.strain, card.dissolve,
                    card.boil, card.set_test, card.reboils and card.reboil, card.reboils, card.stand,
                    card.stand_by, card.pot_up, card.wash, round(100 * card.energy),
                    round(card.last_jar_c, 3), card.wash_jars, kept(kitchen, card.filled),
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
