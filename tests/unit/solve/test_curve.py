"""The trade-off curve: which points are asked for, which are kept, and what their goals say."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from scheduler.curve import NO_SLACK, make_curve
from scheduler.plan_rows import Goal, Plan, is_choice
from scheduler.planner import Settings, make_plan
from scheduler.solve.curve import Step, between, efficient, worth
from scheduler.solve.settings import Progress
from tests.kitchens import tiny_kitchen

ALONE = Settings(seconds=30.0, workers=1)


@pytest.mark.parametrize("points", range(2, 12))
def test_ends_and_steps_between_are_as_many_as_asked_for(points: int) -> None:
    assert 2 + len(list(between(0.0, 60.0, points))) == points


def test_caps_rise_in_equal_steps_and_jars_come_first_under_each() -> None:
    assert list(between(10.0, 40.0, 7)) == [
        Step(20.0, True),
        Step(20.0, False),
        Step(30.0, True),
        Step(30.0, False),
        Step(40.0, True),
    ]


def test_there_is_nothing_between_ends_that_lose_as_much() -> None:
    assert list(between(10.0, 10.0, 7)) == []


def test_points_that_another_is_as_good_as_are_dropped_and_the_others_sorted_by_fruit() -> None:
    worths = [
        (5.0, 2.0, 7.0),
        (1.0, 9.0, 9.0),
        (5.0, 2.0, 8.0),
        (1.0, 9.0, 9.0),
        (5.0, 1.0, 9.0),
        (6.0, 3.0, 7.0),
    ]
    assert efficient(worths) == [1, 4, 0]


def test_a_difference_in_one_goal_alone_keeps_both_points() -> None:
    assert efficient([(1.0, 2.0, 3.0), (1.0, 1.99, 3.01)]) == [1, 0]


def test_worth_is_what_the_plan_reaches_to_the_cent() -> None:
    goals = [
        Goal(name, "", value, 0.0, 0.0, 0.0, 0.0)
        for name, value in zip("abcd", (1.234, 2.0, -0.001, 5), strict=True)
    ]
    assert worth(goals) == (1.23, 2.0, 0.0)


@pytest.fixture(scope="module")
def curve() -> tuple[Plan, ...]:
    return make_curve(KITCHEN, 5, ALONE)


KITCHEN = tiny_kitchen(0)


def test_only_points_after_the_first_end_have_caps(curve: tuple[Plan, ...]) -> None:
    assert len(curve) >= 3
    assert not is_choice(curve[0])
    for plan in curve[1:]:
        spoiled = plan.goals[0]
        assert spoiled.cap is not None
        assert spoiled.value <= spoiled.cap + 0.01
        assert spoiled.best <= min(each.goals[0].value for each in curve) + 0.01
        assert plan.goals[2].cap is None


def test_stopped_at_the_second_point_the_first_is_kept() -> None:
    told: list[str] = []
    (plan,) = make_curve(
        KITCHEN, 5, ALONE, lambda step: told.append(step.stage), lambda: "point 2 of 5" in told
    )
    assert not is_choice(plan)


def test_the_first_end_is_the_best_plan_without_slack(curve: tuple[Plan, ...]) -> None:
    scenario = replace(KITCHEN.scenario, slack=NO_SLACK)
    best = make_plan(replace(KITCHEN, scenario=scenario), ALONE)
    assert curve[0].goals[0].value <= best.goals[0].value + 0.01


def test_fewest_jars_missing_are_the_fewest_of_all_points_within_the_cap(curve: tuple[Plan, ...]) -> None:
    for plan in curve[1:]:
        spoiled, short = plan.goals[:2]
        assert spoiled.cap is not None
        if short.cap is not None:
            within = [each.goals[1].value for each in curve if each.goals[0].value <= spoiled.cap]
            assert short.best <= min(within)


def test_progress_names_the_point_in_hand() -> None:
    told: list[Progress] = []
    make_curve(KITCHEN, 3, ALONE, told.append)
    assert {step.stage for step in told} == {f"point {n} of 3" for n in (1, 2, 3)}
    assert all(later.seconds >= sooner.seconds for sooner, later in pairwise(told))
