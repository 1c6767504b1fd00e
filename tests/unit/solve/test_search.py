"""The search where its usual helpers fail: no plan by habit, a freezer too full, frozen fruit out of date."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler import planner
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanPossible
from scheduler.planner import Settings, make_plan
from tests.kitchens import random_kitchen, tiny_kitchen

ALONE = Settings(seconds=60.0, workers=1)


@pytest.mark.parametrize("seed", [2, 16])
def test_a_plan_is_found_where_the_habit_finds_none(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    usual = make_plan(tiny_kitchen(seed), ALONE)
    monkeypatch.setattr(planner, "habit", lambda *_: None)
    assert [goal.value for goal in make_plan(tiny_kitchen(seed), ALONE).goals[:2]] == pytest.approx(
        [goal.value for goal in usual.goals[:2]], abs=0.01
    )


def test_an_overfull_freezer_is_told_by_the_rule_that_clashes() -> None:
    with pytest.raises(NoPlanPossible, match="freezer-room"):
        make_plan(_with_freezer(tiny_kitchen(0), 0.1), ALONE)


@pytest.mark.parametrize("seed", range(12))
def test_the_habit_has_a_plan_for_every_kitchen(seed: int) -> None:
    """Kitchen 8 holds frozen fruit whose date passes before all of it is thawed."""
    situation = random_kitchen(seed, days=(3, 6), picks_kg=12.0)
    assert make_plan(situation, Settings(method="habit", workers=1)).method == "habit"


def _with_freezer(situation: Situation, kg: float) -> Situation:
    scenario = situation.scenario
    freezer = replace(scenario.kitchen.freezer, kg=kg)
    kitchen = replace(scenario.kitchen, freezer=freezer)
    return replace(situation, scenario=replace(scenario, kitchen=kitchen))
