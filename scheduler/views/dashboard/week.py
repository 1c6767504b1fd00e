"""Page "Overview": the headline numbers, what differs from habit, the goals and the cautions."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from scheduler.languages import message, say, spoken
from scheduler.plan_rows import Totals, totals
from scheduler.views import charts, tables, words
from scheduler.views.dashboard import curve, parts
from scheduler.views.dashboard.state import Shown
from scheduler.views.saving_table import saving_table

_GOALS_READ = message(
    "Each line has a scale of its own and is better to the left. Upright bar: no plan can "
    "be below it. Ring: the best reached. Dot: in this plan, after giving up a little for "
    "the next goal."
)


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    dates = scenario.dates()
    st.header(f"{scenario.farm}, {words.day_span(dates[0], dates[-1])}")
    how = words.how_good(plan)
    planned = say("{name}, planned from {day}.", name=scenario.name, day=words.day_name(plan.as_of))
    st.caption(f"{planned} {how[0].upper()}{how[1:]}.")
    parts.cards(_headlines(totals(plan), plan.habit))
    if plan.habit is not None:
        st.subheader(say("Beside habit"))
        st.caption(
            say(
                "Habit: oldest fruit first, biggest pan first, freeze the rest until the freezer is full, "
                "under the same rules."
            )
        )
        parts.note(difference(totals(plan), plan.habit), tone=_tone(totals(plan), plan.habit))
        with st.expander(say("Both plans side by side")):
            parts.plain(saving_table(plan))
    st.subheader(say("Goals, in their order"))
    st.caption(spoken(_GOALS_READ))
    table = tables.goal_table(plan, scenario)
    figure = charts.goals(plan, scenario, shown.look)
    parts.chart(figure, "goals", say("Value, best and bound of each goal"), table)
    st.caption(" ".join([spoken(tables.GOALS_MEAN), *_asides(shown), words.tried(plan.timetables)]))
    if told := tables.slack_used(plan, scenario):
        parts.note(say("What a goal gave up for the next"), told)
    if shown.now is None:
        curve.show(shown)
    st.subheader(say("The days"))
    parts.plain(tables.load_table(plan))
    st.caption(
        say(
            "Hours are of all people together. Earliest end: no timetable of the same work that day ends "
            "sooner."
        )
    )
    parts.take_care(plan)


def _asides(shown: Shown) -> list[str]:
    """What a reader must know of this plan's jars and money."""
    plan = shown.ready
    told = [limits] if (limits := words.limits(plan, shown.scenario)) else []
    if words.weighted(shown.scenario):
        missing = words.jars(totals(plan).short)
        told.append(
            say(
                "Weighted jars: each jar missing counts as often as its order's weight says ({jars}).",
                jars=missing,
            )
        )
    if shown.scenario.shop:
        told.append(say("A jar missing in the shop counts once for each day that asks for it."))
    if any(goal.name == "money" and goal.value < 0 for goal in plan.goals):
        told.append(say("Money with a minus: the orders pay more than is spent."))
    return told


def _headlines(found: Totals, habit: Totals | None) -> list[tuple[str, str, str, str]]:
    """Each number with its difference from habit. Fewer jars are not worse where no order wants them."""

    def beside(of: Callable[[Totals], float], unit: str, better: int = 0) -> tuple[str, str]:
        return _against(of(found), of(habit), unit, better) if habit else ("", "")

    always = [
        (words.mass(tables.lost(found)), say("fruit lost"), *beside(tables.lost, "kg", -1)),
        (words.number(found.made), say("jars made"), *beside(lambda t: t.made, "jars")),
        (words.number(found.short), say("jars missing from orders"), *beside(lambda t: t.short, "jars", -1)),
    ]
    if found.picked + found.opening == 0:
        return [
            *always,
            (words.mass(found.thawed), say("out of the freezer"), *beside(lambda t: t.thawed, "kg")),
        ]
    return [
        *always,
        (words.mass(found.sold), say("sold fresh"), *beside(lambda t: t.sold, "kg", 1)),
        (words.mass(found.frozen), say("frozen"), *beside(lambda t: t.frozen, "kg")),
        (words.mass(found.left), say("left in the chiller at the end"), *beside(lambda t: t.left, "kg")),
    ]


def _against(ours: float, habit: float, unit: str, better: int) -> tuple[str, str]:
    more = ours - habit
    if round(more, 1) == 0:
        return say("as by habit"), ""
    tone = ("good" if more * better > 0 else "bad") if better else ""
    return say("{more} than by habit", more=_more(more, unit)), tone


def _more(more: float, unit: str) -> str:
    """``12 jars fewer``, ``3.5 kg more``."""
    amount = words.jars(abs(round(more))) if unit == "jars" else words.mass(abs(more))
    if more > 0:
        return say("{amount} more", amount=amount)
    return say("{amount} fewer", amount=amount) if unit == "jars" else say("{amount} less", amount=amount)


def difference(ours: Totals, habit: Totals) -> str:
    """What this plan does otherwise than habit, in one sentence."""
    found: list[tuple[float, str, str]] = [
        (tables.lost(ours) - tables.lost(habit), "kg", message("{more} fruit lost")),
        (ours.left - habit.left, "kg", message("{more} left in the chiller at the end")),
        (ours.short - habit.short, "jars", message("{more} missing from orders")),
        (ours.made - habit.made, "jars", message("{more} made")),
    ]
    told = [spoken(what).format(more=_more(more, unit)) for more, unit, what in found if round(more, 1) != 0]
    if not told:
        return say("The same fruit lost, and the same jars made and missing.")
    return ", ".join(told) + "."


def _tone(ours: Totals, habit: Totals) -> str:
    """Good where less is lost or missing and nothing more of either."""
    more = (round(tables.lost(ours) - tables.lost(habit), 1), ours.short - habit.short)
    return "good" if max(more) <= 0 and min(more) < 0 else ""
