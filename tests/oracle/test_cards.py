"""Cards: every number of every card is the one worked out a second time from the rule book."""

from __future__ import annotations

import pytest

from scheduler.cards import MONEY, BatchCard, Cards
from scheduler.making import make_cards
from tests.kitchens import random_kitchen
from tests.oracle.cards_by_book import BookCard, book_cards, pan_kind, ring_kind
from tests.oracle.day_limits import fits


@pytest.mark.parametrize("seed", range(60))
def test_cards_are_those_of_the_book(seed: int) -> None:
    situation = random_kitchen(seed)
    cards = make_cards(situation)
    kitchen = situation.scenario.kitchen
    book = {by_book(card) for card in book_cards(situation.scenario) if fits(card, kitchen)}
    assert {by_program(cards, card) for card in cards.batches} == book


def test_most_kitchens_have_cards() -> None:
    empty = [seed for seed in range(60) if not book_cards(random_kitchen(seed).scenario)]
    assert len(empty) < 15


def by_book(card: BookCard) -> tuple[object, ...]:
    return (
        card.recipe, pan_kind(card.pan), ring_kind(card.ring), card.step, card.from_freezer, card.units,
        card.jars, card.sugar, card.lemons, card.pectin, tuple(sorted(card.pieces())), card.dissolve,
        card.boil, card.set_test, card.reboils and card.reboil, card.reboils, card.stand, card.pot,
        card.wash, card.energy, round(card.last_jar_c, 3),
    )  # fmt: skip


def by_program(cards: Cards, card: BatchCard) -> tuple[object, ...]:
    return (
        cards.scenario.recipes[card.recipe].name, pan_kind(cards.pans[card.pan].pan),
        ring_kind(cards.rings[card.ring].ring), card.fill_step, card.from_freezer, card.kg, card.jars,
        card.sugar, card.lemons, card.pectin, tuple(sorted(card.pieces)), card.dissolve, card.boil,
        card.test, card.reboils and card.reboil, card.reboils, card.stand, card.pot, card.wash,
        card.energy * 100 / MONEY, round(card.last_jar_c, 3),
    )  # fmt: skip
