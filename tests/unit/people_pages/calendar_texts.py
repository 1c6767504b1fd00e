"""Calendar files as somebody's phone would write them."""

from __future__ import annotations

from itertools import count

NUMBERS = count()


def event(*lines: str, uid: str = "") -> str:
    named = uid or f"event-{next(NUMBERS)}"
    return "\r\n".join(["BEGIN:VEVENT", f"UID:{named}", "DTSTAMP:20260101T000000Z", *lines, "END:VEVENT"])


def calendar(*parts: str) -> bytes:
    return "\r\n".join(
        ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Kilbrack//EN", *parts, "END:VCALENDAR", ""]
    ).encode()
