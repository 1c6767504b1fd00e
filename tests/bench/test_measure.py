"""What ``maslin bench`` measures and says; and how both commands take bad input."""

from __future__ import annotations

import json
import signal
from pathlib import Path

import pytest
import typer
from rich.console import Console
from typer.testing import CliRunner

from scheduler.bench.farms import Farm, Size
from scheduler.bench.measure import Bench, Measured, farms, handled
from scheduler.bench.report import as_json, summary, verdict
from scheduler.cli import app
from scheduler.planner import Progress, Settings, never, quiet
from tests.bench.__main__ import main
from tests.commands import maslin

KEYS = (
    "instance", "size", "seed", "glut", "first_s", "one_percent_s", "proof_s", "gap", "spoiled_kg",
    "habit_spoiled_kg", "findings",
)  # fmt: skip
SMALL = Farm("two days", 1.5, 1, own=Size(2, 2, 1, 1, 4))


def measured(size: str, gap: float | None, seed: int = 0, findings: int = 0) -> Measured:
    seconds = None if gap is None else 1.0
    return Measured(Farm(size, 2.0, seed), seconds, None, None, gap, None, None, findings)


@pytest.fixture(scope="module")
def stopped() -> tuple[Bench, list[Progress]]:
    """A small farm measured, and somebody who stops then, before it is measured again."""
    told: list[Progress] = []
    bench = Bench(Settings(seconds=60, workers=1), told.append, lambda: bool(bench.done))
    bench.run([SMALL, SMALL])
    return bench, told


def test_a_farm_is_measured_with_the_times_at_which_things_were_known(
    stopped: tuple[Bench, list[Progress]],
) -> None:
    (row,) = as_json(stopped[0].done)
    assert tuple(row) == KEYS
    assert 0 < row["first_s"] <= row["one_percent_s"] <= row["proof_s"]
    assert row["gap"] == 0
    assert row["spoiled_kg"] >= 0
    assert row["habit_spoiled_kg"] >= 0
    assert row["findings"] == 0
    assert (row["seed"], row["glut"]) == (1, 1.5)


def test_progress_names_the_farm(stopped: tuple[Bench, list[Progress]]) -> None:
    assert all(step.stage.startswith(f"{SMALL.name}, ") for step in stopped[1])
    assert {"habit", "polish"} <= {step.stage.split(", ")[1] for step in stopped[1]}


def test_what_was_not_reached_is_null() -> None:
    row = as_json([measured("L", None)])[0]
    assert {key for key, value in row.items() if value is None} == {
        "first_s", "one_percent_s", "proof_s", "gap", "spoiled_kg", "habit_spoiled_kg",
    }  # fmt: skip
    assert "null" in json.dumps(row)


def test_no_larger_farm_is_tried_after_one_without_a_plan() -> None:
    hopeless = Farm("S", 2.0, 0)
    bench = Bench(Settings(seconds=0.05, workers=1), quiet, never)
    bench.run([hopeless, Farm("S", 2.0, 1), Farm("M", 2.0, 0)])
    assert [each.farm.size for each in bench.done] == ["S", "S"]
    assert handled(bench.done, float("inf")) is None


def test_a_size_is_handled_if_all_its_farms_are() -> None:
    done = [measured("S", 0.0), measured("S", 0.005, 1), measured("M", 0.002), measured("M", 0.3, 1)]
    assert handled(done, 0.01) == "S"
    assert handled(done, float("inf")) == "M"
    assert handled([measured("S", 0.0, findings=1)], float("inf")) is None


def test_the_verdict_names_sizes_and_says_when_there_is_none() -> None:
    done = [measured("S", 0.0), measured("M", 0.3)]
    said = verdict(done, 60)
    assert "size M (14 days" in said[0]
    assert "size S (7 days" in said[1]
    assert "no size" in verdict([measured("S", None)], 60)[0]
    console = Console(width=100)
    with console.capture() as shown:
        console.print(summary(done, 60))
    assert "30.0 %" in shown.get()


def test_farms_of_a_set_differ_by_seed() -> None:
    assert [(each.size, each.seed) for each in farms(["S", "M"], 2)] == [
        ("S", 0),
        ("S", 1),
        ("M", 0),
        ("M", 1),
    ]


@pytest.mark.parametrize(
    ("option", "value", "allowed"),
    [
        ("--size", "Q", "S, M, L, XL"),
        ("--seeds", "0", "greater than or equal to 1"),
        ("--seeds", "few", "integer"),
        ("--seconds", "0.5", "greater than or equal to 1"),
        ("--workers", "0", "greater than or equal to 1"),
    ],
)
def test_bad_options_of_the_command_end_with_2(option: str, value: str, allowed: str, tmp_path: Path) -> None:
    done = maslin(tmp_path, "bench", option, value)
    assert done.returncode == 2
    assert option in done.stderr
    assert allowed in done.stderr
    assert "Traceback" not in done.stderr


def test_the_command_prints_a_list_and_nothing_else(tmp_path: Path) -> None:
    done = maslin(tmp_path, "bench", "--json", "--size", "S", "--seconds", "1")
    assert done.returncode == 0, done.stderr
    (row,) = json.loads(done.stdout)
    assert tuple(row) == KEYS
    assert row["instance"] == "S-plain-2.0-0"


def test_an_interrupt_ends_with_what_was_measured_so_far(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C comes while the second farm is planned, of which nothing is known yet."""

    def measure(bench: Bench, farm: Farm) -> Measured:
        if farm.seed:
            signal.raise_signal(signal.SIGINT)
            assert bench.stop()
        return measured(farm.size, None if farm.seed else 0.25, farm.seed)

    monkeypatch.setattr(Bench, "_measure", measure)
    done = CliRunner().invoke(app, ["bench", "--json", "--size", "S", "--seeds", "3"])
    assert done.exit_code == 0
    assert [row["seed"] for row in json.loads(done.stdout)] == [0]
    assert "Stopping; the farms so far are kept." in done.stderr


@pytest.mark.parametrize(
    ("option", "value", "allowed"),
    [
        ("--sizes", "S,Q", "S, M, L, XL"),
        ("--gluts", "3", "1.5, 2, 2.5"),
        ("--seeds", "100", "0, 1, 2"),
        ("--peers", "nobody", "planner"),
        ("--families", "rich", "cooks"),
        ("--grow", "rings", "pans"),
    ],
)
def test_bad_options_of_the_benchmarks_end_with_2(
    option: str, value: str, allowed: str, tmp_path: Path
) -> None:
    benchmarks = typer.Typer()
    benchmarks.command()(main)
    done = CliRunner().invoke(benchmarks, ["--out", str(tmp_path / "made"), option, value])
    assert done.exit_code == 2
    assert value.rsplit(",", maxsplit=1)[-1] in done.stderr
    assert allowed in done.stderr
    assert not (tmp_path / "made").exists()
