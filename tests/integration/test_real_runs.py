"""Whole runs as people start them: repeated in another process, and stopped with Ctrl-C in a terminal."""

from __future__ import annotations

import json
import os
import re
import select
import signal
import subprocess
import time
from datetime import date
from pathlib import Path

import pytest

from scheduler.auditor import audit
from scheduler.intake import read_scenario
from scheduler.plan_json import from_json
from scheduler.plan_rows import Plan
from scheduler.planner import Settings, make_plan
from scheduler.solve.ranks import CLOSE_ENOUGH
from scheduler.views.files import plan_texts
from tests.commands import PROGRAM

SCENARIOS = Path(__file__).parents[2] / "scenarios"
GLUT = SCENARIOS / "glut-week"
FARM = Path(__file__).parents[1] / "farm"
PATIENCE = 150.0
"""Seconds until a run that says nothing more counts as hung; far more than a busy machine needs."""


def three_days(folder: Path) -> Path:
    """The first three days of a quiet week: two pans, two rings, and an order that must be cooked for."""
    last, kept = "2026-08-26", ("big copper", "small steel", "gas left", "induction front")
    folder.mkdir()
    for source in sorted((FARM / "quiet-week").iterdir()):
        text = source.read_text(encoding="utf-8")
        if source.name == "kitchen.toml":
            text = text.replace("days = 7", "days = 3")
            blocks = [
                block
                for block in text.split("\n\n")
                if not block.startswith(("[[pan]]", "[[ring]]")) or any(f'"{name}"' in block for name in kept)
            ]
            text = "\n\n".join(blocks)
        elif source.name == "orders.csv":
            heading = text.splitlines()[0]
            text = f"{heading}\nO-201,farm shop,strawberry jam,40,{last},4.20,1\n"
        elif text.startswith("date,"):
            heading, *rows = text.splitlines()
            text = "\n".join([heading, *(row for row in rows if row.split(",")[0] <= last)]) + "\n"
        (folder / source.name).write_text(text, encoding="utf-8")
    return folder


def test_one_worker_and_one_seed_give_the_same_plan_in_another_process(tmp_path: Path) -> None:
    scenario = three_days(tmp_path / "three-days")
    words = ["plan", str(scenario), "--workers", "1", "--seed", "0", "--seconds", "120"]
    # At the same time, and with other hashes of words: neither the clock nor the order of a set may count.
    runs = [
        subprocess.Popen(
            [*PROGRAM, *words, "--out", name],
            cwd=tmp_path,
            env=os.environ | {"PYTHONHASHSEED": hashes},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        for name, hashes in (("first", "1"), ("second", "2"))
    ]
    for run in runs:
        said = run.communicate(timeout=PATIENCE)[1]
        assert run.returncode == 0, said
    first, second = (
        {path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("first", "second")
    )
    plans = [json.loads(files.pop("plan.json")) for files in (first, second)]
    for plan in plans:
        assert plan["batches"], "a plan that cooks nothing is no test"
        for goal in plan["goals"]:
            assert goal["gap"] <= CLOSE_ENOUGH[goal["name"]], "ended by the clock, not by itself"
        del plan["seconds"]
    assert plans[0] == plans[1]
    assert first == second


def interrupted(out: Path, sign: str, *options: str) -> tuple[int, str, str]:
    """Plan the glut week in a terminal and press Ctrl-C once ``sign`` (a pattern) stands on standard error.

    Exit code, standard output and standard error. Fails where the sign or the end does not come.
    """
    terminal, theirs = os.openpty()  # the line of progress is drawn in terminals alone
    command = [*PROGRAM, "plan", str(GLUT), "--out", str(out), "--seconds", "300", *options]
    wide = os.environ | {"COLUMNS": "160", "TERM": "xterm"}
    shown = out.with_name("standard output")
    with shown.open("wb") as stdout, subprocess.Popen(command, stdout=stdout, stderr=theirs, env=wide) as run:
        os.close(theirs)
        try:
            said, asked = "", False
            while piece := _read(terminal):
                said += piece
                if not asked and re.search(sign, said):
                    asked = True
                    run.send_signal(signal.SIGINT)
            assert asked, f"ended before {sign!r} was seen: {said}"
            code = run.wait(PATIENCE)
        finally:
            run.kill()
            os.close(terminal)
    return code, shown.read_text(encoding="utf-8"), said


def _read(terminal: int) -> str:
    """What is said next; empty once the program has closed its end."""
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        if select.select([terminal], [], [], 1.0)[0]:
            try:
                return os.read(terminal, 65_536).decode("utf-8", errors="replace")
            except OSError:  # how Linux says that nobody holds the other end any more
                return ""
    pytest.fail("the run says nothing more")


@pytest.fixture(scope="module")
def by_habit() -> Plan:
    return make_plan(read_scenario(GLUT), Settings(method="habit", workers=1))


def test_ctrl_c_keeps_the_best_plan_so_far(tmp_path: Path, by_habit: Plan) -> None:
    out = tmp_path / "out"
    code, shown, said = interrupted(out, r"best -?\d")
    assert code == 0, said
    assert "Stopping; the best plan so far is kept." in said
    assert "Written to" in shown
    plan = from_json((out / "plan.json").read_text(encoding="utf-8"))
    assert audit(read_scenario(GLUT), plan) == ()
    assert {path.name for path in out.iterdir()} == set(plan_texts(plan))
    for name, text in plan_texts(plan).items():
        assert (out / name).read_bytes() == text.encode("utf-8")
    # The whole search proves the last goal: it was stopped if that stands unproved.
    assert plan.status == "feasible"
    assert plan.goals[-1].gap > 0
    assert [goal.name for goal in plan.goals] == ["spoiled", "short", "money", "tidiness"]
    for goal in plan.goals:
        assert goal.bound <= goal.best + 0.01
    assert plan.goals[0].best <= by_habit.goals[0].value + 0.01


def spare_jars(plan: Plan, recipe: str, due: date) -> int:
    """Jars of a recipe that could have gone out by a day: the fewest that are left on it or later."""
    return min((row.left for row in plan.jars if row.recipe == recipe and row.day >= due), default=0)


def test_ctrl_c_leaves_no_order_unfilled_while_its_jars_stand_on_the_shelf(tmp_path: Path) -> None:
    code, _, said = interrupted(tmp_path / "out", "short: dealing")
    assert code == 0, said
    plan = from_json((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    spare = {
        line.order: spare_jars(plan, line.recipe, line.due) for line in plan.orders if line.filled < line.jars
    }
    assert [order for order, jars in spare.items() if jars > 0] == []


@pytest.mark.parametrize(
    ("sign", "options"),
    # With one worker the habit comes before the search, which else has a plan of its own within a second.
    [("reading", ()), ("planning by habit", ("--workers", "1"))],
)
def test_ctrl_c_before_any_plan_ends_with_4_and_writes_nothing(
    sign: str, options: tuple[str, ...], tmp_path: Path
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "plan.json").write_text("an earlier plan", encoding="utf-8")
    code, shown, said = interrupted(out, sign, *options)
    assert code == 4, said
    assert "before any plan was found" in said
    assert "Traceback" not in said
    assert shown == ""
    assert [path.name for path in out.iterdir()] == ["plan.json"]
    assert (out / "plan.json").read_text(encoding="utf-8") == "an earlier plan"
