"""``python -m tests.bench`` as a whole: what it writes, which farms it takes, how it stops."""

from __future__ import annotations

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from scheduler.bench.farms import Farm
from tests.bench import grow, run
from tests.bench.instances import UNSEEN_SEEDS, kept, some, unseen
from tests.integration.test_command_line import ROOT


def rows_of(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def test_one_command_writes_rows_table_and_plots(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "tests.bench", "--out", str(tmp_path / "made"), "--sizes", "S"]
    command += ["--gluts", "2.0", "--seeds", "0", "--peers", "habit", "--seconds", "60"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    (row,) = rows_of(tmp_path / "made" / "results.csv")
    assert (row["instance"], row["peer"], row["to_habit"]) == ("S-plain-2.0-0", "habit", "1.0")
    assert float(row["spoiled"]) > 0
    assert len(rows_of(tmp_path / "made" / "courses.csv")) == 2
    assert {path.name for path in (tmp_path / "made").iterdir()} == {
        "results.csv", "courses.csv", "table.txt", "plots.html"
    }  # fmt: skip
    assert "S-plain-2.0-0" in done.stdout


def test_farms_are_chosen_by_size_glut_seed_and_family() -> None:
    chosen = list(some(kept(), ["S"], [1.5, 2.0], [0, 2], ["plain", "cooks"]))
    assert [farm.name for farm in chosen] == [
        "S-plain-1.5-0", "S-plain-1.5-2", "S-plain-2.0-0", "S-plain-2.0-2", "S-cooks-2.0-0", "S-cooks-2.0-2",
    ]  # fmt: skip
    assert {farm.seed for farm in unseen()} == set(UNSEEN_SEEDS)


def test_ctrl_c_keeps_the_farms_so_far(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def once(farm: Farm, *_: object) -> run.Run:
        if farm.seed:
            raise KeyboardInterrupt
        return run.Run(farm, {})

    told: list[str] = []
    monkeypatch.setattr(run, "run_one", once)
    runs = run.run_all([Farm("S", 2.0, 0), Farm("S", 2.0, 1)], [], 1.0, 1, tmp_path, told.append)
    assert [each.farm.seed for each in runs] == [0]
    assert "Stopped" in told[-1]


@pytest.mark.parametrize("what", grow.SERIES)
def test_farms_of_a_series_differ_in_one_number(what: str) -> None:
    sizes = [farm.how_large for farm in grow.farms(what, 2.0, 0)]
    assert [getattr(size, what) for size in sizes] == list(grow.SERIES[what])
    others = {"days", "fruits", "pans", "people"} - {what}
    assert all(len({getattr(size, name) for size in sizes}) == 1 for name in others)
    assert all(size.picking == size.days for size in sizes)


def test_growth_is_a_row_a_farm(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(grow.SERIES, "days", (1, 2))
    grow.grow("days", 2.0, 0, 5.0, 1, tmp_path, lambda _: None)
    rows = rows_of(tmp_path / "growth.csv")
    assert [row["days"] for row in rows] == ["1", "2"]
    assert all(float(row["first_s"]) > 0 and float(row["s a day tried"]) > 0 for row in rows)
    assert {path.name for path in tmp_path.iterdir()} == {"growth.csv", "growth.txt", "growth.html"}
