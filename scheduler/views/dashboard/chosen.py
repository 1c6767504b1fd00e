"""The batch that is looked at on page "Cook calendar": chosen on the chart or from a list, and its sheet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

import streamlit as st

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.plan_rows import Batch, Plan, Stage, StageKind
from scheduler.views import tables, words
from scheduler.views.batch_text import cautions_of, essentials
from scheduler.views.dashboard import parts
from scheduler.views.held_tables import held_sign, is_held

NONE = message("None of them")
_LIST, _CLICKS = "batch list", "clicks"


def clicked(plan: Plan, chart: str) -> None:
    """Choose the batch whose bar was clicked on in the chart with key ``chart``; other marks do nothing."""
    points = st.session_state[chart]["selection"]["points"]
    known = {batch.id for batch in plan.batches}
    for point in points:
        name = (point.get("customdata") or [""])[0]
        if name in known:
            st.session_state[_key(plan)] = st.session_state[st.session_state[_LIST]] = name
            st.session_state[_CLICKS] = clicks() + 1


def clicks() -> int:
    """How often a bar was clicked on.

    Part of the chart's key: one drawn afresh takes the next click on the same bar as a choice, where it would
    only take back the one before.
    """
    return int(st.session_state.get(_CLICKS, 0))


def marked(plan: Plan, days: Sequence[date]) -> str:
    """The id of the batch that is looked at, empty where it is none of these days'."""
    name = str(st.session_state.get(_key(plan)) or "")
    return name if name in {batch.id for batch in plan.batches if batch.day in days} else ""


def choose(plan: Plan, scenario: Scenario, days: Sequence[date]) -> Batch | None:
    """Draw the list of the batches of these days, in the order of cooking, to choose from."""
    times = tables.clock_times(plan)
    batches = sorted(
        (batch for batch in plan.batches if batch.day in days),
        key=lambda batch: (batch.day, times.get(batch.id, (0, 0)), batch.id),
    )
    by_id = {batch.id: batch for batch in batches}

    def name(of: str) -> str:
        if not of:
            return spoken(NONE)
        batch = by_id[of]
        day = f"{words.day_name(batch.day)}, " if len(days) > 1 else ""
        start = f"{words.clock(times[of][0])} " if of in times else ""
        sign = f" {held_sign()}" if is_held(batch, plan, scenario) else ""
        what = title(batch, plan, scenario)
        place = say("{what} in {pan} on {ring}", what=what, pan=batch.pan, ring=batch.ring)
        return f"{day}{start}{place}{sign}"

    options = ["", *by_id]
    memory = st.session_state
    # The browser knows an option by its words, which change when a batch is held: other words, another list.
    memory[_LIST] = key = f"batches {hash(tuple(map(name, options)))}"
    if key not in memory:
        memory[key] = marked(plan, days)
    asked = st.selectbox(say("Look at a batch (or click on its bar)"), options, format_func=name, key=key)
    memory[_key(plan)] = asked
    return by_id.get(asked)


def title(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    """``S strawberry jam``, with what the batch does where it is a part of two days."""
    part = "" if batch.part.value == "whole" else f", {spoken(batch.part)}"
    return f"{words.letters(batch, plan, scenario)} {batch.recipe}{part}"


def sheet(batch: Batch, plan: Plan, scenario: Scenario, acts: Callable[[], None]) -> None:
    """What is in a batch, what can be done with it (``acts``), and beside it its steps by the clock with who
    does them and what to take care of."""
    held = f" {held_sign()}" if is_held(batch, plan, scenario) else ""
    st.subheader(f"{title(batch, plan, scenario)}, {words.day_name(batch.day)}{held}")
    stages = sorted((s for s in plan.stages if s.batch == batch.id), key=lambda s: (s.start, s.end))
    left, right = st.columns(2, gap="medium")
    with left:
        parts.note(say("What is in it"), essentials(batch, plan, scenario))
        acts()
    with right:
        _steps(stages)


def _steps(stages: Sequence[Stage]) -> None:
    parts.rows(
        (
            f"{words.clock(stage.start)}–{words.clock(stage.end)}",
            spoken(stage.kind) + (spoken(_ALLOWANCE) if stage.kind is StageKind.REBOIL else ""),
            ", ".join(filter(None, [f"{stage.end - stage.start} min", *stage.people])),
        )
        for stage in stages
    )
    cautions = dict.fromkeys(spoken(caution.text) for stage in stages for caution in cautions_of(stage.kind))
    with st.expander(say("Take care with this batch")):
        parts.note(say("Take care"), list(cautions))


_ALLOWANCE = message(", if the test does not set")


def _key(plan: Plan) -> str:
    """Where the choice is remembered: ids are those of one plan."""
    return f"batch of {plan.input_hash[:12]} {plan.seconds}"
