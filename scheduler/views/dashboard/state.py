"""What a page is shown: the chosen scenario, its faults or situation, its plan and the light."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from scheduler.domain.scenario import Scenario, Situation
from scheduler.errors import Fault, InputFaults
from scheduler.intake import read_scenario
from scheduler.languages import ENGLISH, METRIC, ask, ask_units, languages
from scheduler.plan_rows import Plan
from scheduler.views.dashboard import made_from, runs
from scheduler.views.look import DARK, LIGHT, Look


@dataclass(frozen=True)
class Shown:
    """Everything that a page reads. ``plan`` is None until one was made.

    It is the plan of ``point`` (from 1) of the trade-off ``curve`` where one is chosen; ``own`` tells whether
    there is one by the goals in their order. Where the plan was made of the files as they were earlier,
    ``situation`` is what they said then, ``now`` what they say now and ``changed`` which of them differ.
    """

    folder: Path
    situation: Situation
    plan: Plan | None
    run: runs.Run
    home: Path
    look: Look
    curve: tuple[Plan, ...] = ()
    point: int | None = None
    own: bool = True
    now: Situation | None = None
    changed: tuple[str, ...] = ()

    @property
    def current(self) -> Situation:
        """What the scenario's files say now."""
        return self.now or self.situation

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


USUAL_SECONDS = 60

Read = Situation | tuple[Fault, ...]
"""A situation, or every fault that stands against it."""


def language() -> str:
    """The language of this session's reader: as chosen, as the page's address says, or as the browser asks.

    A choice stands in the page's address, so that a reload finds it.
    """
    memory = st.session_state
    if "language" not in memory:
        asked = st.query_params.get("language", "")
        memory["language"] = asked if asked in languages() else _of_browser()
    return str(memory["language"])


def choose_language(chosen: str) -> None:
    """Speak a language on all pages of this session, from now on."""
    st.session_state["language"] = chosen


def keep_language() -> None:
    """Put the language into the page's address where it is not what the browser asks for anyway."""
    if language() != _of_browser():
        st.query_params["language"] = language()
    elif "language" in st.query_params:
        del st.query_params["language"]


def _of_browser() -> str:
    wished = str(st.context.locale or "").split("-")[0].lower()
    return wished if wished in languages() else ENGLISH


def _language_of_reader() -> str | None:
    """The language of the session whose page, part of a page or press is at work; None outside of any."""
    return language() if get_script_run_ctx(suppress_warning=True) else None


ask(_language_of_reader)


def keep_units(shown: Shown | None) -> None:
    """Show measures in the units of the farm that is shown, from now on."""
    st.session_state["units"] = str(shown.scenario.units) if shown else METRIC


def _units_of_reader() -> str | None:
    in_session = get_script_run_ctx(suppress_warning=True)
    return str(st.session_state.get("units", METRIC)) if in_session else None


ask_units(_units_of_reader)


def current_look() -> Look:
    """The look of the light that the browser shows."""
    return DARK if st.context.theme.type == "dark" else LIGHT


def read(folder: Path) -> Read:
    """Read a scenario folder, again only when one of its files has changed."""
    return _read(folder, _stamp(folder))


def with_earlier_plan(shown: Shown) -> Shown | None:
    """The same with the newest plan of the folder's files as they were earlier, if one is kept."""
    kept = made_from.last_planned(shown.home, shown.folder)
    if kept is None:
        return None
    then, plan = read(kept.files), plan_of(shown.home, kept.input_hash)
    if not isinstance(then, Situation) or then.input_hash != kept.input_hash or plan is None:
        return None
    changed = made_from.changed_since(kept.files, shown.folder)
    return replace(shown, situation=then, plan=plan, point=None, now=shown.situation, changed=changed)


def seconds_to_plan() -> int:
    """Seconds that planning may take at most, as they were last chosen at the side."""
    return int(st.session_state.get("seconds asked", USUAL_SECONDS))


def plan_of(home: Path, input_hash: str) -> Plan | None:
    """The kept plan of this input, parsed again only when the file has changed."""
    path = home / input_hash / "plan.json"
    return _plan(home, input_hash, path.stat().st_mtime_ns) if path.exists() else None


def curve_of(home: Path, input_hash: str) -> tuple[Plan, ...]:
    """The kept trade-off curve of this input, parsed again only when the file has changed."""
    path = home / input_hash / "curve.json"
    return _curve(home, input_hash, path.stat().st_mtime_ns) if path.exists() else ()


def choose_point(point: int) -> None:
    """Show the plan of a point of the curve on all pages, from now on; 0 for the plan by the goals."""
    st.session_state["point"] = point


def point_of(curve: tuple[Plan, ...], own: bool) -> int | None:
    """The point whose plan is shown, if any: the one chosen, or the first where there is no other plan.

    A choice stands in the page's address, so that a reload finds it.
    """
    memory = st.session_state
    if "point" not in memory:
        asked = st.query_params.get("point", "")
        memory["point"] = int(asked) if asked.isdecimal() else 0
    point = int(memory["point"])
    if not 1 <= point <= len(curve):
        point = 1 if curve and not own else 0
    if point:
        st.query_params["point"] = str(point)
    elif "point" in st.query_params:
        del st.query_params["point"]
    return point or None


@st.cache_resource(max_entries=16, show_spinner=False)
def _read(folder: Path, stamp: tuple[tuple[str, int, int], ...]) -> Read:
    try:
        return read_scenario(folder)
    except InputFaults as error:
        return error.faults


@st.cache_resource(max_entries=16, show_spinner=False)
def _plan(home: Path, input_hash: str, written: int) -> Plan | None:
    return runs.last_plan(home, input_hash)


@st.cache_resource(max_entries=4, show_spinner=False)
def _curve(home: Path, input_hash: str, written: int) -> tuple[Plan, ...]:
    return runs.last_curve(home, input_hash)


def _stamp(folder: Path) -> tuple[tuple[str, int, int], ...]:
    try:
        found = [(path.name, path.stat()) for path in sorted(folder.iterdir())]
    except OSError:
        return ()
    return tuple((name, stat.st_mtime_ns, stat.st_size) for name, stat in found)
