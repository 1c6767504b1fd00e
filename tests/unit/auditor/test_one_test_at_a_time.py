"""A cook tests one pan at a time (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace

from scheduler.auditor import audit
from scheduler.plan_rows import StageKind

from .day_of_two_pans import PLAN, SITUATION


def test_two_pans_in_test_by_one_cook_are_found() -> None:
    tests = [stage for stage in PLAN.stages if stage.kind is StageKind.SET_TEST]
    one, other = tests[0], next(stage for stage in tests if stage.batch != tests[0].batch)
    moved = replace(other, start=one.start, end=one.end, people=one.people)
    stages = tuple(moved if stage is other else stage for stage in PLAN.stages)
    found = [f for f in audit(SITUATION, replace(PLAN, stages=stages)) if "in test" in str(f)]
    assert [finding.rule for finding in found] == ["two-places"]
