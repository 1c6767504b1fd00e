"""Days: the timetable's answer is the one that PyJobShop gives to the same random day.

PyJobShop is a scheduling library from outside this project; the days and their cards are read from the
rule book a second time. What its model leaves out is said in ``day_pyjobshop``.
"""

from __future__ import annotations

from functools import cache
from itertools import count, islice

import pytest

from scheduler.cards import Cards
from scheduler.making import make_cards
from scheduler.model.day import DayWork, Presence, presence
from scheduler.solve.place import Verdict, place
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind
from tests.oracle.day_limits import Turn
from tests.oracle.day_pyjobshop import KitchenDay, can_be_placed, random_day

DAYS = list(islice((seed for seed in count() if random_day(seed) is not None), 40))


@cache
def answer(seed: int) -> bool:
    day = random_day(seed)
    assert day is not None
    return can_be_placed(day)


@pytest.mark.parametrize("seed", DAYS)
def test_a_day_is_placed_exactly_if_the_oracle_places_it(seed: int) -> None:
    day = random_day(seed)
    assert day is not None
    found = place(*as_work(day))
    assert found.verdict is (Verdict.PLACED if answer(seed) else Verdict.REFUTED)


def test_the_days_are_a_fair_mixture() -> None:
    feasible = sum(map(answer, DAYS))
    assert 10 <= feasible <= 30


def as_work(day: KitchenDay) -> tuple[Cards, DayWork]:
    """The day in the program's own terms."""
    cards = make_cards(day.situation)
    batches = tuple(sorted(index_of(cards, card) for card in day.batches))
    people = tuple(somebody(cards, turn) for _, turn in day.people)
    return cards, DayWork(batches, day.freezing, people)


def index_of(cards: Cards, wanted: BookCard) -> int:
    """Where the program keeps the card of the same recipe, pan, ring, step and freezer."""
    matches = [
        index
        for index, card in enumerate(cards.batches)
        if cards.scenario.recipes[card.recipe].name == wanted.recipe
        and pan_kind(cards.pans[card.pan].pan) == pan_kind(wanted.pan)
        and ring_kind(cards.rings[card.ring].ring) == ring_kind(wanted.ring)
        and (card.fill_step, card.from_freezer) == (wanted.step, wanted.from_freezer)
    ]
    (only,) = matches
    return only


def somebody(cards: Cards, turn: Turn) -> Presence:
    """The program's row for the same shift and overtime."""
    (staff,) = [s for s in cards.staff if s.shift == turn.shift and s.leave == turn.leaves]
    return presence(cards, staff)
