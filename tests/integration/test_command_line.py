"""The command line: exit codes, messages without a traceback, JSON and nothing else."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.commands import maslin, started

ROOT = Path(__file__).parents[2]
QUIET = ROOT / "scenarios" / "quiet-week"


def test_check_says_that_a_scenario_reads_well(tmp_path: Path) -> None:
    done = started(tmp_path, "check", str(QUIET))
    assert done.returncode == 0
    assert "reads well" in done.stdout


@pytest.mark.parametrize("command", ["check", "plan"])
def test_faults_end_with_2_and_are_all_named(command: str, tmp_path: Path) -> None:
    spoilt = shutil.copytree(QUIET, tmp_path / "spoilt")
    for name, old, new in (("picks.csv", "strawberry", "strawbery"), ("people.csv", "Aoife", "=Aoife")):
        path = spoilt / name
        path.write_text(path.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    done = started(tmp_path, command, str(spoilt))
    assert done.returncode == 2
    assert "picks.csv" in done.stderr
    assert "people.csv" in done.stderr
    assert "Traceback" not in done.stderr + done.stdout


def test_json_is_one_object_and_nothing_else(tmp_path: Path) -> None:
    done = started(tmp_path, "plan", str(QUIET), "--json", "--seconds", "15", "--out", "made")
    assert done.returncode == 0, done.stderr
    shown = json.loads(done.stdout)
    assert shown["status"] in {"optimal", "feasible"}
    assert shown["kg"]["spoiled"] == 0
    assert (tmp_path / "made" / "plan.json").is_file()


def test_the_habit_is_planned_and_shown(tmp_path: Path) -> None:
    done = maslin(tmp_path, "plan", str(QUIET), "--method", "habit")
    assert done.returncode == 0, done.stderr
    assert "spoiled" in done.stdout


def test_days_of_an_earlier_plan_are_kept_or_what_differs_is_named(tmp_path: Path) -> None:
    first = maslin(tmp_path, "plan", str(QUIET), "--method", "habit", "--out", "made")
    assert first.returncode == 0, first.stderr
    keep = ("--keep", "made", "--until", "2026-08-26", "--method", "habit")
    again = maslin(tmp_path, "plan", str(QUIET), *keep, "--out", "again")
    assert again.returncode == 0, again.stderr
    old, new = (json.loads((tmp_path / name / "plan.json").read_text()) for name in ("made", "again"))
    kept = [[row for row in plan["stages"] if row["day"] <= "2026-08-26"] for plan in (old, new)]
    assert kept[0] == kept[1] != []
    changed = shutil.copytree(QUIET, tmp_path / "quiet-week")
    (changed / "shifts.csv").write_text("date,person,start,end\n", encoding="utf-8")
    refused = maslin(tmp_path, "plan", str(changed), *keep)
    assert refused.returncode == 2
    assert "shift-offered" in refused.stderr
    assert "Traceback" not in refused.stderr
    alone = maslin(tmp_path, "plan", str(QUIET), "--keep", "made")
    assert alone.returncode == 2
    assert "--keep, --until" in alone.stderr


def test_an_unknown_method_is_refused(tmp_path: Path) -> None:
    done = started(tmp_path, "plan", str(QUIET), "--method", "guess")
    assert done.returncode == 2
    assert "habit" in done.stderr
