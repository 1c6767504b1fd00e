"""Plans of farms that close now and then and clean down: the habit's and the best have no finding."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.auditor import audit
from scheduler.domain.days import Closure
from scheduler.domain.scenario import Situation
from scheduler.plan_rows import Part, Plan, StageKind
from scheduler.planner import make_plan
from scheduler.solve.settings import Settings
from tests.kitchens import random_kitchen
from tests.kitchens_by_day import closed_now_and_then
from tests.kitchens_of_kinds import kitchen_of_kinds

HABIT, EXACT = Settings("habit", 30.0, 1), Settings("exact", 20.0, 1)


def closed_farm(seed: int) -> Situation:
    return closed_now_and_then(seed, random_kitchen(seed, days=(3, 3), fruits=(1, 2), picks_kg=16.0))


@pytest.mark.parametrize("settings", [HABIT, EXACT], ids=["habit", "exact"])
@pytest.mark.parametrize("seed", [0, 1, 2, 5])
def test_a_plan_of_a_farm_that_closes_now_and_then_has_no_finding(seed: int, settings: Settings) -> None:
    situation = closed_farm(seed)
    plan = make_plan(situation, settings)
    assert audit(situation, plan) == ()
    minutes = situation.scenario.kitchen.clean_down_minutes
    worked = {stage.day for stage in plan.stages}
    cleaned = [stage for stage in plan.stages if stage.kind is StageKind.CLEAN_DOWN]
    assert {stage.day for stage in cleaned} == (worked if minutes else set())


@pytest.mark.parametrize("settings", [HABIT, EXACT], ids=["habit", "exact"])
def test_nobody_comes_in_on_a_closed_day_and_no_juice_drips_into_it(settings: Settings) -> None:
    situation = kitchen_of_kinds(6, days=(3, 3), fruits=(1, 1), picks_kg=12.0)
    scenario = situation.scenario
    kitchen, second = scenario.kitchen, scenario.dates()[1]
    market = Closure(second, kitchen.open, kitchen.close, "market")
    closed = replace(situation, scenario=replace(scenario, closures=(market,)))
    assert softened(make_plan(situation, settings)) & set(scenario.dates()[:2])
    plan = make_plan(closed, settings)
    assert second not in {row.day for row in (*plan.shifts, *plan.stages, *plan.batches)}
    assert not softened(plan) & set(scenario.dates()[:2])


def softened(plan: Plan) -> set[object]:
    """The days on which fruit is softened for juice."""
    return {batch.day for batch in plan.batches if batch.part is Part.SOFTEN}
