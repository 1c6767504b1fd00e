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


OF_KINDS = list(islice((seed for seed in count() if random_day(seed, kinds=True) is not None), 40))


@cache
def answer(seed: int, kinds: bool = False) -> bool:
    day = random_day(seed, kinds)
    assert day is not None
    return can_be_placed(day)


@pytest.mark.parametrize(("seed", "kinds"), [(n, False) for n in DAYS] + [(n, True) for n in OF_KINDS])
def test_a_day_is_placed_exactly_if_the_oracle_places_it(seed: int, kinds: bool) -> None:
    day = random_day(seed, kinds)
    assert day is not None
    found = place(*as_work(day))
    assert found.verdict is (Verdict.PLACED if answer(seed, kinds) else Verdict.REFUTED)


@pytest.mark.parametrize(("days", "kinds"), [(DAYS, False), (OF_KINDS, True)])
def test_the_days_are_a_fair_mixture(days: list[int], kinds: bool) -> None:
    feasible = sum(answer(seed, kinds) for seed in days)
    assert 10 <= feasible <= 30


def test_some_days_have_somebody_to_stand_by() -> None:
    drawn = [random_day(seed) for seed in DAYS]
    assert sum(any(card.stand_by for card in day.batches) for day in drawn if day) >= 5


def as_work(day: KitchenDay) -> tuple[Cards, DayWork]:
    """The day in the program's own terms."""
    cards = make_cards(day.situation)
    batches = tuple(sorted(index_of(cards, card) for card in day.batches))
    people = tuple(somebody(cards, turn) for _, turn in day.people)
    return cards, DayWork(batches, day.freezing, people, (), day.labelling, day.taking_out)


def index_of(cards: Cards, wanted: BookCard) -> int:
    """Where the program keeps the card of the same recipe, pan, ring, step and freezer."""
    matches = [
        index
        for index, card in enumerate(cards.batches)
        if cards.scenario.recipes[card.recipe].name == wanted.recipe
        and pan_kind(cards.pans[card.pan].pan) == pan_kind(wanted.pan)
        and ring_kind(cards.rings[card.ring].ring) == ring_kind(wanted.ring)
        and (card.part, card.kg, card.from_freezer) == (wanted.part, wanted.units, wanted.from_freezer)
    ]
    (only,) = matches
    return only


def somebody(cards: Cards, turn: Turn) -> Presence:
    """The program's row for the same shift and overtime."""
    (staff,) = [s for s in cards.staff if s.shift == turn.shift and s.leave == turn.leaves]
    return presence(cards, staff)
