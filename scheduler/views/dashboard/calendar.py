"""Page "Cook calendar": batches on their rings, a week or a day at a time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import streamlit as st

from scheduler.domain.scenario import Scenario
from scheduler.physics.settest import odds_of_day, share_set
from scheduler.plan import Plan, StageKind
from scheduler.views import charts, tables, words
from scheduler.views.charts.calendar import AFTER_THE_RING, ON_THE_RING
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_HOT = (
    "The clock starts when the heat goes off: the last jar must be filled while it is still hot enough. "
    "A re-boil is kept free in every batch; if the first test sets, the time is yours."
)


def show(shown: Shown) -> None:
    """Draw the page."""
    st.header("Cook calendar")
    days = shown.cooking_days()
    if not days:
        parts.note("Nothing is cooked in this plan.")
        return
    span = st.segmented_control("Show", ["A day", "A week"], default="A day", required=True, key="span")
    if span == "A week":
        chosen = _week(days)
        figure = charts.week_by_ring(shown.ready, shown.scenario, chosen, shown.look)
    else:
        day = parts.choose_day(days, "cook-day")
        chosen = (day or days[0],)
        figure = charts.day_by_ring(shown.ready, shown.scenario, chosen[0], shown.look)
    st.html(charts.fruit_key(shown.ready, shown.scenario, shown.look, patterned=False))
    st.html(charts.stage_key(shown.look, ON_THE_RING + AFTER_THE_RING))
    st.caption("Above each batch: the letters of its fruit, the most first, and its jars.")
    table = tables.batch_table(shown.ready, shown.scenario, chosen)
    alt = f"{len(table)} batches on their rings, {words.day_name(chosen[0])} to {words.day_name(chosen[-1])}"
    parts.chart(figure, f"calendar-{span}", alt, table, "The batches")
    told = {day: odds(shown.ready, shown.scenario, day) for day in chosen}
    parts.note(
        "Odds of keeping time", [f"{words.day_name(day)}: {said}" for day, said in told.items() if said]
    )
    parts.note("Off the heat", [_HOT])
    parts.take_care()


def odds(plan: Plan, scenario: Scenario, day: date) -> str:
    """How likely all batches of a day keep to their minutes, in a sentence; empty if nothing is cooked."""
    again = [
        sum(stage.batch == batch.id and stage.kind is StageKind.REBOIL for stage in plan.stages)
        for batch in plan.batches
        if batch.day == day
    ]
    if not again:
        return ""
    first = scenario.kitchen.first_set_share
    share = odds_of_day([share_set(reboils, first) for reboils in again])
    many = "the one batch keeps" if len(again) == 1 else f"all {len(again)} batches keep"
    return (
        f"{many} to the planned minutes on {100 * share:.0f} such days in 100, where {100 * first:.0f} in "
        "100 batches set at the first test and later tests are like it. Leave room for one re-boil more."
    )


def _week(days: Sequence[date]) -> tuple[date, ...]:
    weeks = parts.weeks(days)
    if len(weeks) == 1:
        return weeks[0]
    return st.selectbox(
        "Week", weeks, key="cook-week", format_func=lambda week: words.day_span(week[0], week[-1])
    )
