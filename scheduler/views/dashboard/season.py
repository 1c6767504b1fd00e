"""Page "Season": the plan week by week, for whoever plans hands, orders and the freezer ahead."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from scheduler.languages import measures, say
from scheduler.views import charts, words
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown
from scheduler.views.season_table import Week, season, season_table


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    weeks = season(plan, scenario)
    table = season_table(weeks)
    st.header(say("The plan week by week"))
    parts.cards(
        [
            (str(len(weeks)), say("weeks"), "", ""),
            _fruit(weeks),
            (words.number(sum(week.jars for week in weeks)), say("jars filled"), "", ""),
            (words.hours(sum(week.minutes for week in weeks)), say("hours present"), "", ""),
        ]
    )
    busiest = max(weeks, key=lambda week: week.minutes)
    if len(weeks) > 1 and sum(week.minutes == busiest.minutes for week in weeks) == 1:
        parts.note(
            say(
                "The most hands are needed in the week from {day}: {hours}, for {n} batches.",
                day=words.day_name(busiest.days[0]),
                hours=words.hours(busiest.minutes),
                n=busiest.batches,
            )
        )
    if any(week.picked or week.fates["sold"] for week in weeks):
        st.subheader(say("Fruit week by week"))
        st.html(charts.fate_key(shown.look, charts.WEEKLY))
        figure = charts.fates_by_week(weeks, shown.look)
        parts.chart(
            figure,
            "season-fruit",
            measures.worded(say("kg of fruit by week and by what became of it")),
            table,
        )
    st.subheader(say("Hands week by week"))
    figure = charts.hours_by_week(weeks, shown.look)
    parts.chart(figure, "season-hours", say("Hours of all people by week"), table)
    st.subheader(say("Every week"))
    parts.plain(table)
    st.caption(
        measures.worded(
            say(
                "Fresh fruit is in kg as picked; what is cooked (frozen fruit too), frozen and in the "
                "freezer is in kg as prepared. The freezer is as on the week's last evening. Jars due are "
                "those of orders."
            )
        )
    )


def _fruit(weeks: Sequence[Week]) -> tuple[str, str, str, str]:
    """What comes from the field; where nothing does, what comes out of the freezer."""
    picked, out = sum(week.picked for week in weeks), sum(week.out for week in weeks)
    told = (words.mass(picked), say("to pick")) if picked else (words.mass(out), say("thawed and cooked"))
    return *told, "", ""
