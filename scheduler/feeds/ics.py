"""A calendar as iCalendar text: RFC 5545 with the calendar properties of RFC 7986."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zlib import crc32
from zoneinfo import ZoneInfo

from icalendar import STATUS, TRANSP, Alarm, Calendar, Event, vDuration, vText

from scheduler.feeds.entry import KITCHEN, ORDERS, Entry, title
from scheduler.feeds.revising import Revision
from scheduler.feeds.zones import zone_component

REFRESH = timedelta(minutes=15)
PRODID = "-//Maslin//Calendar feeds//EN"
COLOURS = {KITCHEN: "firebrick", ORDERS: "goldenrod"}
PEOPLE = ("seagreen", "steelblue", "darkorchid", "chocolate", "teal", "slateblue", "olive", "indianred")
"""Colour names of CSS 3, as RFC 7986, 5.9 asks for."""


def calendar_text(feed: str, revisions: Sequence[Revision], farm: str, zone: str) -> bytes:
    """The calendar of a feed; the same revisions always give the same bytes."""
    calendar = Calendar.new(prodid=PRODID, calscale="GREGORIAN", color=colour(feed))
    del calendar["UID"]  # drawn at random; a calendar need have none
    name = f"{title(feed)[:1].upper()}{title(feed)[1:]}, {farm}"
    for key, text in (("NAME", name), ("X-WR-CALNAME", name), ("DESCRIPTION", _about(farm))):
        calendar.add(key, vText(_plain(text)))
    every = vDuration(REFRESH)
    every.params["VALUE"] = "DURATION"  # RFC 7986, 5.7: this property has no type of its own
    calendar.add("REFRESH-INTERVAL", every)
    calendar.add("X-PUBLISHED-TTL", vDuration(REFRESH))
    tz = ZoneInfo(zone)
    # A calendar without events still needs a component (RFC 5545, 3.6): its zone, of any year.
    days = [each.entry.day for each in revisions] or [date(2000, 1, 1)]
    calendar.add_component(zone_component(tz, min(days), max(days)))
    for revision in revisions:
        calendar.add_component(_event(revision, tz))
    return bytes(calendar.to_ical())


def event_text(revision: Revision, zone: str) -> bytes:
    """One event as a calendar object that a server keeps (RFC 4791, 4.1); the same revision always gives the
    same bytes."""
    calendar = Calendar()
    calendar.add("PRODID", PRODID)
    calendar.add("VERSION", "2.0")
    tz = ZoneInfo(zone)
    if revision.entry.start is not None:
        begins, ends = _times(revision.entry, tz)
        calendar.add_component(zone_component(tz, begins, ends))
    calendar.add_component(_event(revision, tz))
    return bytes(calendar.to_ical())


def says_the_same(one: str, other: str) -> bool:
    """Whether two calendar objects hold one event each that is at the same time and in the same words; what
    programs add of their own (alarms put off, marks) is no difference. False for what cannot be read."""
    try:
        return _said(one) == _said(other)
    except (AttributeError, KeyError, ValueError):
        return False


def sequence_of(text: str) -> int:
    """The SEQUENCE of a calendar object's event, 0 where it has none. Raises ValueError for what is none."""
    event: Any
    try:
        (event,) = Calendar.from_ical(text).walk("VEVENT")
        return int(event.get("SEQUENCE", 0))
    except (AttributeError, KeyError, TypeError) as error:
        raise ValueError("no calendar object") from error


def _said(text: str) -> tuple[object, ...]:
    event: Any
    (event,) = Calendar.from_ical(text).walk("VEVENT")
    words = (
        str(event.get(key, "")).strip() for key in ("UID", "SUMMARY", "DESCRIPTION", "LOCATION", "STATUS")
    )
    repeats = any(key in event for key in ("RRULE", "RDATE", "RECURRENCE-ID"))
    return (_moment(event["DTSTART"].dt), _moment(event["DTEND"].dt), repeats, *words)


def _moment(at: date) -> str:
    return (at.astimezone(UTC) if isinstance(at, datetime) else at).isoformat()


def colour(feed: str) -> str:
    """A feed's colour, the same each time."""
    return COLOURS.get(feed) or PEOPLE[crc32(feed.encode()) % len(PEOPLE)]


def _about(farm: str) -> str:
    return (
        f"Planned for {farm}. A plan that fits is not an order to hurry: what is said in the kitchen counts. "
        "Local food law and the farm's own food safety plan decide what may be made, kept and sold."
    )


def _event(revision: Revision, tz: ZoneInfo) -> Event:
    entry = revision.entry
    begins, ends = _times(entry, tz)
    # Not every phone shows STATUS, so the words say it, too.
    summary = f"Cancelled: {entry.summary}" if revision.cancelled else entry.summary
    event = Event.new(
        uid=revision.uid,
        sequence=revision.sequence,
        stamp=revision.changed,
        last_modified=revision.changed,
        created=revision.created,
        start=begins,
        end=ends,
        summary=_plain(summary),
        description=_plain(entry.description),
        location=_plain(entry.location) or None,
        categories=[entry.category],
        status=STATUS.CANCELLED if revision.cancelled else STATUS.CONFIRMED,
        transparency=TRANSP.TRANSPARENT if revision.cancelled or entry.start is None else TRANSP.OPAQUE,
    )
    if entry.alarm is not None and not revision.cancelled:
        after = timedelta(minutes=entry.alarm)
        event.add_component(Alarm.new_display(_plain(summary), after if entry.start is None else -after))
    return event


def _times(entry: Entry, tz: ZoneInfo) -> tuple[date, date]:
    """Begin and end: days of a whole day, else clock times of the zone (``datetime`` is a ``date``)."""
    if entry.start is None or entry.end is None:
        return entry.day, entry.day + timedelta(days=1)
    return at_clock(entry.day, entry.start, tz), at_clock(entry.day, entry.end, tz)


def at_clock(day: date, minutes: int, tz: ZoneInfo) -> datetime:
    """What the clock on the wall shows, which is what a plan's minutes mean on days of 23 or 25 hours, too.

    A time that the spring change leaves out is that much later, as RFC 5545, 3.3.5 reads it.
    """
    wall = datetime.combine(day, time()) + timedelta(minutes=minutes)
    return wall.replace(tzinfo=tz).astimezone(UTC).astimezone(tz)


def _plain(text: str) -> str:
    """Text without characters that TEXT may not hold (RFC 5545, 3.3.11); the line end stays."""
    return "".join(
        char if char == "\n" or unicodedata.category(char) not in {"Cc", "Cs"} else " " for char in text
    )
