"""Plans of farms with labels and fruit to take out: the habit's and the best have no finding, and do both."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.auditor import audit
from scheduler.domain.kitchen import Labels
from scheduler.domain.people import Skill
from scheduler.domain.scenario import Situation
from scheduler.plan_rows import StageKind
from scheduler.planner import make_plan
from scheduler.solve.settings import Settings
from tests.kitchens import random_kitchen
from tests.kitchens_of_chores import drawing_down, with_chores
from tests.kitchens_of_kinds import kitchen_of_kinds, trading_kitchen

HABIT, EXACT = Settings("habit", 30.0, 1), Settings("exact", 20.0, 1)
BOTH = pytest.mark.parametrize("settings", [HABIT, EXACT], ids=["habit", "exact"])


def plans_of(*ended: int) -> pytest.MarkDecorator:
    """The habit's plans of the first sixteen kitchens, the best of those whose search ends by itself."""
    cases = [*((seed, HABIT) for seed in range(16)), *((seed, EXACT) for seed in ended)]
    return pytest.mark.parametrize(("seed", "settings"), cases)


@plans_of(1, 3, 4, 6, 10)
def test_a_plan_of_a_farm_that_labels_has_no_finding(seed: int, settings: Settings) -> None:
    situation = with_chores(seed, random_kitchen(seed, days=(3, 4), fruits=(1, 2), picks_kg=16.0))
    assert audit(situation, make_plan(situation, settings)) == ()


@BOTH
@pytest.mark.parametrize("seed", [6, 22])
def test_jelly_is_labelled_after_it_is_boiled(seed: int, settings: Settings) -> None:
    situation = with_chores(seed, kitchen_of_kinds(seed, days=(3, 4), fruits=(1, 2), picks_kg=16.0))
    assert audit(situation, make_plan(situation, settings)) == ()


@plans_of(1, 4, 5, 6)
def test_a_plan_of_a_farm_that_labels_for_orders_and_shop_has_no_finding(
    seed: int, settings: Settings
) -> None:
    situation = with_chores(seed, trading_kitchen(seed, days=(3, 4), fruits=(1, 2), picks_kg=12.0))
    assert audit(situation, make_plan(situation, settings)) == ()


TAKES_OUT = (6, 9, 15)


@plans_of(0, 1, *TAKES_OUT)
def test_fruit_is_taken_out_on_the_day_before_and_only_then(seed: int, settings: Settings) -> None:
    situation = drawing_down(seed, days=(3, 4), fruits=(1, 2))
    plan = make_plan(situation, settings)
    assert audit(situation, plan) == ()
    taken = {stage.day for stage in plan.stages if stage.kind is StageKind.TAKE_OUT}
    first = situation.scenario.start
    thawed = {row.day for row in plan.freezer if row.thawed > 0.001 and row.day > first}
    if situation.scenario.kitchen.take_out_minutes:
        assert taken == {day - timedelta(days=1) for day in thawed}
    assert not (settings is EXACT and seed in TAKES_OUT) or taken


def labelling(seed: int, labels: Labels) -> Situation:
    """A week-day farm on which everybody can do everything."""
    situation = random_kitchen(seed, days=(4, 4), fruits=(1, 1), picks_kg=12.0)
    scenario = situation.scenario
    people = tuple(replace(person, skills=frozenset(Skill), hours_week=60.0) for person in scenario.people)
    kitchen = replace(scenario.kitchen, labels=labels)
    return replace(situation, scenario=replace(scenario, people=people, kitchen=kitchen))


@BOTH
def test_all_jars_but_those_of_the_last_day_are_labelled_within_a_day(settings: Settings) -> None:
    situation = labelling(5, Labels(30.0, 1))
    plan = make_plan(situation, settings)
    last = situation.scenario.dates()[-1]
    made, labelled = sum(row.made for row in plan.jars if row.day < last), sum(r.labelled for r in plan.jars)
    assert made == labelled > 0


@BOTH
def test_no_jar_is_labelled_where_the_kitchen_has_no_labels(settings: Settings) -> None:
    situation = random_kitchen(5, days=(4, 4), fruits=(1, 1), picks_kg=12.0)
    plan = make_plan(situation, settings)
    assert not any(row.labelled for row in plan.jars)
    assert not {StageKind.LABEL, StageKind.TAKE_OUT} & {stage.kind for stage in plan.stages}
