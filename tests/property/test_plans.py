"""Every random kitchen gives a plan without findings, or a proof that there is none."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.auditor import audit
from scheduler.cards import MONEY
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanInTime, NoPlanPossible
from scheduler.making import make_cards
from scheduler.model import mip
from scheduler.model.allocation import AllocationModel
from scheduler.planner import make_plan
from scheduler.solve.settings import Settings
from tests.kitchens import random_kitchen, tiny_kitchen
from tests.kitchens_of_chores import drawing_down, with_chores
from tests.kitchens_of_goods import kitchen_of_goods
from tests.kitchens_of_kinds import kitchen_of_freezers, kitchen_of_jars, trading_kitchen

SEEDS = st.integers(min_value=0, max_value=10_000)
QUICKLY = Settings(seconds=4.0, workers=1)
"""A plan must be sound whenever its search is stopped."""


@settings(max_examples=5)
@given(seed=SEEDS)
def test_a_plan_without_findings_or_a_proof_that_none_exists(seed: int) -> None:
    assert_sound(random_kitchen(seed, days=(2, 3), fruits=(1, 2), picks_kg=16.0))


@settings(max_examples=5)
@given(seed=SEEDS)
def test_a_plan_of_a_kitchen_that_trades_has_no_findings(seed: int) -> None:
    assert_sound(trading_kitchen(seed, days=(2, 3), fruits=(1, 2), picks_kg=16.0))


@settings(max_examples=5)
@given(seed=SEEDS)
def test_a_plan_of_a_kitchen_of_jar_sizes_has_no_findings(seed: int) -> None:
    assert_sound(kitchen_of_jars(seed, days=(2, 3), fruits=(1, 2), picks_kg=16.0))


@settings(max_examples=5)
@given(seed=SEEDS)
def test_a_plan_of_goods_with_dates_has_no_findings(seed: int) -> None:
    assert_sound(kitchen_of_goods(seed, days=(2, 3), fruits=(1, 2), picks_kg=16.0))


@settings(max_examples=4)
@given(seed=SEEDS)
def test_a_plan_of_a_kitchen_with_work_beside_its_batches_has_no_findings(seed: int) -> None:
    """Labels, or fruit to take out of the freezer."""
    assert_sound(with_chores(seed, trading_kitchen(seed, days=(2, 3), fruits=(1, 2), picks_kg=16.0)))
    assert_sound(drawing_down(seed, days=(2, 3), fruits=(1, 1)))


def assert_sound(situation: Situation) -> None:
    try:
        plan = make_plan(situation, QUICKLY)
    except (NoPlanPossible, NoPlanInTime):
        return
    assert list(audit(situation, plan)) == []


@settings(max_examples=5)
@given(seed=SEEDS)
def test_a_plan_of_two_freezers_has_no_findings(seed: int) -> None:
    """Nor where one of them is defrosted or fails, or room is kept free."""
    assert_sound(kitchen_of_freezers(seed, days=(2, 3), fruits=(1, 2), picks_kg=12.0))


@settings(max_examples=5)
@given(seed=SEEDS)
def test_the_value_of_a_plan_keeps_its_bound_and_slack(seed: int) -> None:
    situation = tiny_kitchen(seed)
    spoiled = make_plan(situation, QUICKLY).goals[0]
    slack = situation.scenario.slack
    cheapest = min(fruit.kitchen_value for fruit in situation.scenario.fruits)
    most = slack.spoiled_share * spoiled.best + slack.spoiled_kg * cheapest if spoiled.best > 0 else 0.0
    assert spoiled.bound - 0.02 <= spoiled.best <= spoiled.value + 0.02
    assert spoiled.value <= spoiled.best + most + 0.02


@settings(max_examples=5)
@given(seed=SEEDS)
def test_one_more_pan_is_never_worse(seed: int) -> None:
    situation = tiny_kitchen(seed)
    before, after = (least_spoiled(each) for each in (situation, with_one_more_pan(situation)))
    assert after <= before + 0.01


def least_spoiled(situation: Situation) -> float:
    """The allocation's bound of the first rank, in money."""
    model = AllocationModel(make_cards(situation))
    model.model.minimize(model.goals["spoiled"])
    return mip.solve(model.model, model.masses, 60.0, 1, 0, lambda value, bound: False, gap=0.0).bound / MONEY


def with_one_more_pan(situation: Situation) -> Situation:
    """The same kitchen with a twin of its first pan."""
    scenario = situation.scenario
    twin = replace(scenario.kitchen.pans[0], name="one more pan")
    kitchen = replace(scenario.kitchen, pans=(*scenario.kitchen.pans, twin))
    return replace(situation, scenario=replace(scenario, kitchen=kitchen))
