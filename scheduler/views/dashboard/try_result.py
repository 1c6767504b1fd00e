"""Part of page "Try a change": the plan of the scenario and that of the try, in numbers and on the clock."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st

from scheduler.domain.scenario import Scenario, Situation
from scheduler.drafts.draft import Draft
from scheduler.drafts.tries import Try
from scheduler.languages import say
from scheduler.plan_rows import Plan
from scheduler.views import charts, tables, words
from scheduler.views.charts.calendar import AFTER_THE_RING, ON_THE_RING
from scheduler.views.dashboard import made_from, parts, planning, runs, state
from scheduler.views.dashboard.state import Shown
from scheduler.views.difference_table import difference_table
from scheduler.views.files import PLAN_FILE
from scheduler.views.season_table import weeks_of

Side = tuple[Plan, Scenario]


def show(shown: Shown, attempt: Try, draft: Draft) -> None:
    """Draw both plans, or say which of them is missing."""
    theirs = _side(attempt)
    if theirs is None:
        if not draft.changed and _was_planned(attempt):
            parts.note(
                say("This try was changed since it was planned."),
                [say("Press “Plan this try” for its plan.")],
            )
        return
    plan = state.plan_of(shown.home, shown.situation.input_hash)
    st.subheader(say("What the change does"))
    if draft.changed:
        parts.note(say("What you changed last is not in this plan yet."), [say("Press “Plan this try”.")])
    if plan is None:
        parts.note(
            say("There is no plan of the scenario to compare with."),
            [say("Press Plan at the side (on a phone behind » at the top); both will stand here.")],
        )
    else:
        parts.plain(difference_table((plan, shown.scenario), theirs))
        st.caption(
            say(
                "Money with a minus is earned. Small differences may come from the search, not from "
                "the change. The scenario's plan: {proof}; that of the try: {proof2}.",
                proof=_proof(plan),
                proof2=_proof(theirs[0]),
            )
        )
    _calendars((plan, shown.scenario) if plan else None, theirs, attempt, shown)


def bring_plan(shown: Shown, attempt: Try) -> bool:
    """After a try was taken over: keep its plan as that of the scenario, where it is of the same files."""
    situation, side = state.read(shown.folder), _side(attempt)
    if not isinstance(situation, Situation) or side is None:
        return False
    plan = replace(side[0], scenario=situation.scenario.name)
    if plan.input_hash != situation.input_hash:
        return False
    place = shown.home / plan.input_hash
    place.mkdir(parents=True, exist_ok=True)
    made_from.keep_files(shown.folder, place)
    planning.keep(plan, place / PLAN_FILE)
    return True


def _side(attempt: Try) -> Side | None:
    """The plan of the try's files as they are, with what they say."""
    situation = state.read(attempt.folder)
    if not isinstance(situation, Situation):
        return None
    plan = state.plan_of(attempt.plans, situation.input_hash)
    return (plan, situation.scenario) if plan else None


def _was_planned(attempt: Try) -> bool:
    situation = state.read(attempt.folder)
    running = isinstance(situation, Situation) and (
        runs.look(attempt.plans, situation.input_hash).state == "running"
    )
    return not running and made_from.last_planned(attempt.plans, attempt.folder) is not None


def _proof(plan: Plan) -> str:
    return say("proved") if plan.status == "optimal" else say("the best found")


def _calendars(ours: Side | None, theirs: Side, attempt: Try, shown: Shown) -> None:
    """Both cook calendars of the same days, beside each other where there is room."""
    sides = [(name, side) for name, side in ((say("The scenario"), ours), (attempt.name, theirs)) if side]
    days = sorted({batch.day for _, (plan, _) in sides for batch in plan.batches})
    if not days:
        parts.note(say("Nothing is cooked in either plan."))
        return
    weeks = weeks_of(days)
    week = weeks[0]
    if len(weeks) > 1:
        week = st.selectbox(
            say("Week"), weeks, format_func=lambda each: words.day_span(each[0], each[-1]), key="try week"
        )
    plan, scenario = theirs
    st.html(charts.fruit_key(plan, scenario, shown.look, patterned=False))
    st.html(charts.stage_key(shown.look, charts.stages_drawn(plan, ON_THE_RING + AFTER_THE_RING)))
    for column, (name, (plan, scenario)) in zip(st.columns(len(sides)), sides, strict=True):
        with column:
            st.markdown(f"**{name}**")
            table = tables.batch_table(plan, scenario, week)
            if table.empty:
                st.caption(say("Nothing is cooked in these days."))
                continue
            figure = charts.week_by_ring(plan, scenario, week, shown.look)
            alt = say("{name}: {table} batches on their rings", name=name, table=len(table))
            parts.chart(figure, f"try {name}", alt, table, say("The batches"))
