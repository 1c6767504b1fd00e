"""The frame of the dashboard: choice of scenario, the Plan button, and the pages."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import streamlit as st

from scheduler.domain.scenario import Situation
from scheduler.intake.files import REQUIRED
from scheduler.languages import current, languages, message, name_of, say, speaking, spoken, units
from scheduler.views import words
from scheduler.views.curve_table import in_short
from scheduler.views.dashboard import (
    beginning,
    calendar,
    chiller,
    editing,
    freezer,
    fruit,
    live,
    morning,
    orders,
    parts,
    people,
    recipes,
    runs,
    scenario,
    season,
    state,
    trying,
    week,
)
from scheduler.views.dashboard.state import Shown
from scheduler.views.files import plans_home

TITLE = "Maslin"
ICON = "🍓"
ELSEWHERE = message("another folder …")
SCENARIO = message("Scenario")
SECONDS = (10, 30, 60, 120, 300, 600)

PAGES: tuple[tuple[str, str, str, Callable[[Shown], None]], ...] = (
    (message("This morning"), "morning", message("What matters today"), morning.show),
    (message("Overview"), "week", message("The headline numbers beside those of habit"), week.show),
    (message("Cook calendar"), "calendar", message("Batches on their rings"), calendar.show),
    (people.TITLE, "people", "", people.show),
    (message("Freezer"), "freezer", message("The draw-down of the freezer"), freezer.show),
    (message("Freeze or cook"), "chiller", message("What a crate of each fruit is worth"), chiller.show),
    (message("Fruit"), "fruit", message("What happens to each fruit"), fruit.show),
    (message("Season"), "season", message("The plan week by week"), season.show),
    (message("Orders and store"), "orders", message("Orders, jars and what to buy"), orders.show),
    (message("Recipes"), "recipes", "", recipes.show),
    (message("Try a change"), "try", "", trying.show),
    (SCENARIO, "scenario", "", scenario.show),
)
"""Title, address, what will stand there once there is a plan ("" if it needs none), the page."""

WITH_EARLIER_PLANS = frozenset(
    page.show for page in (morning, week, calendar, freezer, fruit, season, orders)
)
"""Pages that show a plan of the files as they were earlier, and say so, where there is none of them now: who
is in the middle of a day needs it, whatever was changed for the next. Not those that publish or ask anew."""


def main(root: Path) -> None:
    """Draw the page that the browser asks for; ``root`` holds the folder ``scenarios``."""
    with speaking(state.language(), units=None):
        _draw(root)


def _draw(root: Path) -> None:
    st.set_page_config(page_title=TITLE, page_icon=ICON, layout="wide")
    look = state.current_look()
    parts.wear(look)
    parts.tell_language(current())
    st.logo(_mark(look.leaf, look.berry), size="large")
    with st.sidebar:
        folder = _choose(root / "scenarios")
    found = state.read(folder) if folder else None
    shown = _shown(folder, found) if folder and isinstance(found, Situation) else None
    state.keep_units(shown)
    if shown:
        with st.sidebar:
            _plan_controls(shown)
    with st.sidebar:
        _choose_language()
    pages = [
        st.Page(
            _page(shown, found, folder, show, title, what),
            title=spoken(title),
            url_path=path,
            default=path == "morning",
        )
        for title, path, what, show in PAGES
    ]
    with speaking(current(), units()):  # asked of the session once, not for every number
        st.navigation(pages).run()


def _page(
    shown: Shown | None,
    found: state.Read | None,
    folder: Path | None,
    show: Callable[[Shown], None],
    title: str,
    what: str,
) -> Callable[[], None]:
    """A page that first says what stands in its way: no folder, faults, a run at work, no plan."""

    def draw() -> None:
        if folder is None or found is None:
            parts.note(
                say("Choose a scenario folder on the left."),
                [say("It holds the farm's files: see the README.")],
            )
        elif shown is None:
            assert isinstance(found, tuple)
            if title == SCENARIO:
                st.header(spoken(editing.TITLE))
                editing.show(folder)
            elif not any((folder / file).exists() for file in REQUIRED):
                st.header(spoken(title))
                beginning.told(folder, say("Ten questions on page Scenario make a first one."))
            else:
                parts.faults(found, str(folder))
        else:
            _news(shown)
            earlier = show in WITH_EARLIER_PLANS and shown.plan is None and state.with_earlier_plan(shown)
            if earlier:
                _not_of_these_files(earlier)
                show(earlier)
            elif what and shown.plan is None:
                parts.no_plan_yet(shown, spoken(title), spoken(what))
            else:
                show(shown)

    return draw


def _not_of_these_files(shown: Shown) -> None:
    """Say that the plan was made before the scenario's files were changed."""
    running = shown.run.state == "running"
    at_work = say("The new plan is being made.") if running else say("Press Plan for a new one.")
    parts.note(
        f"{say('This plan is of the scenario as it was before.')} {at_work}",
        [
            say("Changed since: {files}.", files=", ".join(shown.changed)),
            say("Nothing of it can be printed or published."),
        ],
        "bad",
    )


def _shown(folder: Path, situation: Situation) -> Shown:
    home = plans_home()
    run = runs.look(home, situation.input_hash)
    plan = state.plan_of(home, situation.input_hash)
    curve = state.curve_of(home, situation.input_hash)
    point = state.point_of(curve, own=plan is not None)
    shown = curve[point - 1] if point else plan
    return Shown(folder, situation, shown, run, home, state.current_look(), curve, point, plan is not None)


def _choose(scenarios: Path) -> Path | None:
    """The scenario folder; it also stands in the page's address, so that a reload finds it.

    What was chosen is remembered apart from the widgets: a page that is left while it is still
    being drawn puts them back to their first option.
    """
    names = sorted(path.name for path in scenarios.iterdir() if path.is_dir()) if scenarios.is_dir() else []
    memory = st.session_state
    if "asked" not in memory:
        memory["asked"] = st.query_params.get("scenario", names[0] if names else "")
    asked = str(memory["asked"])
    options = [*names, ELSEWHERE]
    place = options.index(asked) if asked in names else len(names)
    st.selectbox(
        say("Scenario"),
        options,
        index=place,
        format_func=lambda name: spoken(name) if name == ELSEWHERE else name,
        key="scenario",
        on_change=_remember,
        args=("scenario",),
    )
    if asked not in names:
        st.text_input(
            say("Folder"),
            value=asked,
            key="folder",
            placeholder="/home/me/jam/july",
            on_change=_remember,
            args=("folder",),
        )
    if not asked:
        return None
    st.query_params["scenario"] = asked
    return scenarios / asked if asked in names else Path(asked).expanduser()


def _choose_language() -> None:
    """The languages that there are, each by its own name."""
    found = languages()
    chosen = st.selectbox(
        "Language · Sprache",
        found,
        index=found.index(current()),
        format_func=name_of,
        key="choice of language",
        help=say(
            "In English whatever you choose: papers, calendars and messages to people, faults found in "
            "files, what columns of files mean, and what food law says."
        ),
    )
    if chosen != current():
        state.choose_language(chosen)
        st.rerun()
    state.keep_language()


def _remember(widget: str) -> None:
    chosen = str(st.session_state[widget]).strip()
    st.session_state["asked"] = "" if chosen == ELSEWHERE else chosen


def _plan_controls(shown: Shown) -> None:
    """How long, and Plan; or, while it works, how far it is, and Stop."""
    hash_ = shown.situation.input_hash
    if shown.run.state == "running":
        live.progress(shown.home, hash_, shown.scenario, "sidebar")
        return
    chosen = state.seconds_to_plan()
    seconds = st.select_slider(say("Seconds to plan, at most"), SECONDS, value=chosen, key="seconds")
    st.session_state["seconds asked"] = seconds
    if st.button(
        say("Plan again") if shown.own else say("Plan"), type="primary", width="stretch", key="plan"
    ):
        state.choose_point(0)
        try:
            runs.start(shown.home, hash_, shown.folder, float(seconds))
        except OSError as error:
            st.error(
                say("Planning could not start: {reason}. Is there room on the disk?", reason=error.strerror)
            )
            return
        st.rerun()
    if shown.plan:
        how = words.how_good(shown.plan).split(":")[0]
        which = say("Point {n}", n=shown.point) if shown.point else say("Last plan")
        took = words.number(shown.plan.seconds, grouped=False)
        st.caption(say("{which}: {how}; made in {seconds}\u00a0s.", which=which, how=how, seconds=took))


def _news(shown: Shown) -> None:
    """A run at work, how the last one failed, or that a choice is shown, above every page."""
    if shown.run.state == "running":
        live.progress(shown.home, shown.situation.input_hash, shown.scenario, "page")
    elif shown.run.state == "failed":
        kept = (
            say("The plan below is the one before.")
            if shown.plan
            else say("There is no plan of the files as they are now.")
        )
        parts.note(
            f"{say('Planning ended without a plan.')} {kept}", tuple(map(spoken, shown.run.said)), "bad"
        )
    if shown.point:
        parts.note(
            say(
                "Shown: point {n} of the trade-off curve, {in_short}.",
                n=shown.point,
                in_short=in_short(shown.ready, shown.scenario),
            ),
            [say("Choose another under “Fruit, jars or money” on page Overview.")],
        )


def _mark(leaf: str, berry: str) -> str:
    """The mark of this program: a berry under a leaf, and its name."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 150 34" width="150" height="34" role="img">'
        f'<path d="M5 14c0-4 6-6 11-6s11 2 11 6c0 8-6 17-11 17S5 22 5 14z" fill="{berry}"/>'
        f'<path d="M16 10C11 10 8 7 7 3c4 0 7 1 9 4 2-3 5-4 9-4-1 4-4 7-9 7z" fill="{leaf}"/>'
        f'<text x="37" y="25" font-family="Georgia,serif" font-size="24" fill="{leaf}">{TITLE}</text></svg>'
    )
