"""The command line as a person runs it: in a folder of its own, and if need be as a process of its own."""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
from pathlib import Path
from unittest import mock

from rich.console import Console

from scheduler import cli, plan_commands

FARM = Path(__file__).parent / "farm" / "quiet-week"
"""A small farm whose plan by habit takes seconds."""
PROGRAM = (sys.executable, "-c", "from scheduler.cli import main; main()")

Done = subprocess.CompletedProcess[str]


def maslin(place: Path, *words: str, **more: str) -> Done:
    """Run a command in ``place``, whose folder ``plans`` is the store of plans; ``more`` is environment.

    It runs in this process, which has read all rooms: a process of its own takes a second to do so.
    """
    said, told = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(place),
        mock.patch.dict(os.environ, _environment(place) | more),
        mock.patch.object(sys, "argv", ["maslin", *words]),
        contextlib.redirect_stdout(said),
        contextlib.redirect_stderr(told),
        mock.patch.multiple(cli, screen=Console(), aside=Console(stderr=True)),
        mock.patch.multiple(plan_commands, screen=Console(), aside=Console(stderr=True)),
    ):
        try:
            cli.main()
            code = 0
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else int(end.code is not None)
    return Done(words, code, said.getvalue(), told.getvalue())


def started(place: Path, *words: str, **more: str) -> Done:
    """The same as a process of its own: for what imports, the interpreter or an exit make of it."""
    environment = os.environ | _environment(place) | more
    return subprocess.run(
        [*PROGRAM, *words],
        cwd=place,
        env=environment,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def _environment(place: Path) -> dict[str, str]:
    return {"MASLIN_PLANS": str(place / "plans"), "COLUMNS": "200"}


def planned(place: Path, farm: Path = FARM) -> Path:
    """``place``, with the plan by habit of a farm in its folder ``plan``."""
    done = maslin(place, "plan", str(farm), "--method", "habit", "--out", "plan")
    assert done.returncode == 0, done.stderr
    return place
