"""A person's part of what is published, by day: when, what, where, with whom, and what to take care of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from scheduler.feeds.entry import Entry, is_person, title
from scheduler.feeds.messages import SHIFT
from scheduler.feeds.revising import Revision
from scheduler.feeds.work import QUARTERS_SAID
from scheduler.views import words
from scheduler.views.batch_text import split_care

COOKS = "cook"
"""The category of an entry of cooking."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Work in one go, or a break; ``told`` says how."""

    span: str
    what: str
    where: str
    told: tuple[str, ...]
    is_break: bool


@dataclass(frozen=True, slots=True)
class Load:
    """The essentials of a batch that a person works on, or of several alike."""

    what: str
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class InToo:
    """Somebody else who is in."""

    name: str
    span: str
    cooks: bool


@dataclass(frozen=True, slots=True)
class Day:
    """A day of a person; ``present`` is empty where they are not in."""

    day: date
    name: str
    present: str
    pieces: tuple[Piece, ...] = ()
    loads: tuple[Load, ...] = ()
    care: tuple[str, ...] = ()
    others: tuple[InToo, ...] = ()
    cooks: bool = False
    called_off: bool = False


def days_of(feed: str, revisions: Sequence[Revision]) -> list[Day]:
    """The days of a person, in order: those on which they are in, and those that are off."""
    own: dict[date, list[Revision]] = {}
    for revision in revisions:
        if revision.entry.feed == feed:
            own.setdefault(revision.entry.day, []).append(revision)
    on_day: dict[date, list[Revision]] = {}
    for revision in revisions:
        if is_person(revision.entry.feed) and not revision.cancelled:
            on_day.setdefault(revision.entry.day, []).append(revision)
    made = (_day(feed, day, own[day], on_day.get(day, [])) for day in sorted(own))
    return [day for day in made if day.present or day.called_off]


def newest(feed: str, revisions: Iterable[Revision]) -> datetime | None:
    """When something last changed for a person (UTC); None where nothing was ever published for them."""
    return max((each.changed for each in revisions if each.entry.feed == feed), default=None)


def last_day(revisions: Iterable[Revision]) -> date | None:
    """The last day on which anybody is in; None where nobody ever is."""
    return max((each.entry.day for each in revisions if each.entry.work == SHIFT), default=None)


def nearness(day: date, today: date) -> str:
    """``Today``, ``Tomorrow`` or nothing."""
    return {today: "Today", today + timedelta(days=1): "Tomorrow"}.get(day, "")


def moment(at: datetime, zone: ZoneInfo) -> str:
    """``Sun 5 Jul, 19:00``, by the clock of a zone."""
    here = at.astimezone(zone)
    return f"{words.day_name(here.date())}, {here:%H:%M}"


def _day(feed: str, day: date, own: Sequence[Revision], present: Sequence[Revision]) -> Day:
    live = sorted((each for each in own if not each.cancelled), key=lambda each: each.entry.start or 0)
    shifts = [each for each in live if each.entry.work == SHIFT]
    if not shifts:
        off = any(each.entry.work == SHIFT for each in own)
        return Day(day, words.day_name(day), "", called_off=off)
    described = [(each, *_split(each.entry)) for each in live]
    cooks = {each.entry.feed for each in present if each.entry.category == COOKS}
    return Day(
        day,
        words.day_name(day),
        " and ".join(_span(each) for each in shifts),
        tuple(_piece(each, how) for each, how, _, _ in described if each not in shifts),
        tuple(dict.fromkeys(load for _, _, load, _ in described if load)),
        tuple(dict.fromkeys(text for _, _, _, care in described for text in care)),
        tuple(
            InToo(title(each.entry.feed), _span(each), each.entry.feed in cooks)
            for each in sorted(present, key=lambda one: (one.entry.feed not in cooks, one.entry.feed))
            if each.entry.work == SHIFT and each.entry.feed != feed
        ),
        feed in cooks,
    )


def _split(entry: Entry) -> tuple[tuple[str, ...], Load | None, list[str]]:
    """What an entry says of how its work is done, of the batch, and of what to take care of."""
    told, care = split_care(entry.description)
    # Said once for the whole page.
    how, _, batch = told.replace(QUARTERS_SAID, "").partition("\n\n")
    _, _, named = entry.summary.partition(": ")
    return _lines(how), Load(named, _lines(batch)) if batch else None, care


def _lines(text: str) -> tuple[str, ...]:
    return tuple(line for line in text.split("\n") if line.strip())


def _piece(revision: Revision, how: tuple[str, ...]) -> Piece:
    entry = revision.entry
    where = "" if entry.location in entry.summary else entry.location
    return Piece(_span(revision), entry.summary, where, how, entry.category == "break")


def _span(revision: Revision) -> str:
    entry = revision.entry
    if entry.start is None or entry.end is None:
        return "all day"
    return f"{words.clock(entry.start)} to {words.clock(entry.end)}"
