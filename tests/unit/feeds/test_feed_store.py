"""Published calendars and secrets on the disk, and calendars as files."""

from __future__ import annotations

import base64
import os
from pathlib import Path

import pytest

from scheduler.errors import InputFaults
from scheduler.feeds.entry import KITCHEN, of_person
from scheduler.feeds.files import file_names, write_hosted, write_named
from scheduler.feeds.publishing import known_feeds, publish
from scheduler.feeds.routes import address
from scheduler.feeds.store import Published, Store
from tests.unit.feeds.entries import AOIFE, NOW
from tests.unit.views import kilbrack_sample as sample


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """A kitchen's calendars with the sample plan published."""
    made = Store(tmp_path / "plans", "kilbrack")
    publish(sample.plan(), sample.situation(), made, NOW)
    return made


def test_what_was_published_reads_back(store: Store) -> None:
    found = store.published()
    store.write(found)
    assert store.published() == found
    assert Store(store.folder.parents[1], "other").published() == Published()


def test_a_secret_has_128_bits_or_more_and_none_is_given_twice(store: Store) -> None:
    # 128 bits: common practice for addresses that are not to be guessed.
    drawn = {store.renew(AOIFE) for _ in range(200)}
    assert len(drawn) == 200
    assert all(8 * len(base64.urlsafe_b64decode(each + "=")) >= 128 for each in drawn)


def test_an_address_is_made_shown_renewed_and_withdrawn(store: Store) -> None:
    assert store.link(AOIFE) is None
    first = store.renew(AOIFE)
    store.renew(KITCHEN)
    assert store.link(AOIFE) == first
    second = store.renew(AOIFE)
    assert store.link(AOIFE) == second != first
    store.withdraw(AOIFE)
    store.withdraw(AOIFE)
    assert store.link(AOIFE) is None
    assert store.linked() == (KITCHEN,)
    assert first not in (store.folder / "links.json").read_text(encoding="utf-8")


def test_files_are_for_their_owner_alone(store: Store) -> None:
    store.renew(AOIFE)
    for file in store.folder.iterdir():
        assert file.stat().st_mode & 0o777 == 0o600, file.name
    assert store.folder.stat().st_mode & 0o777 == 0o700


def test_a_disk_that_refuses_leaves_the_old_whole(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    old = store.renew(AOIFE)
    before = sorted(path.name for path in store.folder.iterdir())

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(OSError, match="No space"):
        store.renew(AOIFE)
    assert store.link(AOIFE) == old
    assert sorted(path.name for path in store.folder.iterdir()) == before


@pytest.mark.parametrize("name", ["published.json", "links.json"])
@pytest.mark.parametrize("text", ["", "{", "[]", '{"schema": 99}', '{"person Aoife": "short"}', "\x00\x01"])
def test_a_damaged_file_is_named_with_a_way_out(store: Store, name: str, text: str) -> None:
    (store.folder / name).write_text(text, encoding="utf-8")
    with pytest.raises(InputFaults) as caught:
        store.published() if name == "published.json" else store.linked()
    (fault,) = caught.value.faults
    assert name in fault.file
    assert "Move it away" in fault.remedy


def test_people_who_left_can_still_be_withdrawn(store: Store) -> None:
    store.renew(of_person("Fintan"))
    known = known_feeds(sample.situation().scenario, store.published(), store.linked())
    assert known[:4] == tuple(of_person(name) for name in ("Aoife", "Declan", "Maeve", "Noel"))
    assert known[-1] == of_person("Fintan")


@pytest.mark.parametrize(
    ("names", "files"),
    [
        (["Aoife"], ["Aoife.ics"]),
        (["Síle Ní Bhriain"], ["Síle-Ní-Bhriain.ics"]),
        (["../../etc/passwd"], ["etc-passwd.ics"]),
        (["a/b", "a\\b", "A?B"], ["a-b.ics", "a-b-2.ics", "A-B-3.ics"]),
        (["...", "<>"], ["calendar.ics", "calendar-2.ics"]),
        (["x\x00y"], ["x-y.ics"]),
    ],
)
def test_file_names_suit_any_disk_and_stay_in_their_folder(names: list[str], files: list[str]) -> None:
    assert file_names(map(of_person, names)) == files


def test_named_files_hold_what_is_published(store: Store, tmp_path: Path) -> None:
    written = write_named(store, tmp_path / "out")
    assert len(written) == 6
    assert (tmp_path / "out" / "Aoife.ics").read_bytes() == store.published().calendars[AOIFE].encode()


def test_a_file_of_somebody_else_in_the_way_is_kept(store: Store, tmp_path: Path) -> None:
    write_named(store, tmp_path)
    (tmp_path / "Aoife.ics").write_text("BEGIN:VCALENDAR of my own", encoding="utf-8")
    write_named(store, tmp_path)
    assert (tmp_path / "Aoife.ics").read_bytes() == store.published().calendars[AOIFE].encode()
    (kept,) = tmp_path.glob("kept */*")
    assert kept.read_text(encoding="utf-8") == "BEGIN:VCALENDAR of my own"


def test_a_folder_for_a_web_host_follows_the_addresses(store: Store, tmp_path: Path) -> None:
    first = store.renew(AOIFE)
    (tmp_path / "feeds").mkdir()
    (tmp_path / "feeds" / "keep me.ics").write_text("mine", encoding="utf-8")
    assert write_hosted(store, tmp_path) == 1
    assert address("https://example.org", first) == f"https://example.org/feeds/{first}.ics"
    second = store.renew(AOIFE)
    store.renew(KITCHEN)
    assert write_hosted(store, tmp_path) == 2
    found = {path.name for path in (tmp_path / "feeds").iterdir()}
    assert found == {"keep me.ics", f"{second}.ics", f"{store.link(KITCHEN)}.ics"}


@pytest.mark.parametrize("base", ["https://a.example", "http://10.0.0.5:8501/", "https://a.example/farm"])
def test_an_address_starts_where_it_is_told(base: str) -> None:
    assert address(base, "s") == f"{base.rstrip('/')}/feeds/s.ics"


@pytest.mark.parametrize("base", ["", "a.example", "ftp://a.example", "https://", "https://a.example/?x=1"])
def test_what_is_no_address_is_refused(base: str) -> None:
    with pytest.raises(InputFaults, match="MASLIN_ADDRESS"):
        address(base, "s")
