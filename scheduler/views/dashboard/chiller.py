"""Page "Freeze or cook": what the plan does with each lot on a day, and what a crate more or less changes."""

from __future__ import annotations

import streamlit as st

from scheduler.crates import CRATE_KG
from scheduler.languages import measures, message, say, spoken
from scheduler.views import charts, crate_rows, words
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_HOW = message(
    "Each figure is of a plan worked out anew with a crate more of one thing: batches, "
    "people and orders stay, every kg may move to where it loses least. Hours of the day "
    "are kept to as a whole, not to the minute. Not possible: there is no more of the lot, "
    "or no room, time, demand or batch for it."
)


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    days = crate_rows.days_known(plan)
    st.header(say("Freeze or cook"))
    if not days:
        parts.note(
            say("Nothing is known of single crates."),
            [say("No fresh fruit is there, or the plan was made without: plan again to have it worked out.")],
        )
        return
    day = parts.choose_day(days, "chiller_day")
    assert day is not None
    worth = crate_rows.worth_of_fruit(plan, scenario, day)
    if not worth.empty:
        st.subheader(say("Which fruit to save first"))
        st.caption(
            measures.worded(
                say("What the farm would lose with a kg less of it. Nothing: there is more than it can use.")
            )
        )
        parts.chart(
            charts.worth_by_fruit(worth, scenario, shown.look),
            "worth",
            measures.worded(say("Worth of a kg of each fruit")),
            worth,
        )
    st.subheader(say("The next crate"))
    st.caption(
        say(
            "Of each lot: what the plan does with it today, and what becomes of another {kg}.",
            kg=words.quantity(CRATE_KG, "kg"),
        )
    )
    parts.rows(crate_rows.rows_of_day(plan, scenario, day))
    with st.expander(say("The numbers of every lot")):
        parts.grid(crate_rows.crate_table(plan, scenario, day))
    st.caption(measures.worded(spoken(_HOW)))
