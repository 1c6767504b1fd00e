"""Part of page "Who does what": the plan in the calendars that people already have on their phones."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import UTC, datetime
from hashlib import sha256
from urllib.parse import urlsplit

import segno
import streamlit as st

from scheduler.errors import InputFaults
from scheduler.feeds import Changes, Store, publish, would_change
from scheduler.feeds.dav import Server
from scheduler.feeds.dav_settings import NAMED_BY, dav_server
from scheduler.feeds.entry import is_person, of_person, title
from scheduler.feeds.files import file_names
from scheduler.feeds.publishing import known_feeds
from scheduler.feeds.routes import address, reaches_phones, to_subscribe
from scheduler.feeds.sending import send
from scheduler.feeds.store import Published
from scheduler.people_pages.routes import page_address
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_ASK_AGAIN = "Phones ask for news when they choose, often only after hours: tell people of a change of today."
_HIDDEN = "Addresses are shown only on the machine that Maslin runs on."
_TELLS = "Whoever has this address reads this calendar."
_PAGE = "Whoever has this address reads this page and can answer on it."
_OWN = (
    "Phones cannot reach this address, which is this machine's own. The README says how to give one that "
    "they can reach; till then, send the file."
)


def show(shown: Shown, person: str) -> None:
    """Draw the part; the calendar offered first is that of ``person``."""
    st.subheader("Phone calendars")
    store = Store(shown.home, shown.scenario.kitchen_id)
    try:
        changes = would_change(shown.ready, shown.situation, store)
        published = store.published()
        feeds, texts = known_feeds(shown.scenario, published, store.linked()), published.calendars
        if changes.feeds:
            _offer(changes, shown, store, first=not texts)
        else:
            parts.note("This plan is published.", [_ASK_AGAIN], "good")
        if texts:
            _to_server(feeds, published, store)
            _one_of(feeds, texts, store, person)
    except InputFaults as error:
        parts.note("The calendars cannot be read.", [str(fault) for fault in error.faults], "bad")
    except OSError as error:
        parts.note("The calendars cannot be kept.", [f"{error.strerror}. Is there room on the disk?"], "bad")


def _offer(changes: Changes, shown: Shown, store: Store, first: bool) -> None:
    """What publishing would change, and the button that does it."""
    if first:
        what = "a calendar for each person, one for the kitchen, one for orders and deliveries"
        parts.note("No phone has this plan yet.", [f"Publish it, and there is {what}."])
    else:
        parts.note("Phones have an earlier plan.", [f"To come: {changes}.", _ASK_AGAIN])
    if st.button("Publish this plan", key="publish", type="primary"):
        publish(shown.ready, shown.situation, store, datetime.now(UTC))
        st.rerun()


def _to_server(feeds: tuple[str, ...], published: Published, store: Store) -> None:
    """The button that sends what is published to a calendar server, where one is named, and what it sent."""
    if not os.environ.get(NAMED_BY):
        return
    if st.button("Send to the calendar server", key="send"):
        try:
            settings = dav_server()
            chosen = settings.chosen(feeds)
        except InputFaults as error:
            parts.note("Nothing was sent.", [str(fault) for fault in error.faults], "bad")
            return
        with st.spinner("Sending what differs"):
            outcomes = send(chosen, published, store, Server(settings))
        well = all(each.well for each in outcomes)
        said = "Sent to the calendar server." if well else "Not all could be sent. Send once more later."
        lines = [line for each in outcomes for line in each.lines()]
        parts.note(said, lines, "good" if well else "bad")


def _one_of(feeds: tuple[str, ...], texts: Mapping[str, str], store: Store, person: str) -> None:
    """One calendar at a time: its address, which is never listed among others, and its file."""
    first = feeds.index(of_person(person))
    feed = st.selectbox("Calendar of", feeds, index=first, format_func=title, key=f"feed of {person}")
    secret = store.link(feed)
    here = st.context.ip_address is None
    if secret and here:
        link = address(_base(), secret)
        _address(link, to_subscribe(link), f"{_TELLS} It is for {title(feed)} alone.")
        if is_person(feed):
            st.caption(f"The same secret opens {title(feed)}’s page, to read and to answer:")
            page = page_address(_base(), secret)
            _address(page, page, _PAGE)
    elif not here:
        st.caption(_HIDDEN)
    else:
        st.caption("It has no address: no phone follows it.")
    with st.container(horizontal=True):
        if feed in texts:
            (name,) = file_names([feed])
            st.download_button(
                f"File for {title(feed)}", texts[feed], name, "text/calendar", on_click="ignore"
            )
        if here:
            _give(feed, secret, store)


def _give(feed: str, secret: str | None, store: Store) -> None:
    """Buttons that make, renew and take away an address; what cannot be undone is asked twice."""
    if secret is None:
        if st.button("Make an address", key="make"):
            store.renew(feed)
            st.rerun()
        return
    # A key that changes with the secret closes the question once it is answered.
    key = sha256(secret.encode()).hexdigest()[:8]
    with st.popover("New address", key=f"ask-renew-{key}"):
        st.write("The old address stops working at once; whoever used it needs the new one.")
        if st.button("Give a new address", key=f"renew-{key}"):
            store.renew(feed)
            st.rerun()
    with st.popover("Withdraw", key=f"ask-withdraw-{key}"):
        st.write("The address stops working at once, and no phone follows this calendar any more.")
        if st.button("Withdraw the address", key=f"withdraw-{key}"):
            store.withdraw(feed)
            st.rerun()


def _address(link: str, in_square: str, told: str) -> None:
    """The address to copy; where a phone can reach it, also as a square that its camera reads."""
    if not reaches_phones(link):
        st.code(link, language=None, wrap_lines=True)
        st.caption(f"{told} {_OWN}")
        return
    square, words = st.columns([1, 4], vertical_alignment="center")
    square.image(segno.make(in_square, micro=False).svg_inline(scale=3, border=4, light="#fff"), width=160)
    with words:
        st.code(link, language=None, wrap_lines=True)
        st.caption(told)


def _base() -> str:
    """Where phones reach this server: as the owner says, else as this browser does."""
    said = os.environ.get("MASLIN_ADDRESS")
    if said:
        return said
    parts_ = urlsplit(st.context.url or "")
    return f"{parts_.scheme}://{parts_.netloc}"
