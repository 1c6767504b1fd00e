"""What people answer: that they know the plan, when they can and cannot come, and what became of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path

from sqlalchemy import Connection, func, select, update
from sqlalchemy.dialects.sqlite import insert

from scheduler.people_pages.tables import OPEN, PATIENCE_S, Book, asked, seen
from scheduler.views import words

DAY_MINUTES = 24 * 60
MOST_OPEN = 60
"""Wishes of one person that wait for an answer at a time."""


class Kind(StrEnum):
    """What a wish says."""

    CAN = "can"
    CANNOT = "cannot"


class State(StrEnum):
    """What became of a wish."""

    OPEN = OPEN
    ACCEPTED = "accepted"
    DECLINED = "declined"


@dataclass(frozen=True, slots=True)
class Wish:
    """When a person can or cannot come, in minutes from midnight; a whole day is 0 to 1440."""

    kind: Kind
    day: date
    start: int = 0
    end: int = DAY_MINUTES
    note: str = ""

    @property
    def whole_day(self) -> bool:
        return (self.start, self.end) == (0, DAY_MINUTES)

    def __str__(self) -> str:
        """``cannot come on Wed 8 Jul``, ``can come on Wed 8 Jul, 08:00 to 12:30``."""
        span = "" if self.whole_day else f", {words.clock(self.start)} to {words.clock(self.end)}"
        return f"{self.kind} come on {words.day_name(self.day)}{span}"


@dataclass(frozen=True, slots=True)
class Asked:
    """A wish of ``feed`` as it is kept; ``settled`` is when it was accepted or declined."""

    id: int
    feed: str
    wish: Wish
    at: datetime
    state: State
    settled: datetime | None


class TooMany(Exception):
    """So many wishes of a person wait already that no more are taken."""


class Answers:
    """The answers of one kitchen, in ``folder``. Each method raises CannotKeep if the file cannot be used."""

    def __init__(self, folder: Path, patience_s: float = PATIENCE_S) -> None:
        self._book = Book(folder, patience_s)

    def know(self, feed: str, plan: datetime, at: datetime) -> None:
        """Note that a person knows all that changed for them up to ``plan``; never less than before."""
        row = insert(seen).values(feed=feed, plan=plan, at=at)
        newer = row.on_conflict_do_update(
            index_elements=[seen.c.feed],
            set_={"plan": row.excluded.plan, "at": row.excluded.at},
            where=row.excluded.plan > seen.c.plan,
        )
        with self._book.writing() as book:
            book.execute(newer)

    def seen(self) -> Mapping[str, datetime]:
        """Feed → up to which change the person knows the plan."""
        with self._book.reading() as book:
            return {} if book is None else {row.feed: row.plan for row in book.execute(select(seen))}

    def ask(self, slip: str, feed: str, wish: Wish, at: datetime) -> None:
        """Keep a wish; the same form sent again, or the same wish while it is open, changes nothing.

        Raises TooMany if ``MOST_OPEN`` wishes of this person are open.
        """
        with self._book.writing() as book:
            _ask(book, slip, feed, wish, at)

    def ask_all(self, slip: str, feed: str, wishes: Sequence[Wish], at: datetime) -> None:
        """Keep the wishes of one form, all or none; those that were asked before, whatever became of them,
        are not asked again. Raises TooMany as ``ask`` does."""
        before = select(asked.c.kind, asked.c.day, asked.c.start, asked.c.end).where(asked.c.feed == feed)
        with self._book.writing() as book:
            known = {tuple(row) for row in book.execute(before)}
            for number, wish in enumerate(wishes):
                if (wish.kind.value, wish.day, wish.start, wish.end) not in known:
                    _ask(book, f"{slip} {number}", feed, wish, at)

    def asked(self, feed: str | None = None) -> Sequence[Asked]:
        """Wishes by day, of one person or of all."""
        rows = select(asked).order_by(asked.c.day, asked.c.start, asked.c.id)
        with self._book.reading() as book:
            if book is None:
                return ()
            chosen = rows if feed is None else rows.where(asked.c.feed == feed)
            return tuple(
                Asked(
                    row.id, row.feed, Wish(Kind(row.kind), row.day, row.start, row.end, row.note), row.at,
                    State(row.state), row.settled,
                )
                for row in book.execute(chosen)
            )  # fmt: skip

    def settle(self, id_: int, state: State, at: datetime) -> bool:
        """Accept or decline an open wish; whether it still was open."""
        change = update(asked).where(asked.c.id == id_, asked.c.state == OPEN)
        with self._book.writing() as book:
            return book.execute(change.values(state=state.value, settled=at)).rowcount == 1


def _ask(book: Connection, slip: str, feed: str, wish: Wish, at: datetime) -> None:
    open_ = select(func.count()).where(asked.c.feed == feed, asked.c.state == OPEN)
    row = insert(asked).values(
        slip=slip, feed=feed, kind=wish.kind.value, day=wish.day, start=wish.start, end=wish.end,
        note=wish.note, at=at, state=OPEN,
    )  # fmt: skip
    book.execute(row.on_conflict_do_nothing())
    if book.execute(open_).scalar_one() > MOST_OPEN:
        raise TooMany
