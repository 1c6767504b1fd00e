"""Closed times, the clean down and the full wash: days, allocations, cards and whole plans of kitchens with
them agree with what was written a second time from the rule book."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.cards import Cards
from scheduler.domain.days import Closure
from scheduler.making import make_cards
from scheduler.model.day import DayWork
from scheduler.planner import make_plan
from scheduler.solve.cuts import covers, reduce
from scheduler.solve.place import Verdict, place
from scheduler.solve.settings import Clock
from tests.kitchens import random_kitchen
from tests.kitchens_by_day import closed_now_and_then
from tests.kitchens_of_kinds import kitchen_of_kinds
from tests.oracle.brute_force import least_spoiled
from tests.oracle.cards_by_book import book_cards
from tests.oracle.day_limits import modes
from tests.oracle.day_pyjobshop import DrawnDays, KitchenDay, can_be_placed, random_day
from tests.oracle.test_allocation import assert_agree
from tests.oracle.test_brute_force import one_cook
from tests.oracle.test_cards import by_auditor, by_book, by_program
from tests.oracle.test_cuts import assert_cut_holds
from tests.oracle.test_day import as_work

SMALL = {"fruits": (1, 2), "picks_kg": 16.0}


def closed_day(seed: int) -> KitchenDay | None:
    """A random day of three batches at most, closed at times or cleaned down; None if neither, or no card."""
    day = random_day(seed)
    if day is None:
        return None
    changed = closed_now_and_then(seed, day.situation, whole_days=False).scenario
    closed = with_rules(day, changed.closures, changed.kitchen.clean_down_minutes)
    scenario = closed.situation.scenario
    bound = scenario.closures or scenario.kitchen.clean_down_minutes
    return closed if bound and set(closed.batches) <= set(modes(scenario)) else None


def with_rules(day: KitchenDay, closures: tuple[Closure, ...], clean_down_minutes: int) -> KitchenDay:
    """Three batches of a day at most, in a kitchen that is closed at these times and cleaned down."""
    scenario = day.situation.scenario
    kitchen = replace(scenario.kitchen, clean_down_minutes=clean_down_minutes)
    situation = replace(day.situation, scenario=replace(scenario, kitchen=kitchen, closures=closures))
    return replace(day, situation=situation, batches=day.batches[:3])


DRAWN = DrawnDays(closed_day, 40)
DAYS, drawn, answer = DRAWN.seeds, DRAWN.day, DRAWN.answer


def work_of(day: KitchenDay) -> tuple[Cards, DayWork]:
    """The day in the program's own terms."""
    cards, work = as_work(day)
    return cards, replace(work, closed=cards.closed[0])


@pytest.mark.parametrize("seed", DAYS)
def test_a_day_is_placed_exactly_if_the_oracle_places_it(seed: int) -> None:
    found = place(*work_of(drawn(seed)))
    assert found.verdict is (Verdict.PLACED if answer(seed) else Verdict.REFUTED)


def test_the_days_are_a_fair_mixture_decided_now_and_then_by_closed_times_and_by_the_clean_down() -> None:
    days = {seed: drawn(seed) for seed in DAYS}
    refused = [seed for seed in DAYS if not answer(seed)]
    assert 8 <= len(refused) <= 32
    by_closed = by_clean = 0
    for seed in refused:
        scenario = days[seed].situation.scenario
        by_closed += can_be_placed(with_rules(days[seed], (), scenario.kitchen.clean_down_minutes))
        by_clean += can_be_placed(with_rules(days[seed], scenario.closures, 0))
    assert by_closed >= 2
    assert by_clean >= 2


@pytest.mark.parametrize("seed", DAYS)
def test_nothing_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    if answer(seed):
        return
    assert_cut_holds(*work_of(drawn(seed)), seed)


def test_a_cut_that_needs_its_closed_times_forbids_no_day_that_is_open_for_longer() -> None:
    narrow = 0
    for seed in (seed for seed in DAYS if not answer(seed)):
        cards, work = work_of(drawn(seed))
        cut = reduce(cards, work, Clock(60.0, lambda: False))
        narrow += bool(cut.closed)
        assert covers(cut, replace(work, closed=())) is not bool(cut.closed)
    assert narrow >= 2


@pytest.mark.parametrize("seed", range(16))
def test_spoiled_and_short_are_those_of_the_oracle(seed: int) -> None:
    assert_agree(closed_now_and_then(seed, random_kitchen(seed, days=(2, 3), **SMALL)))


@pytest.mark.parametrize("seed", [5, 6, 13, 19, 22, 43])
def test_kitchens_that_make_more_than_jam_agree_with_the_oracle(seed: int) -> None:
    assert_agree(closed_now_and_then(seed, kitchen_of_kinds(seed, days=(3, 3), **SMALL)))


@pytest.mark.parametrize("seed", range(20))
def test_cards_are_those_of_the_book_and_of_the_auditor(seed: int) -> None:
    situation = closed_now_and_then(seed, kitchen_of_kinds(seed))
    cards = make_cards(situation)
    assert {by_program(cards, card) for card in cards.batches} == {
        by_book(card) for card in modes(situation.scenario)
    }
    assert by_auditor(situation) == {by_book(card) for card in book_cards(situation.scenario)}


def test_pans_are_washed_in_full_after_an_allergen_on_several_of_these_farms() -> None:
    longer = 0
    for seed in range(20):
        scenario = closed_now_and_then(seed, kitchen_of_kinds(seed)).scenario
        longer += any(card.wash > scenario.kitchen.wash_minutes for card in book_cards(scenario))
    assert longer >= 4


@pytest.mark.parametrize("seed", [4, 9, 10, 18, 19, 20, 22, 25, 35, 41])
def test_the_joined_optimum_is_that_of_trying_every_plan(seed: int) -> None:
    situation = closed_now_and_then(seed, one_cook(seed))
    spoiled = make_plan(situation).goals[0]
    assert spoiled.best == pytest.approx(spoiled.bound, abs=0.011)
    assert spoiled.best == pytest.approx(least_spoiled(situation) / 1000, abs=0.011)
