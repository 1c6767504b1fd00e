"""Part of page "Cook calendar": a batch is held, ruled out or let go, and the plan is made again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Literal

import streamlit as st

from scheduler.domain.held import HeldBatch
from scheduler.domain.scenario import Situation
from scheduler.drafts.holding import settle
from scheduler.errors import FilesChanged, InputFaults
from scheduler.languages import message, say, spoken
from scheduler.plan_rows import Batch
from scheduler.views import words
from scheduler.views.dashboard import parts, runs, state
from scheduler.views.dashboard.state import Shown
from scheduler.views.held_tables import SIGN, as_row, not_in, row_that_holds, settled, told

HOLD, RULE_OUT, LET_GO = message("Hold it as it is"), message("Rule it out"), message("Let it go")
_VERB = {HOLD: message("Hold"), RULE_OUT: message("Rule out"), LET_GO: message("Let go")}
_NEWS = "held news"

Rows = Sequence[HeldBatch]


def acts(shown: Shown, batch: Batch) -> None:
    """What can be done with a batch: each way becomes a row of held.csv, or takes one away."""
    row = row_that_holds(batch, shown.ready, shown.current.scenario)
    ways = [HOLD, RULE_OUT, LET_GO] if row else [HOLD, RULE_OUT]
    key = f"with {batch.id} {shown.ready.input_hash[:12]} {row}"
    way = st.segmented_control(
        say("What is to be settled"),
        ways,
        format_func=spoken,
        default=LET_GO if row else HOLD,
        required=True,
        key=key,
    )
    _tell()
    if way == LET_GO and row:
        st.caption(say("Held now{settled}. Let go, it is the plan's to choose again.", settled=settled(row)))
        _buttons(shown, way, (), (row,))
    elif way == RULE_OUT:
        _buttons(shown, way, (_ruled_out(batch, key),), ())
    else:
        wanted = _held(shown, batch, row, key)
        _buttons(shown, HOLD, (wanted,), (row,) if row else ())


def held_list(shown: Shown) -> None:
    """All that is held and ruled out, to tick what is let go."""
    rows = shown.current.scenario.held
    if not rows:
        return
    st.subheader(say("Held and ruled out"))
    _tell()
    missing = not_in(rows, shown.ready)
    ticked = []
    for number, row in enumerate(rows):
        sign = SIGN if row.hold else "✕"
        later = f" {say('(not in the plan shown)')}" if row in missing else ""
        key = f"let go {number} {shown.current.input_hash[:12]}"
        if st.checkbox(f"{sign} {told(row)}{later}", key=key):
            ticked.append(row)
    st.caption(
        say("Tick what is to be let go.") if not ticked else say("{ticked} ticked.", ticked=len(ticked))
    )
    _buttons(shown, message("Let the ticked go"), (), ticked)


def _held(shown: Shown, batch: Batch, row: HeldBatch | None, key: str) -> HeldBatch:
    """The row that holds a batch in what is ticked; what the row there is settles is ticked beforehand."""
    whole = as_row(batch, shown.ready)
    start = "" if whole.start is None else f" {words.clock(whole.start)}"
    st.caption(say("Held on its day. Untick what the plan may choose otherwise."))
    with st.container(horizontal=True):
        return replace(
            whole,
            start=whole.start
            if _tick(say("Start") + start, row is None or row.start is not None, key)
            else None,
            pan=whole.pan
            if _tick(say("Pan: {pan}", pan=batch.pan), row is None or bool(row.pan), key)
            else "",
            ring=whole.ring
            if _tick(say("Ring: {ring}", ring=batch.ring), row is None or bool(row.ring), key)
            else "",
            kg=whole.kg
            if _tick(say("Size: {mass}", mass=words.mass(batch.kg)), row is None or row.kg is not None, key)
            else None,
        )


def _tick(label: str, at_first: bool, key: str) -> bool:
    return st.checkbox(label, value=at_first, key=f"{label} {key}")


def _ruled_out(batch: Batch, key: str) -> HeldBatch:
    """The row that rules out a batch's recipe on its day, everywhere or in its pan, on its ring."""
    whole = HeldBatch(batch.day, batch.recipe, hold=False)
    options = (
        whole,
        replace(whole, pan=batch.pan),
        replace(whole, ring=batch.ring),
        replace(whole, pan=batch.pan, ring=batch.ring),
    )

    def name(row: HeldBatch) -> str:
        where = settled(row) or say(", wherever")
        return say("no {recipe} on {day}", recipe=row.recipe, day=words.day_name(row.day)) + where

    return st.selectbox(say("There is to be"), options, format_func=name, key=f"rule out {key}")


def _buttons(shown: Shown, way: str, add: Rows, let_go: Rows) -> None:
    """Draw both buttons of an act; what is pressed is done with what is ticked now, not when it was drawn."""
    verb = spoken(_VERB.get(way, way))
    idle = not add and not let_go
    kind: Literal["primary", "secondary"] = "primary" if way in _VERB else "secondary"
    with st.container(horizontal=True):
        again = st.button(say("{verb} and plan again", verb=verb), type=kind, disabled=idle)
        later = st.button(say("{verb}, plan later", verb=verb), disabled=idle)
    if again or later:
        _settle(shown, add, let_go, plan_again=again)
        st.rerun()


def _settle(shown: Shown, add: Rows, let_go: Rows, plan_again: bool) -> None:
    """Save the rows and, if asked for, start a plan of the files as they are then."""
    memory = st.session_state
    try:
        settle(shown.folder, datetime.now(), add, let_go)
    except InputFaults as error:
        memory[_NEWS] = (say("Nothing was saved: the rows cannot stand together."), error.faults)
        return
    except FilesChanged:
        memory[_NEWS] = (say("Nothing was saved: held.csv has been changed elsewhere. Look again."), ())
        return
    except OSError as error:
        memory[_NEWS] = (
            say("It could not be saved: {reason}. Is there room on the disk?", reason=error.strerror),
            (),
        )
        return
    if shown.run.state == "running":  # of files that are no more
        runs.stop(shown.home, shown.current.input_hash)
    situation = state.read(shown.folder)
    if plan_again and isinstance(situation, Situation):
        state.choose_point(0)
        try:
            runs.start(shown.home, situation.input_hash, shown.folder, float(state.seconds_to_plan()))
        except OSError as error:
            memory[_NEWS] = (say("Saved, but planning could not start: {reason}.", reason=error.strerror), ())


def _tell() -> None:
    """What stood in the way of the last act, if anything."""
    if news := st.session_state.pop(_NEWS, None):
        title, faults = news
        parts.note(title, tone="bad")
        if faults:
            parts.fault_rows(faults)
