"""Page "Who does what": everybody's day, on the clock and as a list, and their calendars."""

from __future__ import annotations

from typing import Any

import pandas as pd
import streamlit as st

from scheduler.plan import StageKind
from scheduler.views import charts, tables, work_tables
from scheduler.views.dashboard import parts, phones, replies
from scheduler.views.dashboard.state import Shown

_MEANT = {
    StageKind.STAND_BY.value: "within call, in case it sets early; other work goes on meanwhile",
}


TITLE = "Who does what"


def show(shown: Shown) -> None:
    """Draw the page; what people say stands there without a plan, too."""
    if shown.plan is None:
        parts.no_plan_yet(shown, TITLE, "Everybody's day")
    else:
        _plan(shown)
    replies.show(shown)


def _plan(shown: Shown) -> None:
    st.header(TITLE)
    day = parts.choose_day(shown.working_days(), "work-day")
    if day is None:
        parts.note("Nobody comes in to the kitchen in this plan.")
        return
    plan, scenario = shown.ready, shown.scenario
    st.html(charts.fruit_key(plan, scenario, shown.look, patterned=False))
    st.html(charts.stage_key(shown.look, charts.stages_drawn(plan, StageKind), with_break=True))
    figure = charts.day_by_person(plan, scenario, day, shown.look)
    parts.chart(
        figure,
        "people",
        "Shifts, breaks and stages of everybody who comes in",
        tables.work_table(plan, scenario, day),
    )
    present = [shift.person for shift in plan.shifts if shift.day == day]
    order = [person.name for person in scenario.people if person.name in present]
    person = st.selectbox("List for", order, key="person")
    list_ = tables.work_table(plan, scenario, day, person)
    parts.rows(
        (
            f"{row['from']}–{row['to']}" if row["from"] != row["to"] else row["from"],
            row["work"] + (f": {row['on']}" if row["on"] else ""),
            _remark(row, person),
        )
        for _, row in list_.iterrows()
    )
    parts.note("Tired hands", work_tables.care_of_hands(scenario))
    phones.show(shown, person)


def _remark(row: pd.Series[Any], person: str) -> str:
    """With whom a stage is done, and what its name does not say."""
    others = [name for name in row["who"].split(", ") if name != person]
    told = [f"with {', '.join(others)}"] if others else []
    if row["work"] in _MEANT:
        told.append(_MEANT[row["work"]])
    return "; ".join(told)
