"""What to tell each person of a plan that was published anew: what changed for them, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from scheduler.feeds.entry import Entry, is_person, title
from scheduler.feeds.revising import Revision
from scheduler.views import words

SHIFT = "shift"
"""The ``work`` of an entry that says when a person is in."""
_LAST = "What is not named stays as it was. What is said in the kitchen counts."


@dataclass(frozen=True, slots=True)
class Message:
    """What a person is told of the publishing at ``changed`` (UTC)."""

    changed: datetime
    text: str


@dataclass(frozen=True, slots=True)
class _Change:
    """An entry before and after, None where it was not or is no more."""

    before: Entry | None
    after: Entry | None

    @property
    def entry(self) -> Entry:
        entry = self.after or self.before
        assert entry is not None
        return entry


def messages_of_change(
    before: Iterable[Revision], after: Iterable[Revision], farm: str
) -> dict[str, Message]:
    """Feed → message, for each person for whom something is new, moved, changed or off."""
    old = {each.uid: each for each in before}
    known = {each.entry.feed for each in old.values()}
    changes: dict[str, list[_Change]] = {}
    at: dict[str, datetime] = {}
    for revision in after:
        feed, was = revision.entry.feed, old.get(revision.uid)
        if was == revision or not is_person(feed):
            continue
        change = _Change(
            None if was is None or was.cancelled else was.entry,
            None if revision.cancelled else revision.entry,
        )
        changes.setdefault(feed, []).append(change)
        at[feed] = revision.changed
    return {
        feed: Message(at[feed], _text(feed, found, farm, first=feed not in known))
        for feed, found in changes.items()
    }


def _text(feed: str, changes: list[_Change], farm: str, first: bool) -> str:
    days: dict[date, list[_Change]] = {}
    for change in sorted(changes, key=lambda each: (each.entry.day, each.entry.start or 0)):
        days.setdefault(change.entry.day, []).append(change)
    began = "the plan is made. You are in:" if first else "the plan has changed for you:"
    told = [f"{title(feed)}, {farm}: {began}"]
    for day, found in days.items():
        told += ["", words.day_name(day), *_of_day(found, first)]
    return "\n".join([*told, "", "What is said in the kitchen counts." if first else _LAST]) + "\n"


def _of_day(changes: list[_Change], first: bool) -> Iterator[str]:
    """A day that comes or goes is told by its shift alone; of any other each change."""
    shifts = [each for each in changes if each.entry.work == SHIFT]
    whole = [each for each in shifts if each.before is None or each.after is None]
    for change in whole or changes:
        yield f"- {_span(change.entry) if first else _line(change)}"


def _line(change: _Change) -> str:
    before, after = change.before, change.after
    named = change.entry.summary + (f" ({change.entry.location})" if _is_work(change.entry) else "")
    if before is None:
        return f"New: {_span(change.entry)}, {named}"
    if after is None:
        return f"Off: {_span(before)}, {named}"
    if _span(before) != _span(after):
        return f"Moved: {_span(after)} (before: {_span(before)}), {named}"
    if before.location != after.location:
        return f"Moved: {_span(after)}, {named} (before: {before.location})"
    return f"Changed: {_span(after)}, {named}: how it is done, or with whom"


def _is_work(entry: Entry) -> bool:
    """Whether a place says more than the summary does."""
    return bool(entry.location) and entry.location not in entry.summary


def _span(entry: Entry) -> str:
    if entry.start is None or entry.end is None:
        return "all day"
    return f"{words.clock(entry.start)} to {words.clock(entry.end)}"
