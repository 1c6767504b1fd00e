"""The command line: exit codes, messages without a traceback, JSON and nothing else."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
QUIET = ROOT / "scenarios" / "quiet-week"


def maslin(*words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", "from scheduler.cli import main; main()", *words]
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, timeout=300, check=False)


def test_check_says_that_a_scenario_reads_well(tmp_path: Path) -> None:
    done = maslin("check", str(QUIET), cwd=tmp_path)
    assert done.returncode == 0
    assert "reads well" in done.stdout


@pytest.mark.parametrize("command", ["check", "plan"])
def test_faults_end_with_2_and_are_all_named(command: str, tmp_path: Path) -> None:
    spoilt = shutil.copytree(QUIET, tmp_path / "spoilt")
    for name, old, new in (("picks.csv", "strawberry", "strawbery"), ("people.csv", "Aoife", "=Aoife")):
        path = spoilt / name
        path.write_text(path.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    done = maslin(command, str(spoilt), cwd=tmp_path)
    assert done.returncode == 2
    assert "picks.csv" in done.stderr
    assert "people.csv" in done.stderr
    assert "Traceback" not in done.stderr + done.stdout


def test_json_is_one_object_and_nothing_else(tmp_path: Path) -> None:
    done = maslin("plan", str(QUIET), "--json", "--seconds", "15", "--out", "made", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    shown = json.loads(done.stdout)
    assert shown["status"] in {"optimal", "feasible"}
    assert shown["kg"]["spoiled"] == 0
    assert (tmp_path / "made" / "plan.json").is_file()


def test_the_habit_is_planned_and_shown(tmp_path: Path) -> None:
    done = maslin("plan", str(QUIET), "--method", "habit", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "spoiled" in done.stdout


def test_an_unknown_method_is_refused(tmp_path: Path) -> None:
    done = maslin("plan", str(QUIET), "--method", "guess", cwd=tmp_path)
    assert done.returncode == 2
    assert "habit" in done.stderr
