"""Every random kitchen gives a plan without findings, or a proof that there is none."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler import solve
from scheduler.check import audit
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanPossible
from scheduler.planner import make_plan
from tests.kitchens import random_kitchen, tiny_kitchen

SEEDS = st.integers(min_value=0, max_value=10_000)


@settings(max_examples=12)
@given(seed=SEEDS)
def test_a_plan_without_findings_or_a_proof_that_none_exists(seed: int) -> None:
    situation = random_kitchen(seed, days=(2, 3), fruits=(1, 2), picks_kg=16.0)
    try:
        plan = make_plan(situation)
    except NoPlanPossible:
        return
    assert list(audit(situation, plan)) == []


@settings(max_examples=12)
@given(seed=SEEDS)
def test_the_value_of_a_plan_keeps_its_bound_and_slack(seed: int) -> None:
    situation = tiny_kitchen(seed)
    spoiled = make_plan(situation).goals[0]
    slack = situation.scenario.slack
    cheapest = min(fruit.kitchen_value for fruit in situation.scenario.fruits)
    most = slack.spoiled_share * spoiled.best + slack.spoiled_kg * cheapest if spoiled.best > 0 else 0.0
    assert spoiled.bound - 0.02 <= spoiled.best <= spoiled.value + 0.02
    assert spoiled.value <= spoiled.best + most + 0.02


@settings(max_examples=12)
@given(seed=SEEDS)
def test_one_more_pan_is_never_worse(seed: int) -> None:
    situation = tiny_kitchen(seed)
    before, after = (solve.allocation_best(s)["spoiled"] for s in (situation, with_one_more_pan(situation)))
    assert after <= before


def with_one_more_pan(situation: Situation) -> Situation:
    """The same kitchen with a twin of its first pan."""
    scenario = situation.scenario
    twin = replace(scenario.kitchen.pans[0], name="one more pan")
    kitchen = replace(scenario.kitchen, pans=(*scenario.kitchen.pans, twin))
    return replace(situation, scenario=replace(scenario, kitchen=kitchen))
