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
from scheduler.languages import ENGLISH, message, say, say_many, speaking, spoken
from scheduler.people_pages.routes import page_address
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_ASK_AGAIN = message(
    "Phones ask for news when they choose, often only after hours: tell people of a change of today."
)
_HIDDEN = message("Addresses are shown only on the machine that Maslin runs on.")
_TELLS = message("Whoever has this address reads this calendar.")
_PAGE = message("Whoever has this address reads this page and can answer on it.")
_OWN = message(
    "Phones cannot reach this address, which is this machine's own. The README says how to "
    "give one that they can reach; till then, send the file."
)


def show(shown: Shown, person: str) -> None:
    """Draw the part; the calendar offered first is that of ``person``."""
    st.subheader(say("Phone calendars"))
    store = Store(shown.home, shown.scenario.kitchen_id)
    try:
        with speaking(ENGLISH):  # what is published is, whatever the page speaks
            changes = would_change(shown.ready, shown.situation, store)
        published = store.published()
        feeds, texts = known_feeds(shown.scenario, published, store.linked()), published.calendars
        if changes.feeds:
            _offer(changes, shown, store, first=not texts)
        else:
            parts.note(say("This plan is published."), [spoken(_ASK_AGAIN)], "good")
        if texts:
            _to_server(feeds, published, store)
            _one_of(feeds, texts, store, person)
    except InputFaults as error:
        parts.note(say("The calendars cannot be read."), [str(fault) for fault in error.faults], "bad")
    except OSError as error:
        parts.note(
            say("The calendars cannot be kept."),
            [say("{reason}. Is there room on the disk?", reason=error.strerror)],
            "bad",
        )


def _title(feed: str) -> str:
    """Whose calendar it is: a person by name, the kitchen in the reader's words."""
    return title(feed) if is_person(feed) else spoken(title(feed))


def _changes(changes: Changes) -> str:
    """What publishing would change, by number, and for whom."""
    *names, last = [_title(feed) for feed in changes.feeds]
    return say_many(
        "{n} entry new, {changed} changed, {cancelled} cancelled, for {people}",
        "{n} entries new, {changed} changed, {cancelled} cancelled, for {people}",
        changes.new,
        changed=changes.changed,
        cancelled=changes.cancelled,
        people=say(" and ").join([", ".join(names), last]) if names else last,
    )


def _offer(changes: Changes, shown: Shown, store: Store, first: bool) -> None:
    """What publishing would change, and the button that does it."""
    if first:
        what = say("a calendar for each person, one for the kitchen, one for orders and deliveries")
        parts.note(say("No phone has this plan yet."), [say("Publish it, and there is {what}.", what=what)])
    else:
        parts.note(
            say("Phones have an earlier plan."),
            [say("To come: {changes}.", changes=_changes(changes)), spoken(_ASK_AGAIN)],
        )
    if st.button(say("Publish this plan"), key="publish", type="primary"):
        with speaking(ENGLISH):
            publish(shown.ready, shown.situation, store, datetime.now(UTC))
        st.rerun()


def _to_server(feeds: tuple[str, ...], published: Published, store: Store) -> None:
    """The button that sends what is published to a calendar server, where one is named, and what it sent."""
    if not os.environ.get(NAMED_BY):
        return
    if st.button(say("Send to the calendar server"), key="send"):
        try:
            settings = dav_server()
            chosen = settings.chosen(feeds)
        except InputFaults as error:
            parts.note(say("Nothing was sent."), [str(fault) for fault in error.faults], "bad")
            return
        with st.spinner(say("Sending what differs")):
            outcomes = send(chosen, published, store, Server(settings))
        well = all(each.well for each in outcomes)
        sent, failed = (
            say("Sent to the calendar server."),
            say("Not all could be sent. Send once more later."),
        )
        lines = [line for each in outcomes for line in each.lines()]
        parts.note(sent if well else failed, lines, "good" if well else "bad")


def _one_of(feeds: tuple[str, ...], texts: Mapping[str, str], store: Store, person: str) -> None:
    """One calendar at a time: its address, which is never listed among others, and its file."""
    first = feeds.index(of_person(person))
    feed = st.selectbox(say("Calendar of"), feeds, index=first, format_func=_title, key=f"feed of {person}")
    secret = store.link(feed)
    here = st.context.ip_address is None
    if secret and here:
        link = address(_base(), secret)
        _address(
            link,
            to_subscribe(link),
            f"{spoken(_TELLS)} {say('It is for {title} alone.', title=_title(feed))}",
        )
        if is_person(feed):
            st.caption(
                say("The same secret opens {title}’s page, to read and to answer:", title=_title(feed))
            )
            page = page_address(_base(), secret)
            _address(page, page, spoken(_PAGE))
    elif not here:
        st.caption(spoken(_HIDDEN))
    else:
        st.caption(say("It has no address: no phone follows it."))
    with st.container(horizontal=True):
        if feed in texts:
            (name,) = file_names([feed])
            st.download_button(
                say("File for {title}", title=_title(feed)),
                texts[feed],
                name,
                "text/calendar",
                on_click="ignore",
            )
        if here:
            _give(feed, secret, store)


def _give(feed: str, secret: str | None, store: Store) -> None:
    """Buttons that make, renew and take away an address; what cannot be undone is asked twice."""
    if secret is None:
        if st.button(say("Make an address"), key="make"):
            store.renew(feed)
            st.rerun()
        return
    # A key that changes with the secret closes the question once it is answered.
    key = sha256(secret.encode()).hexdigest()[:8]
    with st.popover(say("New address"), key=f"ask-renew-{key}"):
        st.write(say("The old address stops working at once; whoever used it needs the new one."))
        if st.button(say("Give a new address"), key=f"renew-{key}"):
            store.renew(feed)
            st.rerun()
    with st.popover(say("Withdraw"), key=f"ask-withdraw-{key}"):
        st.write(say("The address stops working at once, and no phone follows this calendar any more."))
        if st.button(say("Withdraw the address"), key=f"withdraw-{key}"):
            store.withdraw(feed)
            st.rerun()


def _address(link: str, in_square: str, told: str) -> None:
    """The address to copy; where a phone can reach it, also as a square that its camera reads."""
    if not reaches_phones(link):
        st.code(link, language=None, wrap_lines=True)
        st.caption(f"{told} {spoken(_OWN)}")
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
