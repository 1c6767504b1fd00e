"""``maslin curve`` and ``maslin plan --slack``: what they write, and what they refuse."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from scheduler.auditor import audit
from scheduler.intake import read_scenario
from scheduler.plan_json import from_json
from tests.commands import maslin
from tests.integration.test_command_line import QUIET


def test_each_point_is_a_plan_of_its_own_that_the_auditor_passes(tmp_path: Path) -> None:
    done = maslin(tmp_path, "curve", str(QUIET), "--out", "made", "--points", "4", "--seconds", "60")
    assert done.returncode == 0, done.stderr
    with (tmp_path / "made" / "curve.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) >= 3
    situation = read_scenario(QUIET)
    for row in rows:
        plan = from_json((tmp_path / "made" / row["folder"] / "plan.json").read_text(encoding="utf-8"))
        assert audit(situation, plan) == ()
        assert [f"{goal.value:.2f}" for goal in plan.goals[:3]] == [
            row["value_lost_on_fruit"],
            f"{float(row['jars_missing']):.2f}",
            row["money"],
        ]
    assert float(rows[-1]["money"]) == min(float(row["money"]) for row in rows)
    assert "Fruit, jars or money" in done.stdout
    assert f"{float(rows[0]['value_lost_on_fruit']):.2f}" in done.stdout


@pytest.mark.parametrize("points", ["1", "0", "26", "2.5", "many"])
def test_a_number_of_points_out_of_range_is_refused(points: str, tmp_path: Path) -> None:
    done = maslin(tmp_path, "curve", str(QUIET), "--out", "made", "--points", points)
    assert done.returncode == 2
    assert "--points" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "made").exists()


def test_a_file_in_the_way_is_told_before_anything_is_planned(tmp_path: Path) -> None:
    (tmp_path / "made").write_text("mine", encoding="utf-8")
    done = maslin(tmp_path, "curve", str(QUIET), "--out", "made")
    assert done.returncode == 2
    assert "made" in done.stderr
    assert "folder" in done.stderr
    assert (tmp_path / "made").read_text(encoding="utf-8") == "mine"


def test_bad_slack_is_told_with_what_is_allowed(tmp_path: Path) -> None:
    done = maslin(
        tmp_path, "plan", str(QUIET), "--slack", "spoiled_share=7", "--slack", "jars=2", "--out", "made"
    )
    assert done.returncode == 2
    assert "0 to 1" in done.stderr
    assert "short_share" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "made").exists()


def test_slack_is_spent_by_a_plan_that_says_so(tmp_path: Path) -> None:
    done = maslin(
        tmp_path, "plan", str(QUIET), "--slack", "money_share=0.3", "--out", "made", "--seconds", "30"
    )
    assert done.returncode == 0, done.stderr
    plan = from_json((tmp_path / "made" / "plan.json").read_text(encoding="utf-8"))
    assert plan.goals[2].slack == pytest.approx(0.3 * abs(plan.goals[2].best), abs=0.01)
    assert plan.input_hash != read_scenario(QUIET).input_hash
