"""The history of entries: which of a new plan are those of the last, which changed, which are off.

A phone tells an event by its UID and a change by SEQUENCE and LAST-MODIFIED (RFC 5545, 3.8.4.7, 3.8.7.3,
3.8.7.4). Work keeps its UID when it moves, changes pan or hands over nothing but its minutes; what is planned
no more stays, cancelled, so that the phone learns of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from uuid import UUID, uuid5

from scheduler.feeds.entry import Entry

HISTORY = timedelta(days=28)
"""How long before a plan's first day entries are still shown."""
_OURS = UUID("18e8a3f5-2b92-4f5f-8f1b-6e598b6ee65a")
"""Drawn at random once; UIDs are made of names in it (RFC 9562, 5.5): a lost history finds them again."""


@dataclass(frozen=True, slots=True)
class Revision:
    """An entry as it was last published; times are UTC to the second."""

    entry: Entry
    uid: str
    sequence: int
    created: datetime
    changed: datetime
    cancelled: bool = False


def revise(
    before: Iterable[Revision], entries: Iterable[Entry], first: date, last: date, now: datetime, kitchen: str
) -> tuple[Revision, ...]:
    """What is published once ``entries`` of a plan of the days ``first`` to ``last`` are.

    The plan speaks for its own days: other days stay as they were. Entries as they were keep their revision;
    those that changed, are off, or are back have ``sequence`` raised by one and are ``changed`` at ``now``.
    """
    old: dict[tuple[str, date, str], list[Revision]] = {}
    for revision in before:
        if revision.entry.day >= first - HISTORY:
            old.setdefault(_same(revision.entry), []).append(revision)
    new: dict[tuple[str, date, str], list[Entry]] = {}
    for entry in entries:
        new.setdefault(_same(entry), []).append(entry)
    found: list[Revision] = []
    for same in {**old, **new}:
        spoken_for = same in new or first <= same[1] <= last
        known = old.get(same, [])
        found += _matched(known, new.get(same, []), now, kitchen) if spoken_for else known
    return tuple(sorted(found, key=_order))


def _matched(
    known: Sequence[Revision], wanted: Sequence[Entry], now: datetime, kitchen: str
) -> list[Revision]:
    """Entries of the same work: first those just as they were, then in the same pan, then in their order;
    then those that were cancelled and are back; the rest is new."""
    left, open_ = sorted(known, key=_order), sorted(wanted, key=lambda entry: (entry.start or 0, entry.place))
    found: list[Revision] = []

    def pair(alike: Callable[[Revision, Entry], bool]) -> None:
        for entry in tuple(open_):
            revision = next((each for each in left if alike(each, entry)), None)
            if revision is not None:
                left.remove(revision)
                open_.remove(entry)
                found.append(_next(revision, entry, now))

    pair(lambda old, new: not old.cancelled and old.entry == new)
    pair(lambda old, new: not old.cancelled and old.entry.place == new.place)
    pair(lambda old, new: not old.cancelled)
    pair(lambda old, new: True)
    off = [each if each.cancelled else _moved_on(each, now, cancelled=True) for each in left]
    fresh = [
        Revision(entry, _uid(kitchen, entry, len(known) + n), 0, now, now) for n, entry in enumerate(open_, 1)
    ]
    return [*found, *off, *fresh]


def _next(old: Revision, entry: Entry, now: datetime) -> Revision:
    if old.entry == entry and not old.cancelled:
        return old
    return replace(_moved_on(old, now), entry=entry)


def _moved_on(old: Revision, now: datetime, cancelled: bool = False) -> Revision:
    return replace(old, sequence=old.sequence + 1, changed=now, cancelled=cancelled)


def _uid(kitchen: str, entry: Entry, number: int) -> str:
    """The same for the same work, and telling nothing of it (RFC 7986, 5.3)."""
    named = (kitchen, entry.feed, entry.day.isoformat(), entry.work, str(number))
    return str(uuid5(_OURS, "\n".join(named)))


def _same(entry: Entry) -> tuple[str, date, str]:
    return entry.feed, entry.day, entry.work


def _order(revision: Revision) -> tuple[str, date, int, str]:
    entry = revision.entry
    return entry.feed, entry.day, -1 if entry.start is None else entry.start, revision.uid
