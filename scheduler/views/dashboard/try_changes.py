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
from scheduler.views.dashboard import cells, editing, parts, state
from scheduler.views.dashboard.state import Shown

EVERY = "every fruit"
LINES = 12
"""Changes that are listed before the rest is only counted."""

Act = Callable[[Draft], None]
Fields = Callable[[Scenario, str], Act | None]
"""Draws the fields of a change under keys that begin so; the change, or None while it is not all said."""


def told(attempt: Try, draft: Draft) -> bool:
    """What the try changes of the scenario as it was, and a step back. Whether it changes anything."""
    lines = changes(Draft(attempt.before), draft)
    if not lines:
        st.caption("Nothing is changed yet.")
    else:
        more = [f"and {len(lines) - LINES} more"] if len(lines) > LINES else []
        parts.note(f"{attempt.name} changes", [*lines[:LINES], *more])
    if draft.step.said:
        parts.note("Turned into the unit of the column", draft.step.said)
    if draft.can_undo:
        st.button("Undo the last change", on_click=editing.step, args=(draft, "undo"))
    return bool(lines)


def form(shown: Shown, attempt: Try, draft: Draft) -> None:
    """The usual changes: choose one, say how much or who and when, and change it."""
    situation = state.read(attempt.folder)
    scenario = situation.scenario if isinstance(situation, Situation) else shown.scenario
    with st.container(border=True):
        what = st.selectbox("A usual change", list(FORMS), key=f"usual {attempt.name}")
        act = FORMS[what](scenario, f"{what} {attempt.name}")
        if st.button("Change it", disabled=act is None) and act:
            try:
                act(draft)
            except InputFaults as error:
                parts.fault_rows(error.faults)
                return
            cells.draw_afresh()
            st.rerun()


def _out(scenario: Scenario, key: str) -> Act | None:
    kitchen = scenario.kitchen
    things = [("pan", pan.name) for pan in kitchen.pans] + [("ring", ring.name) for ring in kitchen.rings]
    what, name = st.selectbox(
        "What is out", things, format_func=lambda each: f"{each[0]}: {each[1]}", key=key
    )
    days = _days(scenario, key)
    why = st.text_input("Why (may be left empty)", key=f"why {key}")
    return lambda draft: usual.out_of_use(draft, what, name, days, why.strip())


def _away(scenario: Scenario, key: str) -> Act | None:
    person = st.selectbox("Who", [each.name for each in scenario.people], key=key)
    days = _days(scenario, key)
    return lambda draft: usual.away(draft, person, days)


def _freezer(scenario: Scenario, key: str) -> Act | None:
    freezer = scenario.kitchen.freezer
    kg = st.number_input(
        f"kg that the {freezer.name} holds", 0.0, 100_000.0, freezer.kg, 10.0, "%.1f", key=key
    )
    return lambda draft: usual.freezer_kg(draft, kg)


def _by_percent(label: str, levers: Callable[[Scenario], dict[str, tuple[usual.Lever, str]]]) -> Fields:
    """A change by a percentage of one of several things, each by the words for it."""

    def fields(scenario: Scenario, key: str) -> Act | None:
        options = levers(scenario)
        if not options:
            st.caption("There is none of it in this scenario.")
            return None
        lever, name = options[st.selectbox(label, list(options), key=key)]
        percent = st.number_input(
            "Per cent more (with a minus: less)",
            usual.LEAST_PERCENT,
            usual.MOST_PERCENT,
            10.0,
            5.0,
            "%.1f",
            key=f"percent {key}",
        )
        return lambda draft: usual.by_percent(draft, lever, name, percent)

    return fields


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
        {f"a kg of {fruit.name} in punnets": (usual.PUNNET_PRICE, fruit.name) for fruit in scenario.fruits}
        | {f"a jar of {r.name}": (usual.JAR_PRICE, r.name) for r in scenario.recipes if r.name in ordered}
        | {f"{good.name}, bought": (usual.GOOD_PRICE, good.name) for good in scenario.goods}
    )


def _pan(scenario: Scenario, key: str) -> Act | None:
    names = [pan.name for pan in scenario.kitchen.pans]
    like = st.selectbox("Another pan like", names, key=key)
    name = st.text_input("Its name", f"second {like}", key=f"name {key} {like}").strip()
    return (lambda draft: usual.one_more_pan(draft, like, name)) if name else None


def _days(scenario: Scenario, key: str) -> list[date]:
    """Planned days from one to another, all of them to begin with."""
    first, last = scenario.dates()[0], scenario.dates()[-1]
    chosen = st.date_input("From and to", (first, last), first, last, format="DD/MM/YYYY", key=f"days {key}")
    if not isinstance(chosen, tuple) or not chosen:
        return []
    return [chosen[0] + timedelta(days=n) for n in range((chosen[-1] - chosen[0]).days + 1)]


FORMS: dict[str, Fields] = {
    "A pan or a ring is out of use": _out,
    "Somebody is away": _away,
    "The freezer holds more or less": _freezer,
    "More or less is picked": _by_percent(
        "Which fruit", _fruits(usual.PICKS, lambda scenario: {lot.fruit for lot in scenario.picks})
    ),
    "More or less is sold in punnets": _by_percent(
        "Which fruit", _fruits(usual.SALES, lambda scenario: {row.fruit for row in scenario.punnets})
    ),
    "One more pan": _pan,
    "A price": _by_percent("Which price", _prices),
}
"""The usual changes by what the form calls them."""
