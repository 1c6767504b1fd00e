"""What one line of a calendar says, before it has a history."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

KITCHEN = "the kitchen"
ORDERS = "orders and deliveries"
_PERSON = "person "
"""No person's feed is mistaken for one of the two above, whatever the person is called."""

QUARTER = 15
"""Minutes: what hands are told of the clock. A pan keeps no time to five minutes."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One event of the calendar ``feed``; ``start`` and ``end`` are minutes from midnight, None of a whole
    day.

    ``work`` says, with feed and day, what is the same work when it is planned again; ``place`` (a pan) tells
    apart several of it. ``alarm`` is in minutes before the start, of a whole day after midnight (None: none).
    """

    feed: str
    day: date
    work: str
    place: str
    start: int | None
    end: int | None
    summary: str
    location: str
    category: str
    description: str
    alarm: int | None = None


def of_person(name: str) -> str:
    """The feed of a person."""
    return _PERSON + name


def is_person(feed: str) -> bool:
    """Whether a feed is a person's own."""
    return feed.startswith(_PERSON)


def title(feed: str) -> str:
    """A feed's name as it is shown: the person's, or what it is about."""
    return feed.removeprefix(_PERSON)


def quarters(start: int, end: int) -> tuple[int, int]:
    """Both brought back to the quarter of an hour, at least one long: what follows on still does."""
    early = start - start % QUARTER
    return early, max(end - end % QUARTER, early + QUARTER)
