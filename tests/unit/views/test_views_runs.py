"""Planning runs: found again by their input, never two of the same, stopped, told when they fail."""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

import kilbrack_sample as sample
import pytest

from scheduler.plan_json import to_json
from scheduler.views.dashboard import runs

HASH = sample.situation().input_hash
WAITS = """
import json, pathlib, sys, time
run = pathlib.Path(sys.argv[1])
(run / "alive").touch()
line = dict(seconds=0.1, stage="spoiled", value=5.0, bound=4.0, gap=0.2, unit="EUR", message="")
(run / "progress.jsonl").write_text(json.dumps(line) + "\\n" + json.dumps(line)[:9])
while not (run / "stop").exists():
    time.sleep(0.02)
(run / "end.json").write_text(json.dumps({"state": "done", "said": [], "seconds": 1.5}))
"""


def _program(code: str) -> tuple[str, ...]:
    return (sys.executable, "-c", code)


def _until(wanted: Callable[[], bool], seconds: float = 30.0) -> None:
    end = time.monotonic() + seconds
    while not wanted():
        assert time.monotonic() < end, "waited too long"
        time.sleep(0.02)


def test_a_run_is_found_again_and_never_started_twice(tmp_path: Path) -> None:
    assert runs.look(tmp_path, HASH).state == "none"
    assert runs.start(tmp_path, HASH, tmp_path, 60, _program(WAITS))
    _until(lambda: len(runs.look(tmp_path, HASH).steps) == 1)
    run = runs.look(tmp_path, HASH)
    assert (run.state, run.asked_seconds, run.stopping) == ("running", 60, False)
    assert run.steps[0] == runs.Step(0.1, "spoiled", 5.0, 4.0, 0.2, "EUR", "")
    assert not runs.start(tmp_path, HASH, tmp_path, 60, _program(WAITS))
    runs.stop(tmp_path, HASH)
    _until(lambda: runs.look(tmp_path, HASH).state == "done")
    assert runs.look(tmp_path, HASH).elapsed == 1.5


def test_other_input_runs_beside_it(tmp_path: Path) -> None:
    assert runs.start(tmp_path, "a" * 64, tmp_path, 60, _program(WAITS))
    assert runs.start(tmp_path, "b" * 64, tmp_path, 60, _program(WAITS))
    for each in ("a" * 64, "b" * 64):
        runs.stop(tmp_path, each)
    _until(lambda: all(runs.look(tmp_path, each).state == "done" for each in ("a" * 64, "b" * 64)))


def test_a_process_that_dies_is_told_and_may_be_started_again(tmp_path: Path) -> None:
    runs.start(tmp_path, HASH, tmp_path, 60, _program("raise SystemExit(3)"))
    _until(lambda: runs.look(tmp_path, HASH).state == "failed")
    assert "ended before" in runs.look(tmp_path, HASH).said[0]
    assert runs.start(tmp_path, HASH, tmp_path, 60, _program(WAITS))
    runs.stop(tmp_path, HASH)
    _until(lambda: runs.look(tmp_path, HASH).state == "done")


def test_a_run_of_another_server_is_over_when_it_falls_silent(tmp_path: Path) -> None:
    folder = tmp_path / HASH / "run"
    folder.mkdir(parents=True)
    (folder / "order.json").write_text(f'{{"seconds": 60, "at": {time.time() - 3600}}}', encoding="utf-8")
    (folder / "alive").touch()
    assert runs.look(tmp_path, HASH).state == "running"
    silent = time.time() - 2 * runs.QUIET_SECONDS
    os.utime(folder / "alive", (silent, silent))
    assert runs.look(tmp_path, HASH).state == "failed"


def test_the_kept_plan_is_read_only_if_it_is_of_this_input(tmp_path: Path) -> None:
    plan = sample.plan()
    assert runs.last_plan(tmp_path, HASH) is None
    for name in (HASH, "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "plan.json").write_text(to_json(plan), encoding="utf-8")
    assert runs.last_plan(tmp_path, HASH) == plan
    assert runs.last_plan(tmp_path, "other") is None
    (tmp_path / HASH / "plan.json").write_text("{", encoding="utf-8")
    assert runs.last_plan(tmp_path, HASH) is None


def test_a_child_that_is_slow_to_start_counts_as_running(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(runs, "QUIET_SECONDS", 0.0)
    slow = (
        "import pathlib, sys, time\nwhile not (pathlib.Path(sys.argv[1]) / 'stop').exists(): time.sleep(0.02)"
    )
    assert runs.start(tmp_path, HASH, tmp_path, 60, _program(slow))
    assert runs.look(tmp_path, HASH).state == "running"
    runs.stop(tmp_path, HASH)
