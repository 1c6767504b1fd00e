"""Page "Who does what": everybody's day, on the clock and as a list, and their calendars."""

from __future__ import annotations

import streamlit as st

from scheduler.languages import message, say, spoken
from scheduler.plan_rows import StageKind
from scheduler.views import charts, tables, work_tables
from scheduler.views.dashboard import parts, phones, replies
from scheduler.views.dashboard.state import Shown

_STANDING_BY = message("within call, in case it sets early; other work goes on meanwhile")
TITLE = message("Who does what")


def show(shown: Shown) -> None:
    """Draw the page; what people say stands there without a plan, too."""
    if shown.plan is None:
        parts.no_plan_yet(shown, spoken(TITLE), say("Everybody's day"))
    else:
        _plan(shown)
    replies.show(shown)


def _plan(shown: Shown) -> None:
    st.header(spoken(TITLE))
    day = parts.choose_day(shown.working_days(), "work-day")
    if day is None:
        parts.note(say("Nobody comes in to the kitchen in this plan."))
        return
    plan, scenario = shown.ready, shown.scenario
    st.html(charts.fruit_key(plan, scenario, shown.look, patterned=False))
    st.html(charts.stage_key(shown.look, charts.stages_drawn(plan, StageKind), with_break=True))
    figure = charts.day_by_person(plan, scenario, day, shown.look)
    parts.chart(
        figure,
        "people",
        say("Shifts, breaks and stages of everybody who comes in"),
        tables.work_table(plan, scenario, day),
    )
    present = [shift.person for shift in plan.shifts if shift.day == day]
    order = [person.name for person in scenario.people if person.name in present]
    person = st.selectbox(say("List for"), order, key="person")
    list_ = tables.work_table(plan, scenario, day, person)
    parts.rows(
        (
            f"{start}–{end}" if start != end else start,
            work + (f": {on}" if on else ""),
            _remark(work, who, person),
        )
        for start, end, work, on, who in list_.itertuples(index=False)
    )
    parts.note(say("Tired hands"), work_tables.care_of_hands(scenario))
    phones.show(shown, person)


def _remark(work: str, who: str, person: str) -> str:
    """With whom a stage is done, and what its name does not say."""
    others = [name for name in who.split(", ") if name != person]
    told = [say("with {others}", others=", ".join(others))] if others else []
    if work == spoken(StageKind.STAND_BY):
        told.append(spoken(_STANDING_BY))
    return "; ".join(told)
