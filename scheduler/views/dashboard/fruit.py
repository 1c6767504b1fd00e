"""Page "Fruit": what happens to each fruit, in all and day by day."""

from __future__ import annotations

import streamlit as st

from scheduler.languages import measures, say
from scheduler.views import charts, grading_tables, keeping_tables, tables, words
from scheduler.views.dashboard import parts, printing
from scheduler.views.dashboard.state import Shown
from scheduler.views.flow_table import flow_table, said
from scheduler.views.season_table import weeks_of


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    st.header(say("What happens to each fruit"))
    fresh = [fruit.name for fruit in scenario.fruits if any(row.fruit == fruit.name for row in plan.lots)]
    if not fresh:
        parts.note(
            say("No fresh fruit comes in: this plan lives from the freezer."), [say("See the page Freezer.")]
        )
        return
    st.html(charts.fate_key(shown.look))
    parts.chart(
        charts.fates_by_fruit(plan, scenario, shown.look),
        "fates",
        measures.worded(say("kg of each fruit by what became of it")),
        tables.fate_table(plan, scenario).reset_index(),
    )
    st.caption(
        measures.worded(
            say(
                "Sold, given up, spoiled and left are kg as picked; cooked and frozen are kg as "
                "prepared; trimmed is what preparing takes away. Given up is thrown away before it "
                "goes over, to spare hands or room."
            )
        )
    )
    _way(shown, fresh)
    st.subheader(say("Day by day"))
    names = {fruit.name: f"{fruit.letter} {fruit.name}" for fruit in scenario.fruits}
    chosen = st.selectbox(say("Fruit"), fresh, format_func=names.__getitem__, key="fruit")
    parts.chart(
        charts.fruit_by_day(plan, scenario, chosen, shown.look),
        "fruit-days",
        measures.worded(say("kg of {chosen} by day and by what became of it")).format(chosen=chosen),
        tables.lot_table(plan, chosen),
        say("Every lot and day"),
    )
    st.caption(say("Left is what stands in the chiller overnight; it opens the next day."))
    if told := grading_tables.graded(scenario, chosen):
        st.caption(say("{told} The plan speaks of fruit as it is graded.", told=told))
    warm = keeping_tables.yard_table(shown.situation, chosen)
    if not warm.empty:
        st.subheader(say("What the yard cost"))
        parts.grid(warm)
        chiller = scenario.kitchen.chiller.celsius
        st.caption(
            say(
                "Lots that stood warm between picking and the chiller. Days lost are days at its "
                "{chiller}, by published respiration: fruit lives as fast as it breathes. Of its "
                "life: of the days within which it may be cooked.",
                chiller=words.degrees(chiller, None),
            )
        )
    printing.download_buttons(shown, "picks")


def _way(shown: Shown, fresh: list[str]) -> None:
    """From where fruit came to what became of it, of all or some fruits, of all or one week."""
    plan, scenario = shown.ready, shown.scenario
    weeks = weeks_of(scenario.dates())
    st.subheader(say("The way of the fruit"))
    which, when = st.columns(2)
    some = which.multiselect(say("Fruits"), fresh, key="way_fruits", placeholder=say("all fruits"))
    week = None
    if len(weeks) > 1:
        week = when.selectbox(
            say("Week"),
            weeks,
            index=None,
            key="way_week",
            placeholder=say("the whole plan"),
            format_func=lambda days: words.day_span(days[0], days[-1]),
        )
    table = flow_table(plan, scenario, some or fresh, week or scenario.dates())
    if table.empty:
        st.caption(say("None of this fruit comes, goes or lies there in this week."))
        return
    parts.chart(
        charts.fruit_flow(table, scenario, shown.look),
        "way",
        measures.worded(
            say("kg of fruit from the field, the chiller and the freezer to what became of them")
        ),
        said(table),
    )
    st.caption(
        measures.worded(
            say(
                "A band is as wide as its kg and has the colour of its fruit. Fresh fruit is in kg as "
                "picked, what is cooked and frozen in kg as prepared; trimmings stand beside them."
            )
        )
    )
