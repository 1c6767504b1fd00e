"""Page "Recipes": a batch sheet for the cook, with or without a plan."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pandas as pd
import streamlit as st

from scheduler.batch_sheet import BatchSheet
from scheduler.cards import SCALE
from scheduler.domain.scenario import Scenario
from scheduler.law.cautions import cautions_at
from scheduler.law.naming import ADVICE
from scheduler.making import make_cards
from scheduler.pan_sheets import PanSheet
from scheduler.plan import Part
from scheduler.sheet import HERE, Course, Sheet, course_of, jurisdictions, label_draft, sheet
from scheduler.views import charts, words
from scheduler.views import recipe_tables as tables
from scheduler.views.charts.calendar import ON_THE_RING
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_MINUTES = {
    Part.WHOLE: "By kg of prepared fruit up to a full pan, from when cooking begins to the last jar.",
    Part.SOFTEN: "By kg of prepared fruit up to a full pan or a full drip stand, until all is in the bag.",
    Part.BOIL: "By kg of the fruit whose juice it is, from dissolve to the last jar.",
}
_CHANCE = (
    " The lines are the minutes within which so many of the batches stay, with {first:.0f} % setting at the "
    "first test."
)
_COST = (
    "Fruit at its value in the kitchen. Pay at the mean of people with the skill, one cook to a pan "
    "(a cook who minds two costs half of that part). Breaks and waiting are not counted."
)


def show(shown: Shown) -> None:
    """Draw the page."""
    scenario = shown.scenario
    st.header("Recipes")
    name = st.selectbox("Recipe", [recipe.name for recipe in scenario.recipes], key="recipe")
    found = sheet(make_cards(shown.situation), scenario.recipe(name))
    if found.recipe.two_days:
        st.caption(tables.TWO_DAYS)
    said: set[str] = set()
    for part in found.parts:
        _part(found, part, shown, said)
    _names(found)
    _label(found, scenario)
    _beside(("jars in oven", "wash pan", "label"), said)


def _part(found: Sheet, part: Part, shown: Shown, said: set[str]) -> None:
    """The whole of a recipe, or one of its two days; ``said`` are the cautions higher on the page."""
    scenario = shown.scenario
    if title := tables.DAY_TITLES[part]:
        st.header(title, divider="gray")
    pan = _choose_pan(found, part)
    batch = pan.best
    if batch:
        _headlines(pan, batch, found, scenario)
    told = tables.refusals(found, part)
    if part is found.parts[0]:
        told += found.warnings
    if told:
        parts.note("Take note", told)
    if batch:
        _batch(batch, found, part, scenario)
    if part is not Part.BOIL:
        _beside(("recipe", "prepare"), said)
    st.subheader("All pans")
    st.dataframe(tables.quantity_table(found, scenario, part), hide_index=True, height="content")
    if batch and part is not Part.SOFTEN:
        _boil(batch, found, shown)
    kinds = tables.stages_in(found.recipe, part)
    _beside([kind.value for kind in kinds if kind in ON_THE_RING], said)
    _minutes(found, part, pan, shown)
    _beside([kind.value for kind in kinds if kind not in ON_THE_RING], said)


def _choose_pan(found: Sheet, part: Part) -> PanSheet:
    names = {tables.pan_name(pan, found): pan for pan in found.of(part)}
    first = next(iter(names))
    if len(names) == 1:
        return names[first]
    chosen = st.segmented_control("Pan", list(names), default=first, required=True, key=f"recipe-pan {part}")
    return names.get(str(chosen), names[first])


def _headlines(pan: PanSheet, batch: BatchSheet, found: Sheet, scenario: Scenario) -> None:
    size = "refused" if batch.refusal else "a full pan" if batch == pan.full else "largest safe batch"
    if pan.limit_kg is not None and pan.limit_kg < pan.room_kg and batch == pan.full:
        size = "a full drip stand" if pan.part is Part.SOFTEN else "all that is softened"
    fruit = "juice of so much fruit" if pan.part is Part.BOIL else "prepared fruit"
    first = (words.kg(batch.kg), fruit, size, "bad" if batch.refusal else "")
    if pan.part is Part.SOFTEN:
        parts.cards([first, *_softened(batch)])
    else:
        parts.cards([first, *_potted(batch, found, scenario)])


Card = tuple[str, str, str, str]


def _softened(batch: BatchSheet) -> Iterable[Card]:
    if batch.water_kg:
        yield words.kg(batch.water_kg), "water", "", ""
    yield words.hours(batch.total.planned), "until all is in the bag", "", ""
    yield words.kg(batch.strained_kg), "juice by the morning", "", ""


def _potted(batch: BatchSheet, found: Sheet, scenario: Scenario) -> Iterable[Card]:
    card, cost, limit = batch.card, batch.cost, scenario.kitchen.potting_limit_c
    assert cost.a_jar is not None
    paid = cost.a_jar_with_pay
    kept = "" if card.kept == card.filled else f", {sum(card.kept)} for sale"
    yield f"{card.jars}", "jars", f"{words.kg(batch.panful.jam_kg)} of preserve{kept}", ""
    most = f"95 in 100: {words.hours(batch.total.most)}" if card.test else ""
    yield words.hours(batch.total.planned), "to the last jar", most, ""
    yield f"{card.set_c:.1f} °C", tables.boiled_to(found.recipe), "", ""
    yield f"{card.last_jar_c:.1f} °C", "last jar", f"at least {limit:g} °C", "bad" * (card.last_jar_c < limit)
    yield (
        words.money(cost.a_jar, scenario.currency),
        "a jar, without pay",
        "" if paid is None else f"{words.money(paid, scenario.currency)} with pay",
        "",
    )


def _batch(batch: BatchSheet, found: Sheet, part: Part, scenario: Scenario) -> None:
    """What goes in, minutes and cost of the chosen batch, side by side where there is room."""
    left, right = st.columns(2)
    with left:
        st.subheader("What goes in")
        parts.rows(_ingredients(batch, found))
        if len(batch.fruit) > 1:
            st.caption(tables.FRUIT_READ)
    with right:
        st.subheader("Minutes")
        parts.rows(
            (stage.name, f"{tables.minutes(stage)} min", "") for stage in (*batch.minutes, batch.total)
        )
        st.caption(tables.minutes_read(found.recipe, part, scenario.kitchen))
    with st.expander("What it costs, both days" if part is Part.BOIL else "What it costs"):
        lines = [*batch.cost.materials, ("pay", batch.cost.pay)]
        told = [(name, amount) for name, amount in lines if amount is not None]
        parts.rows((name, words.money(amount, scenario.currency), "") for name, amount in told)
        st.caption(f"{tables.BOTH_DAYS} {_COST}" if part is Part.BOIL else _COST)


def _ingredients(batch: BatchSheet, found: Sheet) -> Iterable[tuple[str, str, str]]:
    card, recipe = batch.card, found.recipe
    for portion in batch.fruit:
        picked = f"{words.kg(portion.picked_kg)} as picked"
        yield portion.fruit, f"{words.kg(portion.prepared_kg)} prepared", picked
    if batch.softened:
        where = f"of {words.kg(batch.kg)} of fruit, softened in {tables.softened_in(batch, found)}"
        yield "juice", words.kg(batch.strained_kg), where
    for name, amount, text in (
        ("sugar", card.sugar, words.kg(card.sugar / SCALE)),
        ("water", batch.water_kg, words.kg(batch.water_kg)),
        ("lemons", card.lemons, f"{card.lemons}"),
        ("pectin", card.pectin, f"{card.pectin} g"),
    ):
        if amount:
            yield name, text, ""
    if batch.strained_kg and not recipe.two_days:
        yield tables.strained_name(recipe), words.kg(batch.strained_kg), "what the sieve lets through"
    if card.jars:
        yield "to drive off", f"{words.kg(batch.panful.water_off_kg)} of water", ""


def _minutes(found: Sheet, part: Part, chosen: PanSheet, shown: Shown) -> None:
    """Every pan of a recipe made on one day; the chosen one of each of two days, or the page has no end."""
    st.subheader("Minutes and size")
    pans = found.of(part) if part is Part.WHOLE else (chosen,)
    if not any(pan.curve for pan in pans):
        parts.note("No pan of this kitchen cooks this recipe.")
        return
    chance = tables.tested(found.recipe, part)
    told = _MINUTES[part] + " The stack is what the plan keeps free."
    told += _CHANCE.format(first=100 * shown.scenario.kitchen.first_set_share) if chance else ""
    st.caption(told + " Shaded: a batch of that size is refused.")
    st.html(charts.stage_key(shown.look, tables.stages_in(found.recipe, part)))
    figure = charts.minutes_by_kg(found, pans, shown.scenario, shown.look)
    alt = "Minutes against kg of fruit in " + ", ".join(tables.pan_name(pan, found) for pan in pans)
    parts.chart(figure, f"recipe-minutes {part}", alt, tables.minutes_table(found, part))
    if part is not Part.SOFTEN:
        parts.rows((tables.pan_name(pan, found), f"{tables.pottable(pan)}.".capitalize(), "") for pan in pans)
    st.caption("By the minute; the plan rounds minutes up to five, and so refuses a little more.")


def _boil(batch: BatchSheet, found: Sheet, shown: Shown) -> None:
    st.subheader("Through the boil")
    tested = found.recipe.tested
    fruit = f"{'Juice of ' if batch.softened else ''}{words.kg(batch.kg)} of fruit"
    st.caption(
        f"{fruit} from the mix to the {'set' if tested else 'jar'}: as water leaves, "
        "solids rise, and with them the temperature. Minutes as computed, before the plan rounds them up."
    )
    course = course_of(batch.panful, found.recipe, shown.scenario.kitchen)
    alt = "Solids and temperature over the minutes of the boil"
    parts.chart(charts.boil_course(course, shown.look, tested), "recipe-boil", alt, _course_table(course))


def _course_table(course: Course) -> pd.DataFrame:
    every = slice(None, None, 4)
    return pd.DataFrame(
        {"min": course.minutes[every], "solids %": 100 * course.solids[every], "°C": course.celsius[every]}
    )


def _names(found: Sheet) -> None:
    if found.recipe.two_days:
        st.header("In the jar", divider="gray")
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


def _beside(stages: Sequence[str], said: set[str]) -> None:
    """The cautions of these stages, but for those that stand higher on the page."""
    told = dict.fromkeys(caution.text for stage in stages for caution in cautions_at(stage))
    new = [text for text in told if text not in said]
    if new:
        parts.note("Take care: " + ", ".join(dict.fromkeys(stages)), new)
    said.update(new)
