"""The trade-off on page "Overview": the curve, the choice of a point, and the button that works it out."""

from __future__ import annotations

import streamlit as st

from scheduler.languages import message, say, spoken
from scheduler.views import charts
from scheduler.views.curve_table import WHAT_IT_IS, curve_table, in_short
from scheduler.views.dashboard import parts, runs, state
from scheduler.views.dashboard.state import Shown

POINTS = 7
SECONDS = (120, 300, 600, 1200)

_READ = message(
    "A disc is a whole plan: to the left less is lost on fruit, further down less is spent "
    "or more earned; the larger, the more jars are missing. Berry: the plan shown. Without "
    "filling: not proved."
)
_BY_GOALS = message("The plan by its goals, in their order")


def show(shown: Shown) -> None:
    """Draw the section."""
    st.subheader(say("Fruit, jars or money"))
    if shown.curve:
        st.caption(spoken(_READ))
        figure = charts.trade_off(shown.curve, shown.point, shown.scenario, shown.look)
        alt = say("Value lost on fruit against money of each point, jars missing as its size")
        parts.chart(figure, "curve", alt, curve_table(shown.curve, shown.scenario))
        st.caption(spoken(WHAT_IT_IS))
        _choose(shown)
    else:
        st.caption(
            say(
                "What would less lost fruit cost, and how many jars? A few plans side by side, from "
                "the least lost on fruit to the least money spent, to choose from."
            )
        )
    if shown.run.state != "running":
        _work_out(shown)


def _choose(shown: Shown) -> None:
    """Which plan all pages show."""
    options = ([0] if shown.own else []) + list(range(1, len(shown.curve) + 1))

    def name(point: int) -> str:
        if point == 0:
            return spoken(_BY_GOALS)
        return say(
            "Point {point}: {in_short}",
            point=point,
            in_short=in_short(shown.curve[point - 1], shown.scenario),
        )

    asked = st.selectbox(
        say("Show on all pages"), options, index=options.index(shown.point or 0), format_func=name
    )
    if asked != (shown.point or 0):
        state.choose_point(asked)
        st.rerun()


def _work_out(shown: Shown) -> None:
    seconds = st.select_slider(say("Seconds for the curve, at most"), SECONDS, value=300, key="curve seconds")
    if st.button(
        say("Work out the curve again") if shown.curve else say("Work out the curve"), key="work out"
    ):
        try:
            runs.start(shown.home, shown.situation.input_hash, shown.folder, float(seconds), points=POINTS)
        except OSError as error:
            st.error(say("It could not start: {reason}. Is there room on the disk?", reason=error.strerror))
            return
        state.choose_point(0)
        st.rerun()
