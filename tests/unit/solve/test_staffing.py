"""Who is in, by a relaxation: as many minutes as shifts and hours allow, on the days that it asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from scheduler.cards import Cards
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.solve.staffing import Staff, allowed, nearest
from tests.kitchens import random_kitchen

SEEDS = range(8)


@cache
def model(seed: int, hours_week: int | None = None) -> AllocationModel:
    """Of a kitchen of four days; everybody has so many hours a week, or those that were drawn."""
    situation = random_kitchen(seed, days=(4, 4), people=(2, 3))
    if hours_week is not None:
        people = tuple(replace(person, hours_week=hours_week) for person in situation.scenario.people)
        situation = replace(situation, scenario=replace(situation.scenario, people=people))
    return AllocationModel(make_cards(situation))


def each_way(cards: Cards, person: int) -> Iterator[Staff]:
    """Every choice of one shift or none a day that a person may work."""
    by_day: list[list[int | None]] = [[None] for _ in range(cards.days)]
    for i, card in enumerate(cards.staff):
        if card.person == person:
            by_day[card.day].append(i)
    for some in product(*by_day):
        staff = tuple(i for i in some if i is not None)
        if allowed(cards, staff):
            yield staff


def minutes(cards: Cards, staff: Staff) -> int:
    return sum(cards.staff[i].present for i in staff)


@pytest.mark.parametrize("hours_week", [None, 11, 17])
@pytest.mark.parametrize("seed", SEEDS)
def test_no_choice_that_is_allowed_has_more_minutes(seed: int, hours_week: int | None) -> None:
    x = model(seed, hours_week).x
    cards = x.cards
    staff = nearest(x, [0.0] * 100_000)
    assert allowed(cards, staff)
    people = {card.person for card in cards.staff}
    most = sum(max(minutes(cards, way) for way in each_way(cards, person)) for person in people)
    assert minutes(cards, staff) == most


def test_a_day_that_the_relaxation_asks_for_has_no_fewer_minutes_and_some_have_more() -> None:
    gained = 0
    for seed in SEEDS:
        x = model(seed, 11).x
        cards = x.cards
        usual = nearest(x, [0.0] * 100_000)
        for day in range(cards.days):
            relaxed = [0.0] * 100_000
            for var, card in zip(x.staff, cards.staff, strict=True):
                relaxed[var.index] = float(card.day == day)
            of_day = [
                minutes(cards, tuple(i for i in staff if cards.staff[i].day == day))
                for staff in (usual, nearest(x, relaxed))
            ]
            assert of_day[0] <= of_day[1]
            gained += of_day[0] < of_day[1]
    assert gained > 5


def test_what_is_given_stays_as_it_is() -> None:
    x = model(0).x
    last, first = len(x.staff) - 1, 0
    given = {x.staff[first].index: (1.0, 1.0), x.staff[last].index: (0.0, 0.0)}
    staff = nearest(x, [0.0] * 100_000, given)
    assert first in staff
    assert last not in staff
