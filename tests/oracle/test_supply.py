"""Kitchens with limits on electricity and gas: days, cuts, allocations and plans agree with the oracles."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import count, islice
from random import Random

import pytest

from scheduler.auditor import audit
from scheduler.domain.kitchen import Kitchen, Supply
from scheduler.domain.scenario import Situation
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.planner import make_plan
from scheduler.solve.place import Verdict, place
from scheduler.solve.settings import Settings
from tests.kitchens import random_kitchen
from tests.kitchens_of_kinds import kitchen_of_kinds
from tests.oracle.brute_force import least_spoiled
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind
from tests.oracle.day_limits import head, room_watts
from tests.oracle.day_pyjobshop import KitchenDay, can_be_placed, random_day
from tests.oracle.test_allocation import OF_KINDS, assert_agree, least
from tests.oracle.test_brute_force import one_cook
from tests.oracle.test_cuts import assert_cut_holds
from tests.oracle.test_day import as_work
from tests.supplies import with_supply


@cache
def day_of(seed: int) -> KitchenDay | None:
    """A random day of a kitchen with limits: batches that fit pans and rings all at once, on a day cut
    short. Every third kitchen makes more than jam.
    """
    day = random_day(seed, kinds=seed % 3 == 0, supply=True)
    if day is None:
        return None
    batches: list[BookCard] = []
    for card in day.batches:
        if has_places(day.kitchen, [*batches, card]):
            batches.append(card)
    longest = max(head(card, day.kitchen) + card.chain + card.wash for card in batches)
    opens, later = day.kitchen.open, Random(f"close {seed}").choice((15, 30, 60, 120))
    kitchen = replace(day.kitchen, close=min(day.kitchen.close, opens + longest + later))
    rules = replace(day.situation.scenario.work_rules, breaks=())
    scenario = replace(day.situation.scenario, kitchen=kitchen, work_rules=rules)
    people = tuple(
        (person, replace(turn, breaks=(), break_minutes=0))
        for person, turn in day.people
        if turn.shift.start < kitchen.close  # who comes later is of no use
    )
    situation = replace(day.situation, scenario=scenario)
    return KitchenDay(situation, tuple(batches), day.freezing, people)


def has_places(kitchen: Kitchen, batches: list[BookCard]) -> bool:
    """Whether there is a pan and a ring for each of the batches."""
    pans, rings = [*map(pan_kind, kitchen.pans)], [*map(ring_kind, kitchen.rings)]
    taken = Counter(pan_kind(card.pan) for card in batches), Counter(ring_kind(card.ring) for card in batches)
    return all(n <= pans.count(kind) for kind, n in taken[0].items()) and all(
        n <= rings.count(kind) for kind, n in taken[1].items()
    )


def draws_too_much_at_once(seed: int) -> bool:
    """Whether the two strongest rings of the day, of gas or of electricity, are more than it can feed."""
    day = day_of(seed)
    if day is None:
        return False
    potting = any(card.jars for card in day.batches)
    for of_gas in (False, True):
        room = room_watts(day.kitchen, of_gas, potting)
        watts = sorted(card.watts for card in day.batches if card.on_gas == of_gas)
        if room is not None and sum(watts[-2:]) > room >= max(watts, default=0):
            return True
    return False


DAYS = list(islice((seed for seed in count() if draws_too_much_at_once(seed)), 40))


@cache
def answer(seed: int) -> bool:
    day = day_of(seed)
    assert day is not None
    return can_be_placed(day)


def unlimited(seed: int) -> KitchenDay:
    """The same day with no limit on gas or electricity."""
    day = day_of(seed)
    assert day is not None
    scenario = day.situation.scenario
    free = replace(scenario, kitchen=replace(scenario.kitchen, supply=Supply()))
    return replace(day, situation=replace(day.situation, scenario=free))


@pytest.mark.parametrize("seed", DAYS)
def test_a_day_is_placed_exactly_if_the_oracle_places_it(seed: int) -> None:
    day = day_of(seed)
    assert day is not None
    assert place(*as_work(day)).verdict is (Verdict.PLACED if answer(seed) else Verdict.REFUTED)


def test_the_days_are_a_fair_mixture_and_power_refuses_some() -> None:
    assert sum(not answer(seed) and can_be_placed(unlimited(seed)) for seed in DAYS) >= 5
    assert sum(answer(seed) for seed in DAYS) >= 10


@pytest.mark.parametrize("seed", DAYS)
def test_nothing_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    if answer(seed):
        return
    day = day_of(seed)
    assert day is not None
    assert_cut_holds(*as_work(day), seed)


def limited(seed: int, kinds: bool) -> Situation:
    kitchen_of = kitchen_of_kinds if kinds else random_kitchen
    days = (3, 3) if kinds else (2, 2)
    return with_supply(seed, kitchen_of(seed, days=days, fruits=(1, 2), picks_kg=16.0))


ALLOCATIONS = [(seed, False) for seed in range(16)] + [(seed, True) for seed in OF_KINDS[:8]]


@pytest.mark.parametrize(("seed", "kinds"), ALLOCATIONS)
def test_spoiled_and_short_are_those_of_the_oracle(seed: int, kinds: bool) -> None:
    assert_agree(limited(seed, kinds))


def test_the_limits_cost_something_in_some_of_these_kitchens() -> None:
    dearer = 0
    for seed, kinds in ALLOCATIONS[:16]:
        some, free = limited(seed, kinds), random_kitchen(seed, days=(2, 2), fruits=(1, 2), picks_kg=16.0)
        spoiled = [least(AllocationModel(make_cards(each)), "spoiled") for each in (some, free)]
        dearer += spoiled[0] > spoiled[1] + 1
    assert dearer >= 3


@pytest.mark.parametrize("seed", [4, 10, 18, 19, 22, 25, 35, 41])
def test_the_joined_optimum_is_that_of_trying_every_plan(seed: int) -> None:
    situation = with_supply(seed, one_cook(seed))
    spoiled = make_plan(situation).goals[0]
    assert spoiled.best == pytest.approx(spoiled.bound, abs=0.011)
    assert spoiled.best == pytest.approx(least_spoiled(situation) / 1000, abs=0.011)


@pytest.mark.parametrize("seed", range(6))
def test_a_plan_and_the_habit_within_the_limits_have_no_finding(seed: int) -> None:
    situation = limited(seed, kinds=seed % 2 == 0)
    for settings in (Settings(seconds=20.0, workers=1), Settings(method="habit")):
        assert list(audit(situation, make_plan(situation, settings))) == []
