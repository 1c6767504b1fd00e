"""The iCalendar text: two parsers read the same, on days with a change of clocks, whatever names hold."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from scheduler.feeds.entry import KITCHEN, ORDERS, Entry, of_person
from scheduler.feeds.ics import at_clock, calendar_text, colour
from scheduler.feeds.publishing import publish
from scheduler.feeds.revising import Revision, revise
from scheduler.feeds.store import Store
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW, entry
from tests.unit.feeds.reading import by_icalendar, by_vobject
from tests.unit.views import kilbrack_sample as sample

DUBLIN = "Europe/Dublin"


def published(*entries: Entry) -> tuple[Revision, ...]:
    days = [each.day for each in entries]
    return revise((), entries, min(days), max(days), NOW, "kilbrack")


def text_of(*entries: Entry, zone: str = DUBLIN) -> str:
    return calendar_text(AOIFE, published(*entries), "Kilbrack", zone).decode()


def test_two_parsers_read_the_same_events_of_a_whole_plan(tmp_path: Path) -> None:
    store = Store(tmp_path, "kilbrack")
    publish(sample.plan(), sample.situation(), store, NOW)
    found = store.published()
    assert len(found.calendars) == 6
    for feed, text in found.calendars.items():
        seen = by_icalendar(text)
        assert seen == by_vobject(text)
        wanted = {each.uid: each.entry for each in found.revisions if each.entry.feed == feed}
        assert {each.uid for each in seen} == set(wanted)
        for event in seen:
            said = wanted[event.uid]
            assert (event.summary, event.description) == (said.summary, said.description)
            if said.start is not None:
                # Irish summer time is an hour ahead of UTC (Standard Time (Amendment) Act 1971, section 1).
                hour, minute = divmod(said.start - 60, 60)
                assert event.begins == f"{said.day}T{hour:02d}:{minute:02d}:00+00:00"
            else:
                assert (event.begins, event.ends) == (str(said.day), str(said.day + timedelta(days=1)))


CHANGES = {
    # Summer time in the European Union begins on the last Sunday of March and ends on that of October, at
    # 01:00 UTC (Directive 2000/84/EC, articles 2 and 3).
    "before spring": (DUBLIN, date(2026, 3, 28), 480, "2026-03-28T08:00"),
    "spring": (DUBLIN, date(2026, 3, 29), 480, "2026-03-29T07:00"),
    "spring, before the change": (DUBLIN, date(2026, 3, 29), 45, "2026-03-29T00:45"),
    "before autumn": (DUBLIN, date(2026, 10, 24), 480, "2026-10-24T07:00"),
    "autumn": (DUBLIN, date(2026, 10, 25), 480, "2026-10-25T08:00"),
    "the last minute of a day": (DUBLIN, date(2026, 10, 24), 24 * 60, "2026-10-24T23:00"),
    # Second Sunday of March, first of November (Energy Policy Act of 2005, section 110).
    "New York in spring": ("America/New_York", date(2026, 3, 8), 480, "2026-03-08T12:00"),
    "New York in autumn": ("America/New_York", date(2026, 11, 1), 480, "2026-11-01T13:00"),
    # Clocks of Lord Howe Island change by half an hour (IANA time zone database).
    "half an hour": ("Australia/Lord_Howe", date(2026, 10, 4), 480, "2026-10-03T21:00"),
    "no change at all": ("Asia/Kolkata", date(2026, 3, 29), 480, "2026-03-29T02:30"),
}


@pytest.mark.parametrize("case", CHANGES)
def test_clocks_of_days_around_a_change_are_read_right_by_both(case: str) -> None:
    zone, day, minutes, utc = CHANGES[case]
    text = text_of(entry(day=day, start=minutes, end=minutes + 60), zone=zone)
    for seen in (by_icalendar(text), by_vobject(text)):
        assert seen[0].begins == f"{utc}:00+00:00"


def test_the_zone_in_the_text_is_enough_without_any_database() -> None:
    # A parser that knows the zone's name may pass over VTIMEZONE; one that does not must come to the same.
    days = [date(2026, 1, 1) + timedelta(days=n) for n in range(0, 730, 5)]
    text = text_of(*(entry(day=day) for day in days)).replace(DUBLIN, "Nowhere/Known")
    tz = ZoneInfo(DUBLIN)
    wanted = [at_clock(day, 540, tz).astimezone(UTC).isoformat() for day in days]
    assert sorted(each.begins for each in by_vobject(text)) == wanted
    assert sorted(each.begins for each in by_icalendar(text)) == wanted


ZONES = ("Europe/Dublin", "America/New_York", "Australia/Lord_Howe", "Africa/Casablanca", "Asia/Kolkata")


@pytest.mark.parametrize("zone", ZONES)
def test_the_zone_changes_its_clocks_to_the_minute(zone: str) -> None:
    calendar: Any = Calendar.from_ical(text_of(entry(day=date(2026, 6, 1)), zone=zone))
    (component,) = calendar.walk("VTIMEZONE")
    onsets = {
        # RFC 5545, 3.6.5: the onset is local time by TZOFFSETFROM.
        (part["DTSTART"].dt - part["TZOFFSETFROM"].td).replace(tzinfo=UTC): part["TZOFFSETTO"].td
        for part in component.subcomponents
    }
    tz = ZoneInfo(zone)
    shown: timedelta | None = None
    for minute in range(366 * 24 * 60):
        at = datetime(2025, 12, 31, tzinfo=UTC) + timedelta(minutes=minute)
        shown = onsets.get(at, shown)
        assert shown == at.astimezone(tz).utcoffset(), at


def test_a_time_that_spring_leaves_out_is_read_by_the_offset_before_it() -> None:
    # RFC 5545, 3.3.5.
    assert at_clock(date(2026, 3, 29), 90, ZoneInfo(DUBLIN)) == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)


NASTY = (
    "<script>alert(1)</script>",
    "<b>Aoife</b> & co",
    '=HYPERLINK("http://example.org";"x")',
    "+1-2@3",
    "a,b;c\\d",
    "ends with \\",
    "literal \\n and \\, and \\;",
    "two\nlines",
    'say "hello"',
    "BEGIN:VEVENT\nUID:forged\nEND:VEVENT",
    "Ó Súilleabháin 🍓 " * 12,
    "שלום",
)


@pytest.mark.parametrize("name", NASTY)
def test_whatever_a_name_holds_is_one_text_of_one_event(name: str) -> None:
    text = text_of(entry(summary=name, description=f"for {name}", location=name))
    for seen in (by_icalendar(text), by_vobject(text)):
        assert [(each.summary, each.description, each.location) for each in seen] == [
            (name, f"for {name}", name)
        ]
    assert text.count("\r\nBEGIN:VEVENT\r\n") == 1


@given(st.text(max_size=200))
def test_any_text_gives_lines_as_the_standard_asks(name: str) -> None:
    whole = calendar_text(of_person(name), published(entry(summary=f"for {name}")), name, DUBLIN)
    lines = whole.split(b"\r\n")
    # RFC 5545, 3.1: lines end with CRLF, hold 75 octets at most, and whole characters where they are folded.
    assert lines[-1] == b""
    assert max(map(len, lines)) <= 75
    assert all(b"\n" not in line and b"\r" not in line for line in lines)
    for line in lines:
        line.decode("utf-8")
    assert not re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", whole)
    assert len(Calendar.from_ical(whole).walk("VEVENT")) == 1


def test_the_calendar_says_name_colour_and_how_often_to_ask() -> None:
    text = calendar_text(of_person("O'Shea, Mary"), published(entry()), "Kilbrack", DUBLIN).decode()
    unfolded = text.replace("\r\n ", "")
    assert "\r\nNAME:O'Shea\\, Mary\\, Kilbrack\r\n" in unfolded
    # RFC 7986, 5.7: the type must be named.
    assert "\r\nREFRESH-INTERVAL;VALUE=DURATION:PT15M\r\n" in unfolded
    assert "\r\nX-PUBLISHED-TTL:PT15M\r\n" in unfolded
    assert re.search(r"\r\nCOLOR:[a-z]+\r\n", unfolded)
    assert "food law" in unfolded
    assert len({colour(feed) for feed in (KITCHEN, ORDERS, AOIFE)}) == 3


def test_a_cancelled_entry_says_so_in_both_ways_and_rings_no_more() -> None:
    gone = revise(published(entry()), (), MONDAY, MONDAY, LATER, "kilbrack")
    text = calendar_text(AOIFE, gone, "Kilbrack", DUBLIN).decode()
    for (seen,) in (by_icalendar(text), by_vobject(text)):
        assert (seen.status, seen.sequence, seen.alarms) == ("CANCELLED", 1, ())
        assert seen.summary == "Cancelled: Cook: S strawberry jam"
        assert seen.changed == LATER.isoformat()


def test_alarms_ring_before_work_and_in_the_morning_of_a_whole_day() -> None:
    text = text_of(entry(), entry(work="due", start=None, end=None, alarm=480), entry(work="x", alarm=None))
    for seen in (by_icalendar(text), by_vobject(text)):
        found = [alarm for each in seen for alarm in each.alarms]
        assert sorted(found) == [timedelta(minutes=-10), timedelta(hours=8)]


def test_the_stamp_is_that_of_the_last_change() -> None:
    # RFC 5545, 3.8.7.2: without METHOD, DTSTAMP is when the event was last revised.
    calendar: Any = Calendar.from_ical(text_of(entry()))
    (event,) = calendar.walk("VEVENT")
    assert event["DTSTAMP"].dt == event["LAST-MODIFIED"].dt == event["CREATED"].dt == NOW


def test_a_calendar_without_entries_is_still_whole() -> None:
    text = calendar_text(AOIFE, (), "Kilbrack", DUBLIN).decode()
    assert by_icalendar(text) == by_vobject(text) == []
    assert "BEGIN:VTIMEZONE" in text
