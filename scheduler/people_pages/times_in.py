"""Reads a calendar file on standard input and prints only when somebody is busy or free: run by itself.

    python -P times_in.py ZONE FIRST LAST < FILE

A process of its own, since a file of a few lines may repeat for ever: whoever starts it can end it. Nothing
of ours is imported. It prints JSON, {"busy": [[DAY, START, END], …], "free": …} with times in minutes of a
day of ZONE, or {"refused": WHY}; for what is no calendar file it ends with a code other than 0.

Busy are events (RFC 5545, 3.6.1) unless they are cancelled or transparent, and periods of VFREEBUSY but those
of type FREE; free are those and AVAILABLE times (RFC 7953), where nothing is busy.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date, datetime, time, timedelta
from math import ceil, floor
from typing import Any
from zoneinfo import ZoneInfo

import recurring_ical_events
from icalendar import Calendar, Event

STEP = 5
"""Minutes: what is busy is widened to them, what is free narrowed."""
MOST_BYTES_OF_MEMORY = 2**30
DAY = timedelta(days=1)
DAY_MINUTES = 24 * 60
_TOO_OFTEN = {"SECONDLY", "MINUTELY", "HOURLY"}
_TIMES = {"DTSTART", "DTEND", "DURATION", "RRULE", "RDATE", "EXDATE", "RECURRENCE-ID", "FREEBUSY"}

Span = tuple[datetime, datetime]
"""Two times by the farm's clock, without their zone."""


class Refused(Exception):
    """Why a calendar file is not taken."""


class Reader:
    """Spans of calendar files on the days ``first`` to ``last`` of a zone."""

    def __init__(self, zone: ZoneInfo, first: date, last: date) -> None:
        self.zone, self.first, self.last = zone, first, last

    def read(self, text: bytes) -> dict[str, list[tuple[str, int, int]]]:
        """Busy and free times by day. Raises Refused, or whatever the libraries raise at what is none."""
        calendars: list[Any] = list(Calendar.from_ical(text, multiple=True))
        if not calendars or any(each.name != "VCALENDAR" for each in calendars):
            raise ValueError("no calendar")
        busy: list[Span] = []
        free: list[Span] = []
        for calendar in calendars:
            for component in calendar.walk():
                _check(component)
            busy += self._events(calendar)
            for period, is_free in _periods(calendar):
                (free if is_free else busy).append(self._span(*period))
            for availability in calendar.walk("VAVAILABILITY"):
                free += self._available(availability)
        taken = self._by_day(busy, widened=True)
        left = self._by_day(free, widened=False)
        free_left = {day: _without(spans, taken.get(day, [])) for day, spans in left.items()}
        return {"busy": _listed(taken), "free": _listed(free_left)}

    def _events(self, calendar: Any) -> Iterator[Span]:
        for event in self._each(calendar):
            if event.get("STATUS", "") != "CANCELLED" and event.get("TRANSP", "") != "TRANSPARENT":
                yield self._span(event.start, event.end)

    def _available(self, availability: Any) -> Iterator[Span]:
        """Its AVAILABLE times, which repeat as events do, as far as it itself goes."""
        times = Calendar()
        for available in availability.walk("AVAILABLE"):
            event = Event()
            event.update(available)
            times.add_component(event)
        begins = self._local(availability["DTSTART"].dt) if "DTSTART" in availability else datetime.min
        ends = datetime.max
        if "DTEND" in availability:
            ends = self._local(availability["DTEND"].dt)
        elif "DURATION" in availability:
            ends = begins + availability["DURATION"].dt
        for each in self._each(times):
            start, end = self._span(each.start, each.end)
            yield max(start, begins), min(end, ends)

    def _each(self, calendar: Any) -> list[Any]:
        """Events, repeated ones each by itself; days to spare, as other zones have other days."""
        return list(recurring_ical_events.of(calendar).between(self.first - 2 * DAY, self.last + 3 * DAY))

    def _span(self, start: date, end: date) -> Span:
        return self._local(start), self._local(end)

    def _local(self, at: date) -> datetime:
        """By the farm's clock; times of no zone are meant by it, and days begin at its midnight."""
        if not isinstance(at, datetime):
            return datetime.combine(at, time())
        return (at if at.tzinfo is None else at.astimezone(self.zone)).replace(tzinfo=None)

    def _by_day(self, spans: Iterable[Span], widened: bool) -> dict[date, list[tuple[int, int]]]:
        """Minutes of each day, in whole steps, what touches put together."""
        early, late = (floor, ceil) if widened else (ceil, floor)
        days: dict[date, list[tuple[int, int]]] = {}
        for start, end in spans:
            day = max(start.date(), self.first)
            while start < end and day <= min(end.date(), self.last):
                begins = STEP * early(_minutes(start, day) / STEP)
                stops = STEP * late(_minutes(end, day) / STEP)
                if begins < stops:
                    days.setdefault(day, []).append((begins, stops))
                day += DAY
        return {day: _joined(found) for day, found in days.items()}


def _check(component: Any) -> None:
    """Raises Refused for times that cannot be relied on."""
    if any(name in _TIMES for name, _ in component.errors):
        raise Refused("A time in it cannot be read.")
    rules = component.get("RRULE", [])
    for rule in rules if isinstance(rules, list) else [rules]:
        if set(rule.get("FREQ", [])) & _TOO_OFTEN:
            raise Refused("Something in it repeats more often than daily.")
    for name in ("DTSTART", "DTEND"):
        value = component.get(name)
        zone = value.params.get("TZID") if value is not None else None
        if zone and isinstance(value.dt, datetime) and value.dt.tzinfo is None:
            raise Refused(f"It names a time zone that is not known: {str(zone)[:60]}.")


def _periods(calendar: Any) -> Iterator[tuple[Span, bool]]:
    """Start and end of each period of VFREEBUSY, with whether it is free."""
    for block in calendar.walk("VFREEBUSY"):
        found = block.get("FREEBUSY", [])
        for period in found if isinstance(found, list) else [found]:
            start, end = period.dt
            stops = start + end if isinstance(end, timedelta) else end
            yield (start, stops), period.params.get("FBTYPE", "BUSY").upper() == "FREE"


def _minutes(at: datetime, day: date) -> float:
    """How far into a day a time is: 0 if it was before, 1440 if it is after."""
    past = at - datetime.combine(day, time())
    return min(max(past / timedelta(minutes=1), 0), DAY_MINUTES)


def _joined(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = found[-1][0], max(found[-1][1], end)
        else:
            found.append((start, end))
    return found


def _without(spans: Iterable[tuple[int, int]], taken: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    left = list(spans)
    for start, end in taken:
        left = [
            part
            for begins, stops in left
            for part in ((begins, min(stops, start)), (max(begins, end), stops))
            if part[0] < part[1]
        ]
    return left


def _listed(days: dict[date, list[tuple[int, int]]]) -> list[tuple[str, int, int]]:
    return [(day.isoformat(), *span) for day in sorted(days) for span in days[day]]


def main() -> None:
    """Read, and print what was found."""
    with suppress(ImportError, OSError, ValueError):  # no such limit on every system
        import resource  # noqa: PLC0415

        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES_OF_MEMORY, MOST_BYTES_OF_MEMORY))
    zone, first, last = sys.argv[1:]
    reader = Reader(ZoneInfo(zone), date.fromisoformat(first), date.fromisoformat(last))
    try:
        found: object = reader.read(sys.stdin.buffer.read())
    except Refused as refused:
        found = {"refused": str(refused)}
    except MemoryError:
        found = {"refused": "It repeats too much to be read."}
    json.dump(found, sys.stdout)


if __name__ == "__main__":
    main()
