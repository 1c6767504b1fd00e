"""Calendars read back by two parsers that share no code: icalendar and vobject."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

import vobject
from icalendar import Calendar


@dataclass(frozen=True, order=True)
class Seen:
    """An event as a parser gives it; times in UTC, whole days as dates."""

    uid: str
    sequence: int
    status: str
    begins: str
    ends: str
    summary: str
    description: str
    location: str
    changed: str
    alarms: tuple[timedelta, ...]


def by_icalendar(text: str) -> list[Seen]:
    calendar: Any = Calendar.from_ical(text)
    return sorted(
        Seen(
            str(event["UID"]),
            int(event["SEQUENCE"]),
            str(event["STATUS"]),
            _when(event["DTSTART"].dt),
            _when(event["DTEND"].dt),
            str(event["SUMMARY"]),
            str(event["DESCRIPTION"]),
            str(event.get("LOCATION", "")),
            _when(event["LAST-MODIFIED"].dt),
            tuple(alarm["TRIGGER"].dt for alarm in event.walk("VALARM")),
        )
        for event in calendar.walk("VEVENT")
    )


def by_vobject(text: str) -> list[Seen]:
    # It keeps the first zone of a name that it ever reads, whatever years that one covered.
    for zone in re.findall(r"^TZID:(.*?)\r?$", text, re.MULTILINE):
        vobject.icalendar.registerTzid(zone, None)
    calendar: Any = vobject.readOne(text)
    return sorted(
        Seen(
            event.uid.value,
            int(event.sequence.value),
            event.status.value,
            _when(event.dtstart.value),
            _when(event.dtend.value),
            event.summary.value,
            event.description.value,
            event.location.value if hasattr(event, "location") else "",
            _when(event.last_modified.value),
            tuple(alarm.trigger.value for alarm in getattr(event, "valarm_list", [])),
        )
        for event in getattr(calendar, "vevent_list", [])
    )


def _when(value: date) -> str:
    if isinstance(value, datetime):
        assert value.tzinfo is not None, "a time without a zone moves with whoever reads it"
        return value.astimezone(UTC).isoformat()
    return value.isoformat()
