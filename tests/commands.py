"""The command line as a person runs it: a process of its own, in a folder of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

FARM = Path(__file__).parent / "farm" / "quiet-week"
"""A small farm whose plan by habit takes seconds."""


def maslin(place: Path, *words: str, **more: str) -> subprocess.CompletedProcess[str]:
    """Run a command in ``place``, whose folder ``plans`` is the store of plans; ``more`` is environment."""
    command = [sys.executable, "-c", "from scheduler.cli import main; main()", *words]
    environment = os.environ | {"MASLIN_PLANS": str(place / "plans"), "COLUMNS": "200"} | more
    return subprocess.run(
        command, cwd=place, env=environment, capture_output=True, text=True, timeout=300, check=False
    )


def planned(place: Path, farm: Path = FARM) -> Path:
    """``place``, with the plan by habit of a farm in its folder ``plan``."""
    done = maslin(place, "plan", str(farm), "--method", "habit", "--out", "plan")
    assert done.returncode == 0, done.stderr
    return place
