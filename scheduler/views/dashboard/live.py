"""The live part: how a planning run stands, redrawn every second while it works."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from scheduler.domain.scenario import Scenario
from scheduler.views import words
from scheduler.views.dashboard import parts, runs

STAGES = {
    "habit": "Habit's plan, the one to beat",
    "spoiled": "Least value lost on fruit",
    "short": "Fewest jars missing from orders",
    "money": "Least money spent, less orders paid",
    "tidiness": "Fewest recipes started",
    "polish": "Earlier finishes, day by day",
}


def progress(home: Path, input_hash: str, scenario: Scenario, where: str) -> None:
    """Draw the run of ``input_hash``; ``where`` is "sidebar" (a bar and Stop) or "page" (every stage)."""
    draw = _sidebar if where == "sidebar" else _page
    draw(home, input_hash, scenario)


@st.fragment(run_every=1.0)
def _sidebar(home: Path, input_hash: str, _: Scenario) -> None:
    run = _running(home, input_hash)
    now = run.steps[-1].stage if run.steps else "reading the scenario"
    stage = STAGES.get(now, now.capitalize())
    share = min(1.0, run.elapsed / run.asked_seconds) if run.asked_seconds else 0.0
    st.progress(share, text=f"{stage} · {run.elapsed:.0f} of at most {run.asked_seconds:.0f} s")
    kept, button = (
        ("the points so far are kept", "Stop and keep the points so far")
        if run.points
        else ("the best plan so far is kept", "Stop and keep the best")
    )
    if run.stopping:
        st.caption(f"Stopping; {kept}.")
    elif st.button(button, key="stop", width="stretch"):
        runs.stop(home, input_hash)
        st.rerun(scope="fragment")


@st.fragment(run_every=1.0)
def _page(home: Path, input_hash: str, scenario: Scenario) -> None:
    run = _running(home, input_hash)
    latest = {step.stage: step for step in run.steps}
    now = run.steps[-1].stage if run.steps else ""
    st.subheader("Working out the trade-off curve" if run.points else "Planning")
    titles = {stage: stage.capitalize() for stage in latest} if run.points else STAGES
    parts.rows(
        (_mark(stage, now, latest), title, _numbers(latest.get(stage), scenario))
        for stage, title in titles.items()
    )


def _running(home: Path, input_hash: str) -> runs.Run:
    """The run, or a redraw of the whole page once it has ended."""
    run = runs.look(home, input_hash)
    if run.state != "running":
        st.rerun()
    return run


def _mark(stage: str, now: str, latest: dict[str, runs.Step]) -> str:
    if stage == now:
        return "at work"
    return "done" if stage in latest else "to come"


def _numbers(step: runs.Step | None, scenario: Scenario) -> str:
    if step is None:
        return ""
    told = []
    if step.value is not None:
        told.append(f"best so far {words.goal_amount(step.value, step.unit, scenario)}")
    if step.bound is not None:
        told.append(f"cannot be below {words.goal_amount(step.bound, step.unit, scenario)}")
    if step.gap is not None:
        told.append(f"gap {words.percent(step.gap)}")
    if step.message:
        told.append(step.message)
    return ", ".join(told)
