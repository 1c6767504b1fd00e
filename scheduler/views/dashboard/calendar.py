"""Page "Cook calendar": batches on their rings, a week or a day at a time, and what is to be held of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import partial

import streamlit as st

from scheduler.domain.scenario import Scenario
from scheduler.languages import locale, message, say, say_many, spoken
from scheduler.physics.settest import odds_of_day, share_set
from scheduler.plan_rows import OF_NO_BATCH, Batch, Part, Plan, StageKind
from scheduler.views import charts, chore_tables, held_tables, tables, words
from scheduler.views.charts.calendar import AFTER_THE_RING, ON_THE_RING
from scheduler.views.dashboard import chosen, holding, parts, printing
from scheduler.views.dashboard.state import Shown
from scheduler.views.season_table import weeks_of

RING, PERSON, BATCH = message("Ring"), message("Person"), message("Batch")
_DAY, _WEEK = message("A day"), message("A week")
ROWS = (RING, PERSON, BATCH)
_READ = {
    RING: message("Above each batch: the letters of its fruit, the most first, and its jars."),
    PERSON: message(
        "Shifts, and in them each stage with the letters of its fruit where there is room for them."
    ),
    BATCH: message(
        "Beside each batch: the letters of its fruit, the most first, and its jars. Stages to "
        "scale, from preparing to the washed pan."
    ),
}
"""How the chart is read, by what its rows are."""

_HOT = message(
    "The clock starts when the heat goes off: the last jar must be filled while it is still hot enough."
)
_EARLY = {
    True: message(
        "Time is kept for re-boils. A batch that sets sooner is kept just hot on its ring until potted."
    ),
    False: message(
        "Time is kept for re-boils. A batch that sets sooner is potted at once: its jars are "
        "hot and somebody is within call by then, or it may wait while it is hot enough."
    ),
}
"""By whether the kitchen keeps hot what sets early."""


def show(shown: Shown) -> None:
    """Draw the page."""
    st.header(say("Cook calendar"))
    # What has been held since the plan was made is marked where the plan keeps to it.
    scenario = replace(shown.scenario, held=shown.current.scenario.held)
    days = shown.cooking_days()
    if not days:
        parts.note(say("Nothing is cooked in this plan."))
        holding.held_list(shown)
        return
    left, right = st.columns(2)
    with left:
        span = st.segmented_control(
            say("Show"), [_DAY, _WEEK], default=_DAY, required=True, format_func=spoken, key="span"
        )
    with right:
        rows = st.segmented_control(
            say("A row for each"), ROWS, default=RING, required=True, format_func=spoken, key="calendar rows"
        )
    days_shown = _week(days) if span == _WEEK else (parts.choose_day(days, "cook-day") or days[0],)
    _chart(shown, scenario, str(rows), days_shown)
    if (batch := chosen.choose(shown.ready, scenario, days_shown)) is not None:
        chosen.sheet(batch, shown.ready, scenario, partial(holding.acts, shown, batch))
    holding.held_list(shown)
    _notes(shown, days_shown if span == _WEEK else days_around(scenario, days_shown[0]), days_shown)
    printing.download_buttons(shown, "calendar", "batches")


def _chart(shown: Shown, scenario: Scenario, rows: str, days: Sequence[date]) -> None:
    """The calendar with a row for each ring, person or batch, its keys above and its table behind it."""
    plan, look = shown.ready, shown.look
    marked = chosen.marked(plan, days)
    if rows == PERSON:
        figure = charts.week_by_person(plan, scenario, days, look, marked)
        drawn = charts.stages_drawn(plan, StageKind)
    elif rows == BATCH:
        figure = charts.by_batch(plan, scenario, days, look, marked)
        drawn = [kind for kind in charts.stages_drawn(plan, StageKind) if kind not in OF_NO_BATCH]
    else:
        figure = (
            charts.week_by_ring(plan, scenario, days, look, marked)
            if len(days) > 1
            else charts.day_by_ring(plan, scenario, days[0], look, marked)
        )
        drawn = charts.stages_drawn(plan, ON_THE_RING + AFTER_THE_RING)
    st.html(charts.fruit_key(plan, scenario, look, patterned=False))
    st.html(charts.stage_key(look, drawn, with_break=rows == PERSON))
    held_key = f" {say('{sign} marks a batch that is held.', sign=held_tables.SIGN)}" if scenario.held else ""
    st.caption(spoken(_READ[rows]) + held_key)
    table = tables.batch_table(plan, scenario, days)
    alt = say(
        "{n} batches, a row for each {rows}, {first} to {last}",
        n=len(table),
        rows=spoken(rows) if locale() else rows.lower(),
        first=words.day_name(days[0]),
        last=words.day_name(days[-1]),
    )
    heading = say("The batches")
    if rows != RING:
        table, heading = tables.works_table(plan, scenario, days), say("The work, stage by stage")
    key = f"calendar {len(days) > 1} {rows} {chosen.clicks()}"
    parts.chart(figure, key, alt, table, heading, partial(chosen.clicked, plan, key))


def _notes(shown: Shown, around: Sequence[date], days: Sequence[date]) -> None:
    """What else counts on these days; ``around`` are those on which the kitchen's hours are told."""
    if hours := kitchen_of(shown.ready, shown.scenario, around):
        parts.note(say("The kitchen"), hours)
    if dripping := overnight(shown.ready, shown.scenario, days):
        parts.note(say("From one day to the next"), dripping)
    told = {day: odds(shown.ready, shown.scenario, day) for day in days}
    if said := [f"{words.day_name(day)}: {odds_said}" for day, odds_said in told.items() if odds_said]:
        parts.note(say("Odds of keeping time"), said)
    parts.note(say("Off the heat"), [spoken(_HOT), spoken(_EARLY[shown.scenario.kitchen.keep_hot])])
    parts.take_care(shown.ready)


def days_around(scenario: Scenario, day: date) -> tuple[date, ...]:
    """The planned days of the week of a day, those on which nothing is cooked included."""
    return tuple(each for each in scenario.dates() if each.isocalendar()[:2] == day.isocalendar()[:2])


def kitchen_of(plan: Plan, scenario: Scenario, days: Sequence[date]) -> list[str]:
    """What is out of use and when the kitchen is closed on these days, and who labels, takes out and cleans
    down when."""
    told = [
        (row.day, row.start, f"{words.day_name(row.day)}: {words.closed(row)}.")
        for row in scenario.closures
        if row.day in days
    ]
    told += [
        (row.day, 0, f"{words.day_name(row.day)}: {held_tables.out_of_use(row)}.")
        for row in scenario.out
        if row.day in days
    ]
    begun: dict[tuple[date, StageKind], int] = {}
    for stage in sorted(plan.stages, key=lambda stage: stage.start):
        if stage.kind in OF_NO_BATCH - {StageKind.FREEZE} and stage.day in days:
            begun.setdefault((stage.day, stage.kind), stage.start)
    for (day, kind), start in begun.items():
        line = f"{words.day_name(day)}: {spoken(kind)} {chore_tables.told_of(plan, day, kind)}."
        told.append((day, start, line))
    return [line for _, _, line in sorted(told)]


def overnight(plan: Plan, scenario: Scenario, days: Sequence[date]) -> list[str]:
    """Where the juice of each batch of these days goes, and whose juice is boiled if that is not told so."""
    told = []
    for batch in plan.batches:
        other = words.other_day(batch, plan)
        if other is None or batch.day not in days or (batch.part is Part.BOIL and other.day in days):
            continue
        name = say(
            "{what} in {pan} on {ring}",
            what=f"{words.letters(batch, plan, scenario)} {batch.recipe}",
            pan=batch.pan,
            ring=batch.ring,
        )
        joined = " " if batch.part is Part.SOFTEN else ": "
        told.append(f"{words.day_name(batch.day)}, {name}{joined}{words.juice(batch, plan)}.")
    return told


def odds(plan: Plan, scenario: Scenario, day: date) -> str:
    """How likely all batches of a day keep to their minutes, in a sentence; empty if none is tested."""

    def tested(batch: Batch) -> bool:
        return batch.part is not Part.SOFTEN and scenario.recipe(batch.recipe).tested

    again = [
        sum(stage.batch == batch.id and stage.kind is StageKind.REBOIL for stage in plan.stages)
        for batch in plan.batches
        if batch.day == day and tested(batch)
    ]
    if not again:
        return ""
    first = scenario.kitchen.first_set_share
    share = odds_of_day([share_set(reboils, first) for reboils in again])
    some = len(again) < sum(batch.day == day for batch in plan.batches)
    many = (
        say_many("the one tested batch keeps", "all {n} tested batches keep", len(again))
        if some
        else say_many("the one batch keeps", "all {n} batches keep", len(again))
    )
    return say(
        "{many} to the planned minutes on {share} such days in 100, where {first} in "
        "100 batches set at the first test and later tests are like it. Leave room for one re-boil more.",
        many=many,
        share=f"{100 * share:.0f}",
        first=f"{100 * first:.0f}",
    )


def _week(days: Sequence[date]) -> tuple[date, ...]:
    weeks = weeks_of(days)
    if len(weeks) == 1:
        return weeks[0]
    return st.selectbox(
        say("Week"), weeks, key="cook-week", format_func=lambda week: words.day_span(week[0], week[-1])
    )
