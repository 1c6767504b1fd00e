"""Page "Try a change": a copy of the scenario is changed and planned, and both plans stand side by side."""

from __future__ import annotations

from datetime import datetime

import streamlit as st

from scheduler.domain.scenario import Situation
from scheduler.drafts import tries
from scheduler.drafts.draft import Draft
from scheduler.drafts.tries import Try
from scheduler.errors import Fault, FilesChanged, InputFaults
from scheduler.languages import message, say, spoken
from scheduler.views.dashboard import editing, live, parts, runs, state, try_changes, try_result
from scheduler.views.dashboard.state import Shown

NEW = message("A new try …")
_NEWS = "try news"
_OPEN = "try"


def show(shown: Shown) -> None:
    """Draw the page."""
    st.header(say("Try a change"))
    st.caption(
        say(
            "What if a pan is out, somebody is away, more is picked? A try is a copy of this "
            "scenario: change it, plan it, and see both plans. The scenario stays as it is until "
            "you take a try over."
        )
    )
    _tell()
    found = {attempt.name: attempt for attempt in tries.tries_of(shown.home, shown.folder)}
    attempt = _choose(found)
    if attempt is None:
        _begin(shown, len(found))
    else:
        _draw(shown, attempt)


def _choose(found: dict[str, Try]) -> Try | None:
    """A try to open; none where a new one is to be begun."""
    options = [*found, NEW]
    asked = st.session_state.get(_OPEN, options[0])
    index = options.index(asked) if asked in options else 0
    if not found:
        return None
    # The list changes as tries come and go, and its key with it.
    name = st.selectbox(
        say("Try"),
        options,
        index=index,
        format_func=lambda each: spoken(each) if each == NEW else each,
        key=f"{_OPEN} {hash(tuple(options))} {asked}",
    )
    st.session_state[_OPEN] = name
    return found.get(name)


def _begin(shown: Shown, many: int) -> None:
    name = st.text_input(say("Name of the new try"), value=say("Try {n}", n=many + 1), key=f"new try {many}")
    if st.button(say("Begin this try"), type="primary"):
        try:
            tries.begin(shown.home, shown.folder, name)
        except InputFaults as error:
            parts.fault_rows(error.faults)
            return
        except OSError as error:
            st.error(_no_room(error))
            return
        st.session_state[_OPEN] = name.strip()
        st.rerun()


def _draw(shown: Shown, attempt: Try) -> None:
    draft = editing.draft_of(attempt.folder)
    st.subheader(say("What is changed"))
    _moved(attempt)
    differs = try_changes.told(attempt, draft)
    try_changes.form(shown, attempt, draft)
    if st.toggle(say("Any other change, in the tables of page Scenario"), key=f"tables {attempt.folder}"):
        editing.tables(draft)
    elif draft.faults:
        parts.note(say("To mend before this try can be planned"), tone="bad")
        parts.fault_rows(draft.faults)
    run = _run(attempt)
    _plan_it(attempt, draft, busy=run.state == "running", differs=differs)
    if run.state == "failed":
        parts.note(say("Planning this try ended without a plan."), tuple(map(spoken, run.said)), "bad")
    try_result.show(shown, attempt, draft)
    _end(shown, attempt, draft)


def _moved(attempt: Try) -> None:
    if moved := tries.moved(attempt):
        parts.note(
            say("The scenario has been changed since this try was begun: {moved}.", moved=", ".join(moved)),
            [
                say(
                    "The two plans differ by that, too. Begin a new try to start from the scenario as it "
                    "is now."
                )
            ],
        )


def _run(attempt: Try) -> runs.Run:
    situation = state.read(attempt.folder)
    if not isinstance(situation, Situation):
        return runs.Run("none")
    run = runs.look(attempt.plans, situation.input_hash)
    if run.state == "running":
        live.progress(attempt.plans, situation.input_hash, situation.scenario, "page")
        if run.stopping:
            st.caption(say("Stopping; the best plan so far is kept."))
        elif st.button(say("Stop this try and keep its best")):
            runs.stop(attempt.plans, situation.input_hash)
            st.rerun()
    return run


def _plan_it(attempt: Try, draft: Draft, busy: bool, differs: bool) -> None:
    """Save what was changed in the try and, if asked for, start its plan."""
    idle = bool(draft.faults) or busy
    with st.container(horizontal=True):
        plan = st.button(say("Plan this try"), type="primary", disabled=idle or not differs)
        keep = st.button(say("Keep it, plan later"), disabled=idle or not draft.changed)
    if not plan and not keep:
        return
    try:
        draft.save(datetime.now())
        situation = state.read(attempt.folder)
        if plan and isinstance(situation, Situation):
            seconds = float(state.seconds_to_plan())
            runs.start(attempt.plans, situation.input_hash, attempt.folder, seconds)
    except FilesChanged as error:
        _say(
            say("This try was changed elsewhere: {files}. It was read anew.", files=", ".join(error.files)),
            "bad",
        )
        draft.read_anew()
    except OSError as error:
        _say(_no_room(error), "bad")
    st.rerun()


def _end(shown: Shown, attempt: Try, draft: Draft) -> None:
    """Take the try over, or throw it away."""
    st.subheader(say("Done with this try?"))
    changed = tries.changed(attempt)
    with st.container(horizontal=True):
        take = st.button(say("Take it over into the scenario"), disabled=not changed or bool(draft.changed))
        away = st.button(say("Throw it away"))
    if draft.changed:
        st.caption(say("Plan it or keep it first: what was changed last is not in its files yet."))
    elif changed:
        st.caption(
            say(
                "Take it over, and {changed} in the scenario will be as in this try; what was there is "
                "kept. A try stays here by its name until it is thrown away.",
                changed=", ".join(changed),
            )
        )
    if take:
        _take_over(shown, attempt)
        st.rerun()
    if away:
        _throw_away(attempt)
        st.rerun()


def _take_over(shown: Shown, attempt: Try) -> None:
    try:
        kept = tries.take_over(attempt, datetime.now())
    except FilesChanged as error:
        remedy = say("Begin a new try of the scenario as it is now, or make the change on page Scenario.")
        files = ", ".join(error.files)
        _say(
            say(
                "Nothing was taken over: {files} changed in the scenario since this try was begun.",
                files=files,
            ),
            "bad",
            [remedy],
        )
    except InputFaults as error:
        _say(say("Nothing was taken over: the scenario would have faults."), "bad", faults=error.faults)
    except OSError as error:
        _say(_no_room(error), "bad")
    else:
        with_plan = try_result.bring_plan(shown, attempt)
        told = (
            [say("The plan of this try is now that of the scenario.")]
            if with_plan
            else [say("Press Plan for its plan.")]
        )
        if kept:
            told.append(say("What was there before is kept in {kept}.", kept=kept))
        _say(say("The scenario now says what {name} says.", name=attempt.name), "good", told)


def _throw_away(attempt: Try) -> None:
    situation = state.read(attempt.folder)
    if isinstance(situation, Situation):
        runs.stop(attempt.plans, situation.input_hash)
    try:
        tries.throw_away(attempt)
    except OSError as error:
        _say(_no_room(error), "bad")
        return
    st.session_state.get("drafts", {}).pop(attempt.folder, None)
    st.session_state.pop(_OPEN, None)
    _say(say("{name} is thrown away. The scenario is as it was.", name=attempt.name), "good")


def _say(title: str, tone: str, lines: list[str] | None = None, faults: tuple[Fault, ...] = ()) -> None:
    st.session_state[_NEWS] = (title, lines or [], tone, faults)


def _tell() -> None:
    if news := st.session_state.pop(_NEWS, None):
        title, lines, tone, faults = news
        parts.note(title, lines, tone)
        if faults:
            parts.fault_rows(faults)


def _no_room(error: OSError) -> str:
    return say(
        "It could not be done: {reason}. Is there room on the disk, and may it be written to?",
        reason=error.strerror,
    )
