"""Answers on the disk: read back, kept once, by two programs at once, for their owner's eyes alone."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path

import pytest

from scheduler.errors import CannotKeep
from scheduler.people_pages.answers import Answers, Kind, State, Wish
from scheduler.people_pages.tables import FILE
from tests.unit.feeds.entries import AOIFE, MONDAY, NOW

WISH = Wish(Kind.CAN, MONDAY, 480, 750, "gladly")


def test_nothing_is_made_by_reading(tmp_path: Path) -> None:
    answers = Answers(tmp_path / "kilbrack")
    assert (answers.asked(), answers.seen()) == ((), {})
    assert list(tmp_path.iterdir()) == []


def test_what_was_answered_reads_back_elsewhere(tmp_path: Path) -> None:
    Answers(tmp_path).ask("one", AOIFE, WISH, NOW)
    Answers(tmp_path).know(AOIFE, NOW, NOW)
    (found,) = Answers(tmp_path).asked(AOIFE)
    assert (found.wish, found.at, found.state, found.settled) == (WISH, NOW, State.OPEN, None)
    assert Answers(tmp_path).asked("person Noel") == ()
    assert Answers(tmp_path).seen() == {AOIFE: NOW}


def test_times_are_kept_as_utc(tmp_path: Path) -> None:
    there = datetime(2026, 7, 5, 20, 0, tzinfo=timezone(timedelta(hours=2)))
    Answers(tmp_path).know(AOIFE, there, there)
    with sqlite3.connect(tmp_path / FILE) as raw:
        ((plan,),) = raw.execute("SELECT plan FROM seen").fetchall()
        assert raw.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    raw.close()
    assert plan.startswith("2026-07-05 18:00:00")
    assert Answers(tmp_path).seen() == {AOIFE: datetime(2026, 7, 5, 18, 0, tzinfo=UTC)}


def test_files_are_for_their_owner_alone(tmp_path: Path) -> None:
    folder = tmp_path / "kilbrack"
    Answers(folder).ask("one", AOIFE, WISH, NOW)
    assert {path.name: path.stat().st_mode & 0o777 for path in folder.iterdir()}[FILE] == 0o600
    assert all(path.stat().st_mode & 0o077 == 0 for path in folder.iterdir())
    assert folder.stat().st_mode & 0o777 == 0o700


def test_a_wish_is_settled_once(tmp_path: Path) -> None:
    answers = Answers(tmp_path)
    answers.ask("one", AOIFE, WISH, NOW)
    (asked,) = answers.asked()
    assert answers.settle(asked.id, State.ACCEPTED, NOW)
    assert not answers.settle(asked.id, State.DECLINED, NOW)
    assert not answers.settle(asked.id + 1, State.DECLINED, NOW)
    assert [(each.state, each.settled) for each in answers.asked()] == [(State.ACCEPTED, NOW)]


def test_many_at_once_lose_nothing_and_keep_nothing_twice(tmp_path: Path) -> None:
    def ask(n: int) -> None:
        # Each of twenty wishes four times, from programs of their own.
        wish = Wish(Kind.CANNOT, MONDAY + timedelta(days=n % 20))
        Answers(tmp_path, patience_s=60).ask(f"slip {n}", AOIFE, wish, NOW)

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(ask, range(80)))
    days = [each.wish.day for each in Answers(tmp_path).asked()]
    assert days == [MONDAY + timedelta(days=n) for n in range(20)]


def test_a_folder_that_cannot_be_written_is_named_with_a_way_out(tmp_path: Path) -> None:
    (tmp_path / FILE).mkdir()
    with pytest.raises(CannotKeep, match=FILE):
        Answers(tmp_path).ask("one", AOIFE, WISH, NOW)
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(CannotKeep):
        Answers(tmp_path / "file").ask("one", AOIFE, WISH, NOW)


def test_a_file_of_another_kind_is_named_with_a_way_out(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / FILE) as raw:
        raw.execute("CREATE TABLE asked (other TEXT)")
    raw.close()
    with pytest.raises(CannotKeep, match="move it away"):
        Answers(tmp_path).asked()


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        (Wish(Kind.CANNOT, date(2026, 7, 8)), "cannot come on Wed 8 Jul"),
        (Wish(Kind.CAN, date(2026, 7, 8), 480, 750), "can come on Wed 8 Jul, 08:00 to 12:30"),
    ],
)
def test_a_wish_is_told_in_words(wish: Wish, said: str) -> None:
    assert str(wish) == said
