"""Page "Recipes": a batch sheet for the cook, with or without a plan."""

from __future__ import annotations

from collections.abc import Iterable

import pandas as pd
import streamlit as st

from scheduler.cards import SCALE
from scheduler.domain.scenario import Scenario
from scheduler.law.cautions import cautions_at
from scheduler.law.naming import ADVICE
from scheduler.making import make_cards
from scheduler.sheet import (
    HERE,
    BatchSheet,
    Course,
    PanSheet,
    Sheet,
    course_of,
    jurisdictions,
    label_draft,
    sheet,
)
from scheduler.views import charts, words
from scheduler.views import recipe_tables as tables
from scheduler.views.charts.recipe import STACKED
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_MINUTES = (
    "From dissolve to the last jar, by kg of prepared fruit up to a full pan. The stack is what the plan "
    "keeps free; the lines are the minutes within which so many of the batches stay, with {first:.0f} % "
    "setting at the first test. Shaded: a batch of that size is refused."
)

_BEFORE, _ON_THE_HEAT = ("recipe", "prepare"), ("dissolve", "boil", "re-boil")
_OFF_THE_HEAT, _JARS = ("set test", "stand", "pot up"), ("jars in oven", "wash pan", "label")
_STAGES: tuple[tuple[str, ...], ...] = (_BEFORE, _ON_THE_HEAT, _OFF_THE_HEAT, _JARS)
"""Stages in the order in which their cautions stand on the page."""


def show(shown: Shown) -> None:
    """Draw the page."""
    scenario = shown.scenario
    st.header("Recipes")
    name = st.selectbox("Recipe", [recipe.name for recipe in scenario.recipes], key="recipe")
    found = sheet(make_cards(shown.situation), scenario.recipe(name))
    pan = _choose_pan(found)
    _headlines(pan, scenario)
    if told := tables.remarks(found):
        parts.note("Take note", told)
    if batch := pan.best:
        _batch(batch, scenario)
    _beside(_BEFORE)
    st.subheader("All pans")
    st.dataframe(tables.quantity_table(found, scenario), hide_index=True, height="content")
    if batch:
        _boil(batch, found, shown)
    _beside(_ON_THE_HEAT)
    _minutes(found, shown)
    _names(found)
    _label(found, scenario)


def _choose_pan(found: Sheet) -> PanSheet:
    names = {tables.pan_name(pan, found): pan for pan in found.pans}
    if len(names) == 1:
        return found.pans[0]
    chosen = st.segmented_control(
        "Pan", list(names), default=next(iter(names)), required=True, key="recipe-pan"
    )
    return names[str(chosen)] if chosen in names else found.pans[0]


def _headlines(pan: PanSheet, scenario: Scenario) -> None:
    batch = pan.best
    if batch is None:
        return
    card, cost = batch.card, batch.cost
    limit = f"at least {scenario.kitchen.potting_limit_c:g} °C"
    cold = card.last_jar_c < scenario.kitchen.potting_limit_c
    size = "refused" if batch.refusal else "a full pan" if batch == pan.full else "largest safe batch"
    paid = cost.a_jar_with_pay
    parts.cards(
        [
            (words.kg(batch.kg), "prepared fruit", size, "bad" if batch.refusal else ""),
            (f"{card.jars}", "jars", f"{words.kg(batch.panful.jam_kg)} of preserve", ""),
            (
                words.hours(batch.total.planned),
                "to the last jar",
                f"95 in 100: {words.hours(batch.total.most)}",
                "",
            ),
            (f"{card.set_c:.1f} °C", "sets here at", "", ""),
            (f"{card.last_jar_c:.1f} °C", "last jar", limit, "bad" if cold else ""),
            (
                words.money(cost.a_jar, scenario.currency),
                "a jar, without pay",
                "" if paid is None else f"{words.money(paid, scenario.currency)} with pay",
                "",
            ),
        ]
    )


def _batch(batch: BatchSheet, scenario: Scenario) -> None:
    """What goes in, minutes and cost of the chosen batch, side by side where there is room."""
    left, right = st.columns(2)
    with left:
        st.subheader("What goes in")
        parts.rows(_ingredients(batch))
        if len(batch.parts) > 1:
            st.caption(tables.FRUIT_READ)
    with right:
        st.subheader("Minutes")
        parts.rows(
            (stage.name, f"{tables.minutes(stage)} min", "") for stage in (*batch.minutes, batch.total)
        )
        st.caption(tables.MINUTES_READ)
    with st.expander("What it costs"):
        lines = [*batch.cost.materials, ("pay", batch.cost.pay)]
        told = [(name, amount) for name, amount in lines if amount is not None]
        parts.rows((name, words.money(amount, scenario.currency), "") for name, amount in told)
        st.caption(
            "Fruit at its value in the kitchen. Pay at the mean of people with the skill, one cook to a pan "
            "(a cook who minds two costs half of that part). Breaks and waiting are not counted."
        )


def _ingredients(batch: BatchSheet) -> Iterable[tuple[str, str, str]]:
    card = batch.card
    for part in batch.parts:
        yield part.fruit, f"{words.kg(part.prepared_kg)} prepared", f"{words.kg(part.picked_kg)} as picked"
    yield "sugar", words.kg(card.sugar / SCALE), ""
    for name, amount, text in (
        ("water", batch.water_kg, words.kg(batch.water_kg)),
        ("lemons", card.lemons, f"{card.lemons}"),
        ("pectin", card.pectin, f"{card.pectin} g"),
    ):
        if amount:
            yield name, text, ""
    yield "to drive off", f"{words.kg(batch.panful.water_off_kg)} of water", ""


def _minutes(found: Sheet, shown: Shown) -> None:
    st.subheader("Minutes and size")
    if not any(pan.curve for pan in found.pans):
        parts.note("No pan of this kitchen cooks this recipe.")
        return
    st.caption(_MINUTES.format(first=100 * shown.scenario.kitchen.first_set_share))
    st.html(charts.stage_key(shown.look, [kind for kind, _ in STACKED]))
    figure = charts.minutes_by_kg(found, shown.scenario, shown.look)
    parts.chart(
        figure, "recipe-minutes", "Minutes against kg of fruit in each pan", tables.minutes_table(found),
    )  # fmt: skip
    parts.rows(
        (tables.pan_name(pan, found), f"{tables.pottable(pan)}.".capitalize(), "") for pan in found.pans
    )
    st.caption("By the minute; the plan rounds minutes up to five, and so refuses a little more.")
    _beside(_OFF_THE_HEAT)


def _boil(batch: BatchSheet, found: Sheet, shown: Shown) -> None:
    st.subheader("Through the boil")
    st.caption(
        f"{words.kg(batch.kg)} of fruit from the mix to the set: as water leaves, solids rise, and with them "
        "the temperature. Minutes as computed, before the plan rounds them up."
    )
    course = course_of(batch.panful, found.recipe, shown.scenario.kitchen)
    alt = "Solids and temperature over the minutes of the boil"
    parts.chart(charts.boil_course(course, shown.look), "recipe-boil", alt, _course_table(course))


def _course_table(course: Course) -> pd.DataFrame:
    every = slice(None, None, 4)
    return pd.DataFrame(
        {"min": course.minutes[every], "solids %": 100 * course.solids[every], "°C": course.celsius[every]}
    )


def _names(found: Sheet) -> None:
    st.subheader("What it may be called")
    places = tables.by_place(found.names)
    parts.rows(
        (place, tables.verdicts(findings).capitalize() + ".", tables.standing(findings))
        for place, findings in places.items()
    )
    with st.expander("Why, figure by figure"):
        for place, findings in places.items():
            lines = [f"{f.name}: {check}" for each in findings.values() for f in each for check in f.checks]
            parts.note(place, lines)
    st.caption(ADVICE)


def _label(found: Sheet, scenario: Scenario) -> None:
    st.subheader("Draft of the label")
    places = jurisdictions(scenario)
    where = st.selectbox("Sold in", places, index=places.index(HERE) if HERE in places else 0, key="sold-in")
    draft = label_draft(scenario, found.recipe, where)
    parts.rows(
        (
            line.what,
            line.text,
            f"{line.remark} Source: {line.source}{'' if line.verified else ', not verified'}.".strip(),
        )
        for line in draft.lines
    )
    parts.note("To check before it is printed", draft.to_check)
    _beside(_JARS)


def _beside(stages: tuple[str, ...]) -> None:
    """The cautions of these stages, but for those that stand higher on the page."""
    above = _STAGES[: _STAGES.index(stages)]
    said = {caution.text for each in above for stage in each for caution in cautions_at(stage)}
    told = dict.fromkeys(caution.text for stage in stages for caution in cautions_at(stage))
    parts.note("Take care: " + ", ".join(stages), [text for text in told if text not in said])
