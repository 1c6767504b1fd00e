"""Entries to try calendars with."""

from __future__ import annotations

from datetime import UTC, date, datetime

from scheduler.feeds.entry import Entry, of_person

MONDAY = date(2026, 7, 6)
NOW = datetime(2026, 7, 5, 18, 0, tzinfo=UTC)
LATER = datetime(2026, 7, 7, 6, 30, tzinfo=UTC)
AOIFE = of_person("Aoife")


def entry(**changes: object) -> Entry:
    """Aoife cooks on Monday from 09:00 to 10:00, but for ``changes``."""
    usual: dict[str, object] = {
        "feed": AOIFE,
        "day": MONDAY,
        "work": "cook / strawberry jam",
        "place": "big copper",
        "start": 540,
        "end": 600,
        "summary": "Cook: S strawberry jam",
        "location": "big copper, front left",
        "category": "cook",
        "description": "Boil.",
        "alarm": 10,
    }
    return Entry(**usual | changes)  # type: ignore[arg-type]
