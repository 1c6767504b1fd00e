"""Planning runs: each in a process of its own, found again by the hash of its input.

Everything a run says stands in files under ``home / hash``, so that a reloaded page, a second tab
or a restarted server finds it, and two of the same never start:

    plan.json            the last plan, kept until a newer one replaces it whole
    curve.json           the plans of the last trade-off curve, likewise
    files, of.json       what it was made from (see ``made_from``)
    run/order.json       what was asked
    run/progress.jsonl   one line for each step of the planner
    run/alive            touched every second by the running process
    run/stop             asks it to end with the best plan so far
    run/end.json         how it ended
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from scheduler.languages import say
from scheduler.plan_json import from_json
from scheduler.plan_rows import Plan

PROGRAM = (sys.executable, "-m", "scheduler.views.dashboard.planning")
QUIET_SECONDS = 60.0
"""Another server's run whose process has not stirred for so long is over; a busy machine starts slowly."""

_children: dict[Path, subprocess.Popen[bytes]] = {}
_lock = threading.Lock()


@dataclass(frozen=True, slots=True)
class Step:
    """One line of progress; see ``scheduler.planner.Progress``."""

    seconds: float
    stage: str
    value: float | None
    bound: float | None
    gap: float | None
    unit: str
    message: str


@dataclass(frozen=True, slots=True)
class Run:
    """A run as its files tell it. ``said`` are the lines to show when it failed."""

    state: Literal["none", "running", "done", "failed"]
    asked_seconds: float = 0.0
    elapsed: float = 0.0
    stopping: bool = False
    steps: tuple[Step, ...] = ()
    said: tuple[str, ...] = ()
    points: int = 0
    """Points of a trade-off curve that were asked for; 0 where a plan was."""


def start(
    home: Path,
    input_hash: str,
    scenario: Path,
    seconds: float,
    program: Sequence[str] = PROGRAM,
    points: int = 0,
) -> bool:
    """Start planning, or a trade-off curve of so many ``points``.

    False if this very input is being planned already. Raises OSError if it cannot start.
    """
    folder = home / input_hash / "run"
    with _lock:
        if look(home, input_hash).state == "running":
            return False
        shutil.rmtree(folder, ignore_errors=True)
        folder.parent.mkdir(parents=True, exist_ok=True)
        try:
            folder.mkdir()  # fails if another server on this machine was faster
        except FileExistsError:
            return False
        order = {
            "scenario": str(scenario.resolve()),
            "hash": input_hash,
            "seconds": seconds,
            "points": points,
            "at": time.time(),
        }
        (folder / "order.json").write_text(json.dumps(order), encoding="utf-8")
        with (folder / "log.txt").open("wb") as log:
            _children[folder] = subprocess.Popen(
                [*program, str(folder)], stdin=subprocess.DEVNULL, stdout=log, stderr=log
            )
    return True


def stop(home: Path, input_hash: str) -> None:
    """Ask a run to end and keep its best plan."""
    folder = home / input_hash / "run"
    if folder.is_dir():
        (folder / "stop").touch()


def look(home: Path, input_hash: str) -> Run:
    """How the last run of this input stands."""
    folder = home / input_hash / "run"
    order = _read_json(folder / "order.json")
    if order is None:
        return Run("none")
    steps = _steps(folder / "progress.jsonl")
    end = _read_json(folder / "end.json")
    child = _children.get(folder)
    if child is not None:
        child.poll()  # lets go of a process that has ended
    asked, points = float(order["seconds"]), int(order.get("points", 0))
    if end is not None:
        state: Literal["done", "failed"] = "done" if end["state"] == "done" else "failed"
        return Run(state, asked, float(end["seconds"]), False, steps, tuple(end["said"]), points)
    elapsed = time.time() - float(order["at"])
    if _alive(folder, elapsed):
        return Run("running", asked, elapsed, (folder / "stop").exists(), steps, points=points)
    said = (
        say("Planning ended before it had said why."),
        say("Its last words are in {file}.", file=folder / "log.txt"),
    )
    return Run("failed", asked, elapsed, False, steps, said, points)


def last_plan(home: Path, input_hash: str) -> Plan | None:
    """The plan kept for this input, or None if there is none that can be read."""
    try:
        plan = from_json((home / input_hash / "plan.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return plan if plan.input_hash == input_hash else None


def last_curve(home: Path, input_hash: str) -> tuple[Plan, ...]:
    """The plans of the trade-off curve kept for this input; none if there is none that can be read."""
    try:
        texts = json.loads((home / input_hash / "curve.json").read_text(encoding="utf-8"))
        plans = tuple(from_json(text) for text in texts)
    except (OSError, ValueError, TypeError):
        return ()
    return plans if all(plan.input_hash == input_hash for plan in plans) else ()


def _alive(folder: Path, elapsed: float) -> bool:
    child = _children.get(folder)
    if child is not None:
        return child.poll() is None
    try:
        return time.time() - (folder / "alive").stat().st_mtime < QUIET_SECONDS
    except OSError:
        return elapsed < QUIET_SECONDS  # still starting


def _steps(path: Path) -> tuple[Step, ...]:
    try:
        lines = path.read_text(encoding="utf-8").split("\n")
    except OSError:
        return ()
    # What follows the last line end is a line that is still being written.
    return tuple(Step(**json.loads(line)) for line in lines[:-1])


def _read_json(path: Path) -> dict[str, Any] | None:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) else None
