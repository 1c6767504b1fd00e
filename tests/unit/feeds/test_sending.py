"""Calendars to a real server (Radicale): only differences, nothing of others, and what goes wrong is told.

A little over 400 lines: all of it needs the same server, week and way of sending.
"""

from __future__ import annotations

import logging
import ssl
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
import trustme

from scheduler.errors import InputFaults
from scheduler.feeds.dav import TRIES, Server
from scheduler.feeds.dav_settings import DavServer
from scheduler.feeds.entry import KITCHEN, ORDERS, Entry
from scheduler.feeds.ics import calendar_text
from scheduler.feeds.publishing import publish
from scheduler.feeds.revising import HISTORY, revise
from scheduler.feeds.sending import NAMED_AT_MOST, Outcome, send
from scheduler.feeds.store import Published, Store
from tests.calendar_server import PASSWORD, USER, Radicale, nothing_for, radicale
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW, entry
from tests.unit.feeds.reading import by_icalendar, by_vobject
from tests.unit.views import kilbrack_sample as sample

ZONE = "Europe/Dublin"
FOREIGN = (
    "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Other//EN\r\nBEGIN:VEVENT\r\nUID:dentist\r\n"
    "DTSTAMP:20260701T000000Z\r\nDTSTART:20260706T080000Z\r\nSUMMARY:Dentist\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)


@pytest.fixture
def radicale_(tmp_path: Path) -> Iterator[Radicale]:
    with radicale(tmp_path / "server") as server:
        yield server


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "plans", "kilbrack")


WEEK = tuple(
    entry(day=MONDAY + timedelta(days=n), work=work, start=start, end=start + 60, summary=f"{work} {n}")
    for n in range(4)
    for work, start in (("shift", 480), ("cook", 540), ("pot up", 660))
)


def plan(*entries: Entry, before: Published | None = None) -> Published:
    """What is published once a plan of a week has ``entries``."""
    earlier = before.revisions if before else ()
    now = LATER if before else NOW
    revisions = revise(earlier, entries, MONDAY, MONDAY + timedelta(days=6), now, "kilbrack")
    own = [each for each in revisions if each.entry.feed == AOIFE]
    return Published(
        revisions, {AOIFE: calendar_text(AOIFE, own, "Kilbrack", ZONE).decode()}, "Kilbrack", ZONE
    )


def go(
    server: Radicale,
    published: Published,
    store: Store,
    password: str = PASSWORD,
    waits: list[float] | None = None,
    answer_s: float = 20,
) -> Outcome:
    """Send Aoife's calendar; what became of it."""
    to = DavServer(server.url, {"Aoife": "aoife"}, USER, password)
    waited = [] if waits is None else waits
    (outcome,) = send({AOIFE: "aoife"}, published, store, Server(to, waited.append, answer_s))
    return outcome


def counts(outcome: Outcome) -> tuple[int, int, int]:
    return outcome.new, outcome.changed, outcome.removed


# What is sent


def test_what_is_read_back_is_the_feed_by_two_parsers(radicale_: Radicale, store: Store) -> None:
    publish(sample.plan(), sample.situation(), store, NOW)
    published = store.published()
    chosen = {AOIFE: "aoife", KITCHEN: "kitchen", ORDERS: "orders"}
    to = DavServer(radicale_.url, {}, USER, PASSWORD)
    outcomes = send(chosen, published, store, Server(to))
    assert [each.well for each in outcomes] == [True] * 3
    for feed, name in chosen.items():
        texts = radicale_.events(name).values()
        for parse in (by_icalendar, by_vobject):
            assert sorted(event for text in texts for event in parse(text)) == parse(
                published.calendars[feed]
            )


def test_the_same_again_sends_nothing(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    assert counts(go(radicale_, published, store)) == (12, 0, 0)
    written = radicale_.written()
    again = go(radicale_, published, store)
    assert counts(again) == (0, 0, 0)
    assert radicale_.written() == written
    assert radicale_.asked["GET"] == 0
    assert again.lines() == ["Aoife: the server has it all"]


def test_a_new_plan_that_moves_three_writes_those_three(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    before, puts = radicale_.events("aoife"), radicale_.asked["PUT"]
    moved = [
        replace(each, start=each.start + 15) if each.work == "cook" else each for each in WEEK if each.start
    ]
    moved[-2] = WEEK[-2]
    second = plan(*moved, before=first)
    outcome = go(radicale_, second, store)
    assert counts(outcome) == (0, 3, 0)
    assert radicale_.asked["PUT"] - puts == 3
    after = radicale_.events("aoife")
    assert len([name for name in before if before[name] != after[name]]) == 3
    assert outcome.lines() == ["Aoife: 0 events new, 3 changed, 0 removed"]


def test_what_is_off_says_cancelled_and_what_is_long_gone_is_removed(
    radicale_: Radicale, store: Store
) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    second = plan(*WEEK[1:], before=first)
    assert counts(go(radicale_, second, store)) == (0, 1, 0)
    assert sum("STATUS:CANCELLED" in text for text in radicale_.events("aoife").values()) == 1
    later = MONDAY + HISTORY + timedelta(days=1)
    third = replace(second, revisions=revise(second.revisions, (), later, later, LATER, "kilbrack"))
    assert counts(go(radicale_, third, store)) == (0, 0, 3)
    assert len(radicale_.events("aoife")) == 9


def test_each_calendar_has_a_collection_of_its_own(radicale_: Radicale, store: Store) -> None:
    revisions = plan(*WEEK, entry(feed=KITCHEN)).revisions
    to = Server(DavServer(radicale_.url, {}, USER, PASSWORD))
    send({AOIFE: "aoife", KITCHEN: "kitchen"}, Published(revisions, {}, "Kilbrack", ZONE), store, to)
    assert (len(radicale_.events("aoife")), len(radicale_.events("kitchen"))) == (12, 1)
    shown = b"<propfind xmlns='DAV:'><prop><displayname/></prop></propfind>"
    assert b"The kitchen" not in (said := radicale_.ask("PROPFIND", "kitchen/", shown, Depth="0"))
    assert b"the kitchen, Kilbrack" in said


def test_names_of_any_kind_come_back_as_they_are(radicale_: Radicale, store: Store) -> None:
    odd = entry(
        summary='<b>Jam</b> & "more", crème; 🍓\\n',
        description="a, b; c\n\n🫙 \\ <script>",
        location="ring 1, left; 🔥",
    )
    published = plan(odd)
    assert go(radicale_, published, store).well
    (text,) = radicale_.events("aoife").values()
    for parse in (by_icalendar, by_vobject):
        (seen,) = parse(text)
        assert (seen.summary, seen.description, seen.location) == (odd.summary, odd.description, odd.location)
    written = radicale_.written()
    go(radicale_, published, store)
    assert radicale_.written() == written


# What others wrote


def test_an_event_of_somebody_else_stays(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    radicale_.ask("PUT", "aoife/dentist.ics", FOREIGN.encode(), Content_Type="text/calendar")
    kept = radicale_.events("aoife")["dentist.ics"]
    outcome = go(radicale_, plan(before=first), store)
    assert counts(outcome) == (0, 12, 0)
    assert outcome.theirs == []
    assert radicale_.events("aoife")["dentist.ics"] == kept


def theirs(server: Radicale, published: Published, said: str) -> str:
    """Somebody else writes other words into the first event; its name there."""
    name = f"{published.revisions[0].uid}.ics"
    server.ask(
        "PUT", f"aoife/{name}", server.events("aoife")[name].replace("SUMMARY:", f"SUMMARY:{said} ").encode()
    )
    return name


def test_what_somebody_changed_is_told_and_stays_until_ours_changes(
    radicale_: Radicale, store: Store
) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    name = theirs(radicale_, first, "Mine:")
    written = radicale_.written()
    for _ in range(2):
        outcome = go(radicale_, first, store)
        assert outcome.well
        (told,) = outcome.theirs
        assert "Mon 6 Jul: changed there by somebody; it stays so" in told
    assert radicale_.written() == written
    assert "SUMMARY:Mine:" in radicale_.events("aoife")[name]
    was = first.revisions[0].entry
    second = plan(*(replace(each, summary="New") if each == was else each for each in WEEK), before=first)
    outcome = go(radicale_, second, store)
    assert counts(outcome) == (0, 1, 0)
    assert "stands now" in outcome.theirs[0]
    assert "SUMMARY:New" in radicale_.events("aoife")[name]
    assert go(radicale_, second, store).theirs == []


def test_an_alarm_that_somebody_put_off_is_no_change(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    go(radicale_, published, store)
    name = f"{published.revisions[0].uid}.ics"
    text = radicale_.events("aoife")[name]
    radicale_.ask("PUT", f"aoife/{name}", text.replace("END:VEVENT", "X-PUT-OFF:1\r\nEND:VEVENT").encode())
    outcome = go(radicale_, published, store)
    assert (counts(outcome), outcome.theirs) == ((0, 0, 0), [])
    reads = radicale_.asked["GET"]
    go(radicale_, published, store)
    assert radicale_.asked["GET"] == reads  # it is known by now


def test_what_somebody_removed_stays_away_until_ours_changes(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    was = first.revisions[0]
    radicale_.ask("DELETE", f"aoife/{was.uid}.ics")
    outcome = go(radicale_, first, store)
    assert counts(outcome) == (0, 0, 0)
    assert "removed there by somebody" in outcome.theirs[0]
    second = plan(
        *(replace(each, summary="New") if each == was.entry else each for each in WEEK), before=first
    )
    assert counts(go(radicale_, second, store)) == (1, 0, 0)


def test_a_collection_that_is_gone_is_made_and_filled_again(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    go(radicale_, published, store)
    radicale_.ask("DELETE", "aoife/")
    assert counts(go(radicale_, published, store)) == (12, 0, 0)
    assert len(radicale_.events("aoife")) == 12


def test_many_changes_of_others_are_counted_not_listed(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    go(radicale_, published, store)
    for each in published.revisions:
        radicale_.ask("DELETE", f"aoife/{each.uid}.ics")
    lines = go(radicale_, published, store).lines()
    assert len(lines) == 1 + NAMED_AT_MOST + 1
    assert lines[-1] == "And 7 more that somebody changed there."


def test_who_writes_at_the_same_moment_is_not_written_over(radicale_: Radicale, store: Store) -> None:
    first = plan(WEEK[0])
    go(radicale_, first, store)
    second = plan(replace(WEEK[0], summary="New"), before=first)
    radicale_.answers["PUT"] = [lambda: theirs(radicale_, first, "Mine:") and None]
    outcome = go(radicale_, second, store)
    assert counts(outcome) == (0, 0, 0)
    assert "just now; send once more" in outcome.theirs[0]
    (text,) = radicale_.events("aoife").values()
    assert "SUMMARY:Mine:" in text
    assert counts(go(radicale_, second, store)) == (0, 1, 0)


def test_a_lost_note_of_what_was_sent_sends_nothing_twice(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    (store.folder / "sent.json").unlink()
    written = radicale_.written()
    assert counts(go(radicale_, first, store)) == (0, 0, 0)
    assert radicale_.written() == written
    (store.folder / "sent.json").unlink()
    second = plan(*(replace(each, summary="New") for each in WEEK), before=first)
    assert counts(go(radicale_, second, store)) == (0, 12, 0)


# What goes wrong


def test_a_server_that_is_busy_is_asked_three_times(radicale_: Radicale, store: Store) -> None:
    published, waits = plan(*WEEK), list[float]()
    radicale_.answers["PUT"] = ["503 Busy", "429 Slow down"]
    assert counts(go(radicale_, published, store, waits=waits)) == (12, 0, 0)
    assert waits == [2, 4]
    assert radicale_.asked["PUT"] == 14


def test_what_failed_is_told_and_only_the_rest_is_sent_next(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    radicale_.answers["PUT"] = [lambda: None] * 5 + ["503 Busy"] * TRIES
    outcome = go(radicale_, published, store)
    assert not outcome.well
    assert outcome.lines() == [
        "Aoife: 5 events new, 0 changed, 0 removed; not all was sent: the server said 503, Busy"
    ]
    assert len(radicale_.events("aoife")) == 5
    assert counts(go(radicale_, published, store)) == (7, 0, 0)
    assert len(radicale_.events("aoife")) == 12


def test_a_lost_answer_is_asked_again_and_nothing_is_there_twice(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    radicale_.lose_answers = 2
    assert counts(go(radicale_, published, store)) == (12, 0, 0)
    assert len(radicale_.events("aoife")) == 12
    written = radicale_.written()
    assert counts(go(radicale_, published, store)) == (0, 0, 0)
    assert radicale_.written() == written


REFUSALS = {
    "401 Unauthorized": "the server refuses (Unauthorized): are user and password right",
    "403 Forbidden": "the server refuses (Forbidden)",
    "507 Insufficient Storage": "there is no room left on the server",
    "413 Too Large": "the server said 413",
    "301 Moved": "it has moved: give the new address",
    "302 Found": "it has moved: give the new address",  # followed, a write becomes a read that succeeds
    "200 OK": "none of a calendar server",
}


@pytest.mark.parametrize("status", REFUSALS)
def test_what_the_server_refuses_is_told_once_and_not_asked_again(
    radicale_: Radicale, store: Store, status: str
) -> None:
    published, waits = plan(*WEEK), list[float]()
    radicale_.answers["PROPFIND" if status == "200 OK" else "PUT"] = [status] * 9
    outcome = go(radicale_, published, store, waits=waits)
    assert not outcome.well
    assert REFUSALS[status] in outcome.failed
    assert waits == []
    assert radicale_.asked["PUT"] <= 1
    radicale_.answers.clear()
    assert counts(go(radicale_, published, store)) == (12, 0, 0)


def test_a_wrong_password_is_told_and_stands_in_no_message(
    radicale_: Radicale, store: Store, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    caplog.set_level(logging.DEBUG)
    outcome = go(radicale_, plan(*WEEK), store, password="guessed-wrongly")
    assert "are user and password right" in outcome.failed
    go(radicale_, plan(*WEEK), store)
    out, err = capfd.readouterr()
    notes = (store.folder / "sent.json").read_text(encoding="utf-8")
    for secret in ("guessed-wrongly", PASSWORD):
        assert secret not in "".join([*outcome.lines(), caplog.text, out, err, notes])
        assert secret not in repr(DavServer(radicale_.url, {}, USER, secret))


def test_a_server_that_is_down_is_given_up_for_all_calendars(radicale_: Radicale, store: Store) -> None:
    revisions, waits = plan(*WEEK, entry(feed=KITCHEN)).revisions, list[float]()
    nowhere = Server(DavServer("http://127.0.0.1:9/", {}, USER, PASSWORD), waits.append)
    published = Published(revisions, {}, "Kilbrack", ZONE)
    outcomes = send({AOIFE: "aoife", KITCHEN: "kitchen"}, published, store, nowhere)
    assert [each.failed for each in outcomes] == ["no connection to the server"] * 2
    assert waits == [2, 4]
    assert counts(go(radicale_, published, store)) == (12, 0, 0)


def test_a_server_that_thinks_for_too_long_is_given_up(radicale_: Radicale, store: Store) -> None:
    radicale_.answers["PROPFIND"] = [nothing_for(5)] * TRIES
    outcome = go(radicale_, plan(*WEEK), store, answer_s=0.2)
    assert outcome.failed == "the server did not answer in time"


@pytest.mark.parametrize(
    "rubbish",
    [b"", b"\xff\xfe\x00", b"<a><b>", b"<multistatus xmlns='DAV:'><response/></multistatus>", b"x" * 9],
)
def test_rubbish_in_place_of_a_list_is_told(
    radicale_: Radicale, store: Store, monkeypatch: pytest.MonkeyPatch, rubbish: bytes
) -> None:
    def babble(_self: object, method: str, *_: object, **__: object) -> object:
        import requests  # noqa: PLC0415

        got = requests.Response()
        got.status_code, got._content, got.reason = 207, rubbish, "Multi-Status"
        got.headers["Content-Type"] = "application/xml"
        return got

    monkeypatch.setattr("requests.Session.request", babble)
    outcome = go(radicale_, plan(*WEEK), store)
    assert "none of a calendar server" in outcome.failed
    monkeypatch.undo()
    assert counts(go(radicale_, plan(*WEEK), store)) == (12, 0, 0)


def test_a_file_of_notes_that_is_damaged_is_named(radicale_: Radicale, store: Store) -> None:
    store.folder.mkdir(parents=True)
    for damage in ("[]", '{"x": 1}', '{"x": {"y": 1}}', "{"):
        (store.folder / "sent.json").write_text(damage, encoding="utf-8")
        with pytest.raises(InputFaults, match=r"sent\.json"):
            go(radicale_, plan(*WEEK), store)


def test_only_a_trusted_certificate_is_spoken_to(tmp_path: Path, store: Store) -> None:
    authority = trustme.CA()
    trusted = tmp_path / "authority.pem"
    authority.cert_pem.write_to_path(str(trusted))
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    authority.issue_cert("127.0.0.1").configure_cert(context)
    with radicale(tmp_path / "server", context) as server:
        url = server.url.replace("http:", "https:")
        for ca, failed in ((None, "certificate is not trusted"), (str(trusted), "")):
            to = DavServer(url, {}, USER, PASSWORD, ca)
            (outcome,) = send({AOIFE: "aoife"}, plan(*WEEK), store, Server(to))
            assert failed in outcome.failed
            assert outcome.well is not bool(failed)


# Settings
