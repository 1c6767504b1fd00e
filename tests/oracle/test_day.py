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

PLAIN, KINDS, JARS = (), ("kinds",), ("jars",)
"""What the kitchen of a day does besides; see ``random_day``."""


def days_of(*besides: str) -> list[int]:
    """Seeds of the first forty days of such kitchens."""
    return list(islice((seed for seed in count() if drawn(seed, *besides) is not None), 40))


def drawn(seed: int, *besides: str) -> KitchenDay | None:
    return random_day(seed, **dict.fromkeys(besides, True))


OF = {besides: days_of(*besides) for besides in (PLAIN, KINDS, JARS)}
DAYS = OF[PLAIN]


@cache
def answer(seed: int, *besides: str) -> bool:
    day = drawn(seed, *besides)
    assert day is not None
    return can_be_placed(day)


@pytest.mark.parametrize(("besides", "seed"), [(each, seed) for each, seeds in OF.items() for seed in seeds])
def test_a_day_is_placed_exactly_if_the_oracle_places_it(besides: tuple[str, ...], seed: int) -> None:
    day = drawn(seed, *besides)
    assert day is not None
    found = place(*as_work(day))
    assert found.verdict is (Verdict.PLACED if answer(seed, *besides) else Verdict.REFUTED)


@pytest.mark.parametrize("besides", OF)
def test_the_days_are_a_fair_mixture(besides: tuple[str, ...]) -> None:
    feasible = sum(answer(seed, *besides) for seed in OF[besides])
    assert 10 <= feasible <= 30


def test_many_days_wash_jars_of_two_sizes() -> None:
    batches = [card for seed in OF[JARS] if (day := drawn(seed, *JARS)) for card in day.batches]
    assert sum(card.wash_jars > 0 for card in batches) >= 20
    assert sum(len(card.filled) > 1 for card in batches) >= 20


def test_some_days_have_somebody_to_stand_by() -> None:
    days = [random_day(seed) for seed in DAYS]
    assert sum(any(card.stand_by for card in day.batches) for day in days if day) >= 5


def as_work(day: KitchenDay) -> tuple[Cards, DayWork]:
    """The day in the program's own terms."""
    cards = make_cards(day.situation)
    batches = tuple(sorted(index_of(cards, card) for card in day.batches))
    people = tuple(somebody(cards, turn) for _, turn in day.people)
    return cards, DayWork(batches, day.freezing, people, (), day.labelling, day.taking_out)


def index_of(cards: Cards, wanted: BookCard) -> int:
    """Where the program keeps the card of the same recipe, pan, ring, step, freezer and jars."""
    matches = [
        index
        for index, card in enumerate(cards.batches)
        if cards.scenario.recipes[card.recipe].name == wanted.recipe
        and pan_kind(cards.pans[card.pan].pan) == pan_kind(wanted.pan)
        and ring_kind(cards.rings[card.ring].ring) == ring_kind(wanted.ring)
        and (card.part, card.kg, card.from_freezer) == (wanted.part, wanted.units, wanted.from_freezer)
        and card.filled == wanted.filled
    ]
    (only,) = matches
    return only


def somebody(cards: Cards, turn: Turn) -> Presence:
    """The program's row for the same shift and overtime."""
    (staff,) = [s for s in cards.staff if s.shift == turn.shift and s.leave == turn.leaves]
    return presence(cards, staff)
