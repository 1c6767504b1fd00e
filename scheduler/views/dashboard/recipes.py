"""Page "Recipes": a batch sheet for the cook, with or without a plan."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pandas as pd
import streamlit as st

from scheduler.batch_sheet import BatchSheet
from scheduler.cards import SCALE
from scheduler.domain.scenario import Scenario
from scheduler.languages import locale, measures, message, say, spoken
from scheduler.law import label
from scheduler.law.acts import HERE
from scheduler.law.cautions import cautions_at
from scheduler.making import make_cards
from scheduler.pan_sheets import PanSheet
from scheduler.plan_rows import Part
from scheduler.sheet import Course, Sheet, course_of, jurisdictions, label_draft, sheet
from scheduler.views import batch_text, charts, words
from scheduler.views import recipe_tables as tables
from scheduler.views.charts.calendar import ON_THE_RING
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown
from scheduler.views.elsewhere import ADVICE

_MINUTES = {
    Part.WHOLE: message(
        "By kg of prepared fruit up to a full pan, from when cooking begins to the last jar."
    ),
    Part.SOFTEN: message(
        "By kg of prepared fruit up to a full pan or a full drip stand, until all is in the bag."
    ),
    Part.BOIL: message("By kg of the fruit whose juice it is, from dissolve to the last jar."),
}
_CHANCE = message(
    "The lines are the minutes within which so many of the batches stay, with {first} % setting at the "
    "first test."
)
_COST = message(
    "Fruit at its value in the kitchen. Pay at the mean of people with the skill, one cook "
    "to a pan (a cook who minds two costs half of that part). Breaks and waiting are not "
    "counted."
)


def show(shown: Shown) -> None:
    """Draw the page."""
    scenario = shown.scenario
    st.header(say("Recipes"))
    name = st.selectbox(say("Recipe"), [recipe.name for recipe in scenario.recipes], key="recipe")
    found = sheet(make_cards(shown.situation), scenario.recipe(name))
    if found.recipe.two_days:
        st.caption(spoken(tables.TWO_DAYS))
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
        st.header(spoken(title), divider="gray")
    pan = _choose_pan(found, part)
    batch = pan.best
    if batch:
        _headlines(pan, batch, found, scenario)
    told = tables.refusals(found, part)
    if part is found.parts[0]:
        told += found.warnings
    if told:
        parts.note(say("Take note"), told)
    if batch:
        _batch(batch, found, part, scenario)
    if part is not Part.BOIL:
        _beside(("recipe", "prepare"), said)
    st.subheader(say("All pans"))
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
    chosen = st.segmented_control(
        say("Pan"), list(names), default=first, required=True, key=f"recipe-pan {part}"
    )
    return names.get(str(chosen), names[first])


def _headlines(pan: PanSheet, batch: BatchSheet, found: Sheet, scenario: Scenario) -> None:
    size = (
        say("refused")
        if batch.refusal
        else say("a full pan")
        if batch == pan.full
        else say("largest safe batch")
    )
    if pan.limit_kg is not None and pan.limit_kg < pan.room_kg and batch == pan.full:
        size = say("a full drip stand") if pan.part is Part.SOFTEN else say("all that is softened")
    fruit = say("juice of so much fruit") if pan.part is Part.BOIL else say("prepared fruit")
    first = (words.mass(batch.kg), fruit, size, "bad" if batch.refusal else "")
    if pan.part is Part.SOFTEN:
        parts.cards([first, *_softened(batch)])
    else:
        parts.cards([first, *_potted(batch, found, scenario)])


Card = tuple[str, str, str, str]


def _softened(batch: BatchSheet) -> Iterable[Card]:
    if batch.water_kg:
        yield words.mass(batch.water_kg), say("water"), "", ""
    yield words.hours(batch.total.planned), say("until all is in the bag"), "", ""
    yield words.mass(batch.strained_kg), say("juice by the morning"), "", ""


def _potted(batch: BatchSheet, found: Sheet, scenario: Scenario) -> Iterable[Card]:
    card, cost, limit = batch.card, batch.cost, scenario.kitchen.potting_limit_c
    assert cost.a_jar is not None
    paid = cost.a_jar_with_pay
    kept = "" if card.kept == card.filled else say(", {n} for sale", n=sum(card.kept))
    yield (
        f"{card.jars}",
        say("jars"),
        say("{mass} of preserve{kept}", mass=words.mass(batch.panful.jam_kg), kept=kept),
        "",
    )
    most = say("95 in 100: {hours}", hours=words.hours(batch.total.most)) if card.test else ""
    yield words.hours(batch.total.planned), say("to the last jar"), most, ""
    yield words.degrees(card.set_c), tables.boiled_to(found.recipe), "", ""
    yield (
        words.degrees(card.last_jar_c),
        say("last jar"),
        say("at least {limit}", limit=words.degrees(limit, None)),
        "bad" * (card.last_jar_c < limit),
    )
    yield (
        words.money(cost.a_jar, scenario.currency),
        say("a jar, without pay"),
        "" if paid is None else say("{money} with pay", money=words.money(paid, scenario.currency)),
        "",
    )


def _batch(batch: BatchSheet, found: Sheet, part: Part, scenario: Scenario) -> None:
    """What goes in, minutes and cost of the chosen batch, side by side where there is room."""
    left, right = st.columns(2)
    with left:
        st.subheader(say("What goes in"))
        parts.rows(_ingredients(batch, found))
        if len(batch.fruit) > 1:
            st.caption(spoken(tables.FRUIT_READ))
    with right:
        st.subheader(say("Minutes"))
        parts.rows(
            (tables.stage_name(stage.name), f"{tables.minutes(stage)} min", "")
            for stage in (*batch.minutes, batch.total)
        )
        st.caption(tables.minutes_read(found.recipe, part, scenario.kitchen))
    with st.expander(say("What it costs, both days") if part is Part.BOIL else say("What it costs")):
        lines = [*batch.cost.materials, (say("pay"), batch.cost.pay)]
        told = [(name, amount) for name, amount in lines if amount is not None]
        parts.rows((spoken(name), words.money(amount, scenario.currency), "") for name, amount in told)
        st.caption(f"{spoken(tables.BOTH_DAYS)} {spoken(_COST)}" if part is Part.BOIL else spoken(_COST))


def _ingredients(batch: BatchSheet, found: Sheet) -> Iterable[tuple[str, str, str]]:
    card, recipe = batch.card, found.recipe
    for portion in batch.fruit:
        picked = say("{mass} as picked", mass=words.mass(portion.picked_kg))
        yield portion.fruit, say("{mass} prepared", mass=words.mass(portion.prepared_kg)), picked
    if batch.softened:
        where = say(
            "of {mass} of fruit, softened in {softened_in}",
            mass=words.mass(batch.kg),
            softened_in=tables.softened_in(batch, found),
        )
        yield say("juice"), words.mass(batch.strained_kg), where
    for name, amount, text in (
        (say("sugar"), card.sugar, words.mass(card.sugar / SCALE)),
        (say("water"), batch.water_kg, words.mass(batch.water_kg)),
        (say("lemons"), card.lemons, f"{card.lemons}"),
        (say("pectin"), card.pectin, f"{card.pectin} g"),
    ):
        if amount:
            yield name, text, ""
    if card.jars:
        for name, text in batch_text.others(recipe, batch.kg).items():
            yield name, text, ""
    if batch.strained_kg and not recipe.two_days:
        yield tables.strained_name(recipe), words.mass(batch.strained_kg), say("what the sieve lets through")
    if card.jars:
        yield say("to drive off"), say("{mass} of water", mass=words.mass(batch.panful.water_off_kg)), ""


def _minutes(found: Sheet, part: Part, chosen: PanSheet, shown: Shown) -> None:
    """Every pan of a recipe made on one day; the chosen one of each of two days, or the page has no end."""
    st.subheader(say("Minutes and size"))
    pans = found.of(part) if part is Part.WHOLE else (chosen,)
    if not any(pan.curve for pan in pans):
        parts.note(say("No pan of this kitchen cooks this recipe."))
        return
    chance = tables.tested(found.recipe, part)
    told = [measures.worded(spoken(_MINUTES[part])), say("The stack is what the plan keeps free.")]
    if chance:
        first = words.number(100 * shown.scenario.kitchen.first_set_share, grouped=False)
        told.append(spoken(_CHANCE).format(first=first))
    st.caption(" ".join([*told, say("Shaded: a batch of that size is refused.")]))
    st.html(charts.stage_key(shown.look, tables.stages_in(found.recipe, part)))
    figure = charts.minutes_by_kg(found, pans, shown.scenario, shown.look)
    names = ", ".join(tables.pan_name(pan, found) for pan in pans)
    alt = measures.worded(say("Minutes against kg of fruit in {pans}")).format(pans=names)
    parts.chart(figure, f"recipe-minutes {part}", alt, tables.minutes_table(found, part))
    if part is not Part.SOFTEN:
        parts.rows(
            (tables.pan_name(pan, found), words.sentence(f"{tables.pottable(pan)}."), "") for pan in pans
        )
    st.caption(say("By the minute; the plan rounds minutes up to five, and so refuses a little more."))


def _boil(batch: BatchSheet, found: Sheet, shown: Shown) -> None:
    st.subheader(say("Through the boil"))
    tested = found.recipe.tested
    mass = words.mass(batch.kg)
    fruit = (
        say("Juice of {mass} of fruit", mass=mass) if batch.softened else say("{mass} of fruit", mass=mass)
    )
    way = say("{fruit} from the mix to the set", fruit=fruit)
    if not tested:
        way = say("{fruit} from the mix to the jar", fruit=fruit)
    st.caption(
        say(
            "{way}: as water leaves, solids rise, and with them the temperature. Minutes as computed, before "
            "the plan rounds them up.",
            way=way,
        )
    )
    course = course_of(batch.panful, found.recipe, shown.scenario.kitchen)
    alt = say("Solids and temperature over the minutes of the boil")
    parts.chart(charts.boil_course(course, shown.look, tested), "recipe-boil", alt, _course_table(course))


def _course_table(course: Course) -> pd.DataFrame:
    every = slice(None, None, 4)
    return pd.DataFrame(
        {
            say("min"): course.minutes[every],
            say("solids %"): 100 * course.solids[every],
            say("°C"): course.celsius[every],
        }
    )


def _names(found: Sheet) -> None:
    if found.recipe.two_days:
        st.header(say("In the jar"), divider="gray")
    st.subheader(say("What it may be called"))
    places = tables.by_place(found.names)
    parts.rows(
        (spoken(place), words.sentence(tables.verdicts(findings)) + ".", tables.standing(findings))
        for place, findings in places.items()
    )
    with st.expander(say("Why, figure by figure")):
        for place, findings in places.items():
            lines = [f"{f.name}: {check}" for each in findings.values() for f in each for check in f.checks]
            parts.note(spoken(place), lines)
    if locale():
        st.caption(say("What food law says of names and labels is told in English."))
    st.caption(spoken(ADVICE))


def _label(found: Sheet, scenario: Scenario) -> None:
    st.subheader(say("Draft of the label"))
    places = jurisdictions(scenario)
    where = st.selectbox(
        say("Sold in"),
        places,
        format_func=spoken,
        index=places.index(HERE) if HERE in places else 0,
        key="sold-in",
    )
    draft = label_draft(scenario, found.recipe, where)
    parts.rows(
        (
            spoken(line.what),
            line.text,
            f"{line.remark} {_source(line)}".strip(),
        )
        for line in draft.lines
    )
    parts.note(say("To check before it is printed"), tuple(map(spoken, draft.to_check)))


def _source(line: label.Line) -> str:
    if line.verified:
        return say("Source: {source}.", source=line.source)
    return say("Source: {source}, not verified.", source=line.source)


def _beside(stages: Sequence[str], said: set[str]) -> None:
    """The cautions of these stages, but for those that stand higher on the page."""
    told = dict.fromkeys(spoken(caution.text) for stage in stages for caution in cautions_at(stage))
    new = [text for text in told if text not in said]
    if new:
        parts.note(say("Take care: {stages}", stages=", ".join(map(spoken, dict.fromkeys(stages)))), new)
    said.update(new)
