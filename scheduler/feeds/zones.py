"""A time zone as a calendar carries it: each change of its clocks by itself, to the second.

Made from the IANA time zone database rather than by the library's own converter, whose onsets in spring are
late by the hour that is skipped. One observance a change needs no recurrence, which readers differ over.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

DAY = timedelta(days=1)
SECOND = timedelta(seconds=1)


def zone_component(tz: ZoneInfo, first: date, last: date) -> Timezone:
    """The clocks of ``tz`` from the year of ``first`` to the end of that of ``last`` (RFC 5545, 3.6.5)."""
    begins = datetime(first.year, 1, 1, tzinfo=UTC) - DAY
    zone = Timezone()
    zone.add("TZID", tz.key)
    zone.add_component(_observance(tz, begins, begins))
    for change in _changes(tz, begins, datetime(last.year + 1, 1, 2, tzinfo=UTC)):
        zone.add_component(_observance(tz, change - SECOND, change))
    return zone


def _observance(tz: ZoneInfo, before: datetime, at: datetime) -> TimezoneStandard | TimezoneDaylight:
    """What the clocks show from ``at`` on; its onset is told by the clock of just before."""
    then, now = before.astimezone(tz), at.astimezone(tz)
    offset = then.utcoffset() or timedelta()
    part = TimezoneDaylight() if now.dst() else TimezoneStandard()
    part.add("DTSTART", (at + offset).replace(tzinfo=None))
    part.add("TZOFFSETFROM", offset)
    part.add("TZOFFSETTO", now.utcoffset() or timedelta())
    part.add("TZNAME", now.tzname() or tz.key)
    return part


def _changes(tz: ZoneInfo, begins: datetime, ends: datetime) -> list[datetime]:
    """The first second of each new offset between two times."""
    found, at = [], begins
    while at < ends:
        if _shown(tz, at) != _shown(tz, at + DAY):
            found.append(_first_second(tz, at, at + DAY))
        at += DAY
    return found


def _first_second(tz: ZoneInfo, early: datetime, late: datetime) -> datetime:
    old = _shown(tz, early)
    while late - early > SECOND:
        middle = early + (late - early) // 2 // SECOND * SECOND
        early, late = (middle, late) if _shown(tz, middle) == old else (early, middle)
    return late


def _shown(tz: ZoneInfo, at: datetime) -> tuple[timedelta | None, str | None]:
    local = at.astimezone(tz)
    return local.utcoffset(), local.tzname()
