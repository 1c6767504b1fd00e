"""Every shipped scenario: plan, audit, written files, summary and the JSON object."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from scheduler.auditor import audit
from scheduler.intake import read_scenario
from scheduler.plan_json import from_json
from scheduler.plan_rows import Plan, totals
from scheduler.planner import Settings, make_plan
from scheduler.views.files import write_plan
from scheduler.views.summary import as_json

SCENARIOS = Path(__file__).parents[2] / "scenarios"
NAMES = ("quiet-week", "glut-week", "winter-draw-down")


@pytest.fixture(scope="module", params=NAMES)
def planned(request: pytest.FixtureRequest) -> tuple[str, Plan]:
    situation = read_scenario(SCENARIOS / request.param)
    return request.param, make_plan(situation, Settings(seconds=15, workers=1))


def test_the_auditor_finds_nothing(planned: tuple[str, Plan]) -> None:
    name, plan = planned
    assert audit(read_scenario(SCENARIOS / name), plan) == ()


def test_the_fresh_fruit_balances(planned: tuple[str, Plan]) -> None:
    assert totals(planned[1]).balance() == pytest.approx(0, abs=0.01)


def test_bounds_lie_below_what_was_reached_and_slack_is_kept(planned: tuple[str, Plan]) -> None:
    for goal in planned[1].goals:
        assert goal.bound <= goal.best + 0.01
        assert goal.value <= goal.best + goal.slack + 0.01


def test_a_plan_is_never_worse_than_habit_before_slack(planned: tuple[str, Plan]) -> None:
    name, plan = planned
    usual = make_plan(read_scenario(SCENARIOS / name), Settings(method="habit", seconds=60, workers=1))
    ours, theirs = plan.goals[0], usual.goals[0]
    assert ours.best <= theirs.value + 0.01
    if ours.best == pytest.approx(theirs.value, abs=0.01):
        assert plan.goals[1].best <= usual.goals[1].value


def test_files_round_trip_and_the_json_object_is_whole(planned: tuple[str, Plan], tmp_path: Path) -> None:
    name, plan = planned
    situation = read_scenario(SCENARIOS / name)
    write_plan(plan, situation, tmp_path / "out")
    assert from_json((tmp_path / "out" / "plan.json").read_text(encoding="utf-8")) == plan
    shown = json.loads(json.dumps(as_json(plan, situation, ())))
    assert set(shown) >= {"status", "goals", "days", "kg", "jars", "seconds", "findings", "habit"}
    assert [goal["name"] for goal in shown["goals"]] == ["spoiled", "short", "money", "tidiness"]
    assert shown["findings"] == []


def test_a_quiet_week_spoils_nothing_and_misses_no_jar() -> None:
    plan = make_plan(read_scenario(SCENARIOS / "quiet-week"), Settings(seconds=30))
    spoiled, short = plan.goals[:2]
    assert (spoiled.value, spoiled.gap, short.value, short.gap) == (0, 0, 0, 0)
