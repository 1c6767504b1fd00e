"""Part of page "Try a change": usual changes in a small form, and all that a try changes, line by line."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import streamlit as st

from scheduler.domain.scenario import Scenario, Situation
from scheduler.drafts import usual
from scheduler.drafts.changes import changes
from scheduler.drafts.draft import Draft
from scheduler.drafts.tries import Try
from scheduler.errors import InputFaults
from scheduler.languages import locale, measures, message, say, spoken
from scheduler.views.dashboard import cells, editing, parts, state
from scheduler.views.dashboard.state import Shown

EVERY = message("every fruit")
LINES = 12
"""Changes that are listed before the rest is only counted."""

Act = Callable[[Draft], None]
Fields = Callable[[Scenario, str], Act | None]
"""Draws the fields of a change under keys that begin so; the change, or None while it is not all said."""


def told(attempt: Try, draft: Draft) -> bool:
    """What the try changes of the scenario as it was, and a step back. Whether it changes anything."""
    lines = changes(Draft(attempt.before), draft)
    if not lines:
        st.caption(say("Nothing is changed yet."))
    else:
        more = [say("and {n} more", n=len(lines) - LINES)] if len(lines) > LINES else []
        parts.note(say("What “{name}” changes", name=attempt.name), [*lines[:LINES], *more])
    if draft.step.said:
        parts.note(say("Turned into the unit of the column"), draft.step.said)
    if draft.can_undo:
        st.button(say("Undo the last change"), on_click=editing.step, args=(draft, "undo"))
    return bool(lines)


def form(shown: Shown, attempt: Try, draft: Draft) -> None:
    """The usual changes: choose one, say how much or who and when, and change it."""
    situation = state.read(attempt.folder)
    scenario = situation.scenario if isinstance(situation, Situation) else shown.scenario
    with st.container(border=True):
        what = st.selectbox(
            say("A usual change"), list(FORMS), format_func=spoken, key=f"usual {attempt.name}"
        )
        act = FORMS[what](scenario, f"{what} {attempt.name}")
        if st.button(say("Change it"), disabled=act is None) and act:
            try:
                act(draft)
            except InputFaults as error:
                parts.fault_rows(error.faults)
                return
            cells.draw_afresh()
            st.rerun()


def _out(scenario: Scenario, key: str) -> Act | None:
    kitchen = scenario.kitchen
    things = [(message("pan"), pan.name) for pan in kitchen.pans] + [
        (message("ring"), ring.name) for ring in kitchen.rings
    ]
    what, name = st.selectbox(
        say("What is out"), things, format_func=lambda each: f"{spoken(each[0])}: {each[1]}", key=key
    )
    days = _days(scenario, key)
    why = st.text_input(say("Why (may be left empty)"), key=f"why {key}")
    return lambda draft: usual.out_of_use(draft, what, name, days, why.strip())


def _away(scenario: Scenario, key: str) -> Act | None:
    person = st.selectbox(say("Who"), [each.name for each in scenario.people], key=key)
    days = _days(scenario, key)
    return lambda draft: usual.away(draft, person, days)


def _freezer(scenario: Scenario, key: str) -> Act | None:
    freezer = scenario.kitchen.freezer
    asked = measures.worded(say("kg that the {name} holds")).format(name=freezer.name)
    most, now = measures.all_shown((100_000.0, freezer.kg))
    held = st.number_input(asked, 0.0, most, now, 10.0, "%.1f", key=key)
    return lambda draft: usual.freezer_kg(draft, measures.in_kg(held))


def _by_percent(label: str, levers: Callable[[Scenario], dict[str, tuple[usual.Lever, str]]]) -> Fields:
    """A change by a percentage of one of several things, each by the words for it."""

    def fields(scenario: Scenario, key: str) -> Act | None:
        options = levers(scenario)
        if not options:
            st.caption(say("There is none of it in this scenario."))
            return None
        lever, name = options[st.selectbox(spoken(label), list(options), format_func=_named, key=key)]
        percent = st.number_input(
            say("Per cent more (with a minus: less)"),
            usual.LEAST_PERCENT,
            usual.MOST_PERCENT,
            10.0,
            5.0,
            "%.1f",
            key=f"percent {key}",
        )
        return lambda draft: usual.by_percent(draft, lever, name, percent)

    return fields


def _named(option: str) -> str:
    return spoken(option) if option == EVERY else option


def _fruits(
    lever: usual.Lever, of: Callable[[Scenario], set[str]]
) -> Callable[[Scenario], dict[str, tuple[usual.Lever, str]]]:
    def levers(scenario: Scenario) -> dict[str, tuple[usual.Lever, str]]:
        named = [fruit.name for fruit in scenario.fruits if fruit.name in of(scenario)]
        return {EVERY: (lever, "")} | {name: (lever, name) for name in named} if named else {}

    return levers


def _prices(scenario: Scenario) -> dict[str, tuple[usual.Lever, str]]:
    ordered = {order.recipe for order in scenario.orders}
    return (
        {
            measures.worded(say("a kg of {name} in punnets")).format(name=fruit.name): (
                usual.PUNNET_PRICE,
                fruit.name,
            )
            for fruit in scenario.fruits
        }
        | {
            say("a jar of {name}", name=r.name): (usual.JAR_PRICE, r.name)
            for r in scenario.recipes
            if r.name in ordered
        }
        | {say("{name}, bought", name=good.name): (usual.GOOD_PRICE, good.name) for good in scenario.goods}
    )


def _pan(scenario: Scenario, key: str) -> Act | None:
    names = [pan.name for pan in scenario.kitchen.pans]
    like = st.selectbox(say("Another pan like"), names, key=key)
    name = st.text_input(say("Its name"), say("second {like}", like=like), key=f"name {key} {like}").strip()
    return (lambda draft: usual.one_more_pan(draft, like, name)) if name else None


def _days(scenario: Scenario, key: str) -> list[date]:
    """Planned days from one to another, all of them to begin with."""
    first, last = scenario.dates()[0], scenario.dates()[-1]
    chosen = st.date_input(
        say("From and to"),
        (first, last),
        first,
        last,
        format="DD.MM.YYYY" if locale() else "DD/MM/YYYY",
        key=f"days {key}",
    )
    if not isinstance(chosen, tuple) or not chosen:
        return []
    return [chosen[0] + timedelta(days=n) for n in range((chosen[-1] - chosen[0]).days + 1)]


FORMS: dict[str, Fields] = {
    message("A pan or a ring is out of use"): _out,
    message("Somebody is away"): _away,
    message("The freezer holds more or less"): _freezer,
    message("More or less is picked"): _by_percent(
        message("Which fruit"), _fruits(usual.PICKS, lambda scenario: {lot.fruit for lot in scenario.picks})
    ),
    message("More or less is sold in punnets"): _by_percent(
        message("Which fruit"), _fruits(usual.SALES, lambda scenario: {row.fruit for row in scenario.punnets})
    ),
    message("One more pan"): _pan,
    message("A price"): _by_percent(message("Which price"), _prices),
}
"""The usual changes by what the form calls them."""
