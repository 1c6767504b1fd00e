"""Dates of goods, late deliveries and fruit that stains, against what was written a second time.

The program limits what is used in stretches of days; the oracle keeps a stock of each date and takes from it
day by day, and the auditor uses the soonest date first.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from scheduler.auditor import audit
from scheduler.domain.scenario import Scenario, Situation
from scheduler.making import make_cards
from scheduler.plan_rows import Part
from scheduler.planner import make_plan
from scheduler.solve.settings import Settings
from tests.kitchens_of_goods import kitchen_of_goods, undated
from tests.kitchens_of_kinds import kitchen_of_kinds
from tests.oracle.allocation_highs import Allocation
from tests.oracle.cards_by_book import book_cards
from tests.oracle.day_limits import modes
from tests.oracle.test_allocation import assert_agree_in_money_too
from tests.oracle.test_cards import by_auditor, by_book, by_program

SEEDS = (5, 8, 24, 28, 38, 40, 43, 45, 48, 49, 51, 64, 66, 68, 74, 75, 77, 80, 87, 101, 102, 104, 137, 142)
"""Those of the first 150 on which dates or late deliveries bind, but for a few."""
ALONE = Settings(seconds=20.0, workers=1)
BY_HABIT = replace(ALONE, method="habit")


@cache
def drawn(seed: int) -> Situation:
    return kitchen_of_goods(seed, days=(2, 4), fruits=(1, 2), pans=(1, 1), picks_kg=12.0)


def best(scenario: Scenario) -> tuple[float, float, float]:
    """The least of spoiled and of short, each by itself, and of money with the fewest jars short."""
    program = Allocation(scenario)
    short, _ = program.least("short", {})
    return program.least("spoiled", {})[0], short, program.least("money", {"short": short})[0]


@pytest.mark.parametrize("seed", SEEDS)
def test_goods_with_dates_agree_with_the_oracle_in_money_too(seed: int) -> None:
    situation = drawn(seed)
    assert_agree_in_money_too(situation)


@pytest.mark.parametrize("seed", SEEDS)
def test_dates_or_late_deliveries_cost_something_on_each_of_these_kitchens(seed: int) -> None:
    scenario = drawn(seed).scenario
    at_once = tuple(replace(row, at=None) for row in scenario.deliveries)
    for_ever = replace(undated(scenario), deliveries=at_once)
    assert any(
        with_rules > without + 5 for with_rules, without in zip(best(scenario), best(for_ever), strict=True)
    )


@pytest.mark.parametrize("seed", range(10))
def test_cards_are_those_of_the_book_and_of_the_auditor(seed: int) -> None:
    situation = drawn(seed)
    cards = make_cards(situation)
    assert {by_program(cards, card) for card in cards.batches} == {
        by_book(card) for card in modes(situation.scenario)
    }
    assert by_auditor(situation) == {by_book(card) for card in book_cards(situation.scenario)}


def test_pans_are_washed_in_full_after_fruit_that_stains_on_several_of_these_farms() -> None:
    longer = 0
    for seed in range(10):
        scenario = drawn(seed).scenario
        longer += any(card.wash > scenario.kitchen.wash_minutes for card in book_cards(scenario))
    assert longer >= 3


@pytest.mark.parametrize("seed", SEEDS)
def test_the_habit_keeps_the_dates(seed: int) -> None:
    """A habit that found no plan would raise."""
    situation = drawn(seed)
    assert list(audit(situation, make_plan(situation, BY_HABIT))) == []


@pytest.mark.parametrize("seed", SEEDS[:12:2])
def test_plans_keep_the_dates(seed: int) -> None:
    situation = drawn(seed)
    assert list(audit(situation, make_plan(situation, ALONE))) == []


@pytest.mark.parametrize("seed", [6, 14, 23])
def test_the_habit_softens_no_more_than_it_has_goods_for_tomorrow(seed: int) -> None:
    """All but a little of each good is to be used on the first day, and juice is boiled on the next."""
    situation = kitchen_of_kinds(seed, days=(2, 3), fruits=(1, 1), picks_kg=16.0)
    farm, kept = situation.scenario, (4.0, 20.0, 200.0, 12.0, 12.0)
    goods = tuple(
        replace(good, on_hand=500.0, lead_days=30, opened=500.0 - units, opened_use_by=farm.start)
        for good, units in zip(farm.goods, kept, strict=True)
    )
    stands = replace(farm.kitchen, drip_stands=replace(farm.kitchen.drip_stands, count=4))
    situation = replace(situation, scenario=replace(farm, goods=goods, kitchen=stands, deliveries=()))
    plan = make_plan(situation, BY_HABIT)
    assert list(audit(situation, plan)) == []
    assert any(batch.part is Part.BOIL for batch in plan.batches)
