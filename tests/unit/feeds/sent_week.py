"""A week of entries sent to a real server (Radicale), and what became of it."""

from __future__ import annotations

from datetime import timedelta

from scheduler.feeds.dav import Server
from scheduler.feeds.dav_settings import DavServer
from scheduler.feeds.entry import Entry
from scheduler.feeds.ics import calendar_text
from scheduler.feeds.revising import revise
from scheduler.feeds.sending import Outcome, send
from scheduler.feeds.store import Published, Store
from tests.calendar_server import PASSWORD, USER, Radicale
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW, entry

ZONE = "Europe/Dublin"
FOREIGN = (
    "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Other//EN\r\nBEGIN:VEVENT\r\nUID:dentist\r\n"
    "DTSTAMP:20260701T000000Z\r\nDTSTART:20260706T080000Z\r\nSUMMARY:Dentist\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)


WEEK = tuple(
    entry(day=MONDAY + timedelta(days=n), work=work, start=start, end=start + 60, summary=f"{work} {n}")
    for n in range(4)
    for work, start in (("shift", 480), ("cook", 540), ("pot up", 660))
)


def plan(*entries: Entry, before: Published | None = None) -> Published:
    """What is published once a plan of a week has ``entries``."""
    earlier = before.revisions if before else ()
    now = LATER if before else NOW
    revisions = revise(earlier, entries, MONDAY, MONDAY + timedelta(days=6), now, "kilbrack")
    own = [each for each in revisions if each.entry.feed == AOIFE]
    return Published(
        revisions, {AOIFE: calendar_text(AOIFE, own, "Kilbrack", ZONE).decode()}, "Kilbrack", ZONE
    )


def go(
    server: Radicale,
    published: Published,
    store: Store,
    password: str = PASSWORD,
    waits: list[float] | None = None,
    answer_s: float = 20,
) -> Outcome:
    """Send Aoife's calendar; what became of it."""
    to = DavServer(server.url, {"Aoife": "aoife"}, USER, password)
    waited = [] if waits is None else waits
    (outcome,) = send({AOIFE: "aoife"}, published, store, Server(to, waited.append, answer_s))
    return outcome


def counts(outcome: Outcome) -> tuple[int, int, int]:
    return outcome.new, outcome.changed, outcome.removed
