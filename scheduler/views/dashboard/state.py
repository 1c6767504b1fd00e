"""What a page is shown: the chosen scenario, its faults or situation, its plan and the light."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import streamlit as st

from scheduler.domain.scenario import Scenario, Situation
from scheduler.errors import Fault, InputFaults
from scheduler.intake import read_scenario
from scheduler.plan import Plan
from scheduler.views.dashboard import runs
from scheduler.views.look import DARK, LIGHT, Look


@dataclass(frozen=True)
class Shown:
    """Everything that a page reads. ``plan`` is None until one was made."""

    folder: Path
    situation: Situation
    plan: Plan | None
    run: runs.Run
    home: Path
    look: Look

    @property
    def scenario(self) -> Scenario:
        return self.situation.scenario

    @property
    def ready(self) -> Plan:
        """The plan of a page that is only shown with one."""
        assert self.plan is not None
        return self.plan

    def cooking_days(self) -> list[date]:
        """Days with batches, in order."""
        return sorted({batch.day for batch in self.ready.batches})

    def working_days(self) -> list[date]:
        """Days on which somebody comes in, in order."""
        return sorted({shift.day for shift in self.ready.shifts})


Read = Situation | tuple[Fault, ...]
"""A situation, or every fault that stands against it."""


def current_look() -> Look:
    """The look of the light that the browser shows."""
    return DARK if st.context.theme.type == "dark" else LIGHT


def read(folder: Path) -> Read:
    """Read a scenario folder, again only when one of its files has changed."""
    return _read(folder, _stamp(folder))


def plan_of(home: Path, input_hash: str) -> Plan | None:
    """The kept plan of this input, parsed again only when the file has changed."""
    path = home / input_hash / "plan.json"
    return _plan(home, input_hash, path.stat().st_mtime_ns) if path.exists() else None


@st.cache_resource(max_entries=16, show_spinner=False)
def _read(folder: Path, stamp: tuple[tuple[str, int, int], ...]) -> Read:
    try:
        return read_scenario(folder)
    except InputFaults as error:
        return error.faults


@st.cache_resource(max_entries=16, show_spinner=False)
def _plan(home: Path, input_hash: str, written: int) -> Plan | None:
    return runs.last_plan(home, input_hash)


def _stamp(folder: Path) -> tuple[tuple[str, int, int], ...]:
    try:
        found = [(path.name, path.stat()) for path in sorted(folder.iterdir())]
    except OSError:
        return ()
    return tuple((name, stat.st_mtime_ns, stat.st_size) for name, stat in found)
