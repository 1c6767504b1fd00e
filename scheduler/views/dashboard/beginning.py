"""Ten questions on page "Scenario" where a folder has no scenario yet."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import streamlit as st

from scheduler.drafts.draft import Draft
from scheduler.drafts.first import FIRST, answered, questions
from scheduler.drafts.first_files import CARE, texts_of
from scheduler.errors import InputFaults
from scheduler.languages import say, spoken
from scheduler.views.dashboard import cells, parts


def told(folder: Path, how: str) -> None:
    """Say that a folder holds no scenario, and how one is made."""
    parts.note(say("There is no scenario in {folder} yet.", folder=folder), [how])


def show(draft: Draft) -> None:
    """Ask, and put a first scenario into the draft; nothing is written before it is saved."""
    told(
        draft.folder,
        say("Ten answers make a first one, which you can then change. Or begin its files one by one below."),
    )
    with st.form("ten questions"):
        answers = {
            question.key: st.text_input(question.text, question.offered, key=f"asked {question.key}")
            for question in questions(date.today())
        }
        ready = st.form_submit_button(say("Make a first scenario"), type="primary")
    if not ready:
        return
    try:
        texts = texts_of(answered(answers))
    except InputFaults as error:
        parts.note(say("Not understood yet"), tone="bad")
        parts.rows((fault.where, parts.found(fault), parts.allowed(fault)) for fault in error.faults)
        return
    draft.take(texts, FIRST)
    st.session_state["told"] = (say("A first scenario stands below. Nothing is saved yet."), [spoken(CARE)])
    cells.draw_afresh()
    st.rerun()
