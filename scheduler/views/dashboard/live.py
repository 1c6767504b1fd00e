"""The live part: how a planning run stands, redrawn every second while it works."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.views import words
from scheduler.views.dashboard import parts, runs
from scheduler.views.elsewhere import of_a_run

STAGES = {
    "habit": message("Habit's plan, the one to beat"),
    "spoiled": message("Least value lost on fruit"),
    "short": message("Fewest jars missing from orders"),
    "money": message("Least money spent, less orders paid"),
    "tidiness": message("Fewest recipes started"),
    "polish": message("Earlier finishes, day by day"),
}


def progress(home: Path, input_hash: str, scenario: Scenario, where: str) -> None:
    """Draw the run of ``input_hash``; ``where`` is "sidebar" (a bar and Stop) or "page" (every stage)."""
    draw = _sidebar if where == "sidebar" else _page
    draw(home, input_hash, scenario)


@st.fragment(run_every=1.0)
def _sidebar(home: Path, input_hash: str, _: Scenario) -> None:
    run = _running(home, input_hash)
    now = run.steps[-1].stage if run.steps else message("reading the scenario")
    stage = _title(now)
    share = min(1.0, run.elapsed / run.asked_seconds) if run.asked_seconds else 0.0
    st.progress(share, text=f"{stage} · {_elapsed(run)}")
    kept, button = (
        (say("Stopping; the points so far are kept."), say("Stop and keep the points so far"))
        if run.points
        else (say("Stopping; the best plan so far is kept."), say("Stop and keep the best"))
    )
    if run.stopping:
        st.caption(kept)
    elif st.button(button, key="stop", width="stretch"):
        runs.stop(home, input_hash)
        st.rerun(scope="fragment")


@st.fragment(run_every=1.0)
def _page(home: Path, input_hash: str, scenario: Scenario) -> None:
    run = _running(home, input_hash)
    latest = {step.stage: step for step in run.steps}
    now = run.steps[-1].stage if run.steps else ""
    st.subheader(say("Working out the trade-off curve") if run.points else say("Planning"))
    titles = {stage: _title(stage) for stage in (latest if run.points else STAGES)}
    parts.rows(
        (_mark(stage, now, latest), title, _numbers(latest.get(stage), scenario))
        for stage, title in titles.items()
    )


def _title(stage: str) -> str:
    """What a stage of a run is called."""
    if stage.startswith("point "):
        number, _, of = stage.removeprefix("point ").partition(" of ")
        return say("Point {n} of {all}", n=number, all=of)
    return spoken(STAGES.get(stage, stage)) if stage in STAGES else words.sentence(spoken(stage))


def _elapsed(run: runs.Run) -> str:
    return say("{now} of at most {most} s", now=f"{run.elapsed:.0f}", most=f"{run.asked_seconds:.0f}")


def _running(home: Path, input_hash: str) -> runs.Run:
    """The run, or a redraw of the whole page once it has ended."""
    run = runs.look(home, input_hash)
    if run.state != "running":
        st.rerun()
    return run


def _mark(stage: str, now: str, latest: dict[str, runs.Step]) -> str:
    told = latest.get(stage)
    # Made beside the goals, and taken at the latest before the days are ended early.
    beside = stage == "habit" and now != "polish" and told is not None and told.value is None
    if stage == now or beside:
        return say("at work")
    return say("done") if stage in latest else say("to come")


def _numbers(step: runs.Step | None, scenario: Scenario) -> str:
    if step is None:
        return ""
    told = []
    if step.value is not None:
        told.append(say("best so far {amount}", amount=words.goal_amount(step.value, step.unit, scenario)))
    if step.bound is not None:
        told.append(
            say("cannot be below {amount}", amount=words.goal_amount(step.bound, step.unit, scenario))
        )
    if step.gap is not None:
        told.append(say("gap {share}", share=words.percent(step.gap)))
    if step.message:
        told.append(of_a_run(step.message))
    return ", ".join(told)
