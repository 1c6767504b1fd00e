"""Random kitchens: every point of a trade-off curve is sound, and no other is as good in everything."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.auditor import audit
from scheduler.curve import NO_SLACK, make_curve
from scheduler.plan_rows import Plan
from scheduler.planner import Settings, make_plan
from scheduler.solve.settings import Progress
from tests.kitchens import tiny_kitchen

SEEDS = st.integers(min_value=0, max_value=10_000)
QUICKLY = Settings(seconds=20.0, workers=1)
POINTS = 5


def worth(plan: Plan) -> tuple[float, ...]:
    return tuple(round(goal.value, 2) for goal in plan.goals[:3])


def as_good(one: Plan, other: Plan) -> bool:
    return all(a <= b for a, b in zip(worth(one), worth(other), strict=True))


@settings(max_examples=6)
@given(seed=SEEDS)
def test_every_point_is_sound_and_none_is_as_good_as_another(seed: int) -> None:
    situation = tiny_kitchen(seed)
    curve = make_curve(situation, POINTS, QUICKLY)
    assert 1 <= len(curve) <= POINTS
    for plan in curve:
        assert list(audit(situation, plan)) == []
    assert not [pair for pair in permutations(curve, 2) if as_good(*pair)]


@settings(max_examples=6)
@given(seed=SEEDS)
def test_the_ends_are_the_best_by_the_goals_and_the_least_money(seed: int) -> None:
    situation = tiny_kitchen(seed)
    curve = make_curve(situation, POINTS, QUICKLY)
    strict = replace(situation, scenario=replace(situation.scenario, slack=NO_SLACK))
    best = make_plan(strict, QUICKLY)
    for mine, theirs in zip(curve[0].goals[:2], best.goals[:2], strict=True):
        assert mine.value <= theirs.value + 0.01 or mine.gap > 0
    assert worth(curve[-1])[2] == min(worth(plan)[2] for plan in curve)
    # No kitchen is forced to cook: what its orders do not pay for need not be done.
    assert curve[-1].goals[2].value <= 0.01 or curve[-1].goals[2].gap > 0


@settings(max_examples=4)
@given(seed=SEEDS)
def test_a_curve_that_is_stopped_is_a_part_of_the_whole_one(seed: int) -> None:
    situation = tiny_kitchen(seed)
    whole = make_curve(situation, POINTS, QUICKLY)
    seen: set[str] = set()

    def tell(step: Progress) -> None:
        seen.add(step.stage)

    part = make_curve(situation, POINTS, QUICKLY, tell, lambda: f"point 4 of {POINTS}" in seen)
    assert len(part) <= 3
    for plan in part:
        assert list(audit(situation, plan)) == []
        assert any(as_good(other, plan) for other in whole)
