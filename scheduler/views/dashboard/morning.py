"""Page "This morning": what matters on one day, on one screen."""

from __future__ import annotations

from datetime import date

import streamlit as st

from scheduler.languages import say
from scheduler.views import words
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown
from scheduler.views.morning_rows import morning

_QUIET = say("Nothing is cooked, picked or due on this day.")


def show(shown: Shown) -> None:
    """Draw the page."""
    plan, scenario = shown.ready, shown.scenario
    days = scenario.dates()
    head, pick = st.columns([3, 1], vertical_alignment="bottom")
    with pick:
        day = parts.choose_day(days, "morning_day")
    assert day is not None
    head.header(words.day_name(day))
    head.caption(_which_day(day, days))
    found = morning(plan, scenario, day)
    parts.cards([(number, what, "", "") for number, what in found.numbers])
    if found.urgent:
        parts.note(say("Today, not tomorrow"), found.urgent, "bad")
    if not (found.pans or found.hands or found.fruit or found.goods):
        parts.note(_QUIET)
        return
    left, right = st.columns(2, gap="large")
    with left:
        _part(say("On the rings"), found.pans, say("Nothing is cooked."))
        _part(say("Comes, goes, taken out"), found.goods, "")
    with right:
        _part(say("Who is in"), found.hands, say("Nobody is in."))
        _part(say("Fruit"), found.fruit, "")
    parts.take_care(plan)


def _part(title: str, rows: tuple[tuple[str, str, str], ...], empty: str) -> None:
    if rows or empty:
        st.subheader(title)
    if rows:
        parts.rows(rows)
    elif empty:
        st.caption(empty)


def _which_day(day: date, days: tuple[date, ...]) -> str:
    today = date.today()
    if day == today:
        return say("Today, as planned.")
    if today in days:
        return say("As planned. Today is {day}.", day=words.day_name(today))
    return say(
        "As planned. Today, {day} {year}, is not in this plan.", day=words.day_name(today), year=today.year
    )
