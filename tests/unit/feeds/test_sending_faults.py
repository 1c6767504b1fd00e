"""Calendars to a real server (Radicale): what goes wrong is told, and nothing is sent twice."""

from __future__ import annotations

import logging
import ssl
from pathlib import Path

import pytest
import trustme

from scheduler.errors import InputFaults
from scheduler.feeds.dav import TRIES, Server
from scheduler.feeds.dav_settings import DavServer
from scheduler.feeds.entry import KITCHEN
from scheduler.feeds.sending import send
from scheduler.feeds.store import Published, Store
from tests.calendar_server import PASSWORD, USER, Radicale, nothing_for, radicale
from tests.unit.feeds.entries import AOIFE, entry
from tests.unit.feeds.sent_week import WEEK, ZONE, counts, go, plan


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
