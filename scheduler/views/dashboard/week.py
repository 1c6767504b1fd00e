"""Page "This week": the headline numbers, the saving against habit, the goals and the cautions."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from scheduler.plan import Totals, totals
from scheduler.views import charts, tables, words
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_GOALS_READ = (
    "Each line has a scale of its own and is better to the left. Upright bar: no plan can be below it. "
    "Ring: the best reached. Dot: in this plan, after giving up a little for the next goal."
)


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    dates = scenario.dates()
    st.header(f"{scenario.farm}, {words.day_span(dates[0], dates[-1])}")
    how = words.STATUS[plan.status]
    st.caption(f"{scenario.name}, as of {words.day_name(plan.as_of)}. {how[0].upper()}{how[1:]}.")
    parts.cards(_headlines(totals(plan), plan.habit))
    if plan.habit is not None:
        st.subheader("What the plan saves against habit")
        st.caption(
            "Habit: oldest fruit first, biggest pan first, freeze the rest until the freezer is full, "
            "under the same rules."
        )
        parts.note(_saved(totals(plan), plan.habit), tone="good")
        with st.expander("Both plans side by side"):
            parts.grid(tables.saving_table(plan))
    st.subheader("Goals, in their order")
    st.caption(_GOALS_READ)
    parts.chart(
        charts.goals(plan, shown.look), "goals", "Value, best and bound of each goal", tables.goal_table(plan)
    )
    if plan.bought:
        parts.note("What the slack was used for", plan.bought, "good")
    st.subheader("The days")
    parts.grid(tables.load_table(plan))
    parts.take_care()


def _headlines(found: Totals, habit: Totals | None) -> list[tuple[str, str, str, str]]:
    """Each number with its difference from habit; less is better for the first and third."""

    def beside(of: Callable[[Totals], float], unit: str, better: int) -> tuple[str, str]:
        return _against(of(found), of(habit), unit, better) if habit else ("", "")

    return [
        (words.kg(tables.lost(found)), "fruit lost", *beside(tables.lost, " kg", -1)),
        (f"{found.made:,}", "jars made", *beside(lambda t: t.made, " jars", 1)),
        (f"{found.short:,}", "jars missing from orders", *beside(lambda t: t.short, " jars", -1)),
        (words.kg(found.sold), "sold fresh", *beside(lambda t: t.sold, " kg", 1)),
        (words.kg(found.frozen), "frozen", "", ""),
        (words.kg(found.thawed), "out of the freezer", "", ""),
    ]


def _against(ours: float, habit: float, unit: str, better: int) -> tuple[str, str]:
    difference = round(ours - habit, 1)
    if difference == 0:
        return "as by habit", ""
    tone = "good" if difference * better > 0 else "bad"
    amount = f"{abs(difference):,.1f}".removesuffix(".0")
    return f"{amount}{unit} {'more' if difference > 0 else 'less'} than by habit", tone


def _saved(ours: Totals, habit: Totals) -> str:
    """The saving in one sentence."""
    kg = tables.lost(habit) - tables.lost(ours)
    jars, missing = ours.made - habit.made, habit.short - ours.short
    told = [
        f"{words.kg(abs(kg))} {'less' if kg >= 0 else 'more'} fruit lost",
        f"{words.jars(abs(jars))} {'more' if jars >= 0 else 'fewer'} made",
        f"{words.jars(abs(missing))} {'fewer' if missing >= 0 else 'more'} missing from orders",
    ]
    return ", ".join(told) + "."
