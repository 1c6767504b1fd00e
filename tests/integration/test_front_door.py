"""What ``import scheduler`` gives: exactly four names, which read, plan and check."""

from __future__ import annotations

import doctest
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import scheduler
from scheduler import front_door
from scheduler.errors import InputFaults
from tests.commands import FARM

ROOT = Path(__file__).parents[2]


def test_exactly_the_documented_names_are_exported() -> None:
    assert sorted(scheduler.__all__) == ["Plan", "check", "load", "plan"] == sorted(front_door.__all__)
    for name in scheduler.__all__:
        assert getattr(scheduler, name).__doc__
        assert name in dir(scheduler)
    with pytest.raises(AttributeError, match="planner_of"):
        scheduler.planner_of  # noqa: B018


def test_the_example_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    ran = doctest.testmod(front_door)
    assert ran.attempted >= 5
    assert ran.failed == 0


def test_importing_alone_reads_no_solver() -> None:
    said = "import scheduler, sys; print(sorted({'ortools', 'highspy', 'pandas'} & set(sys.modules)))"
    done = subprocess.run(
        [sys.executable, "-c", said], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout.strip() == "[]"


def test_the_first_session_of_the_dashboard_waits_for_no_module() -> None:
    said = (
        "import sys, app; had = set(sys.modules); import scheduler.views.dashboard.main;"
        " print(sorted(set(sys.modules) - had))"
    )
    done = subprocess.run(
        [sys.executable, "-c", said], cwd=ROOT, capture_output=True, text=True, timeout=120, check=True
    )
    assert done.stdout.strip() == "[]"


def test_a_broken_plan_and_a_folder_with_faults_are_told(tmp_path: Path) -> None:
    week = scheduler.load(str(FARM))
    plan = scheduler.plan(week, method="habit")
    assert isinstance(plan, scheduler.Plan)
    first, *others = plan.batches
    broken = replace(plan, batches=(replace(first, kg=first.kg + 1), *others))
    assert scheduler.check(week, plan) == ()
    assert scheduler.check(week, broken)
    with pytest.raises(InputFaults) as told:
        scheduler.load(tmp_path)
    assert told.value.faults
