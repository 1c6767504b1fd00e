"""Feeds over a real connection: only the secret opens one, news is told from none, all else is not found."""

from __future__ import annotations

import http.client
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest

from scheduler.feeds import routes
from scheduler.feeds.entry import KITCHEN
from scheduler.feeds.publishing import publish
from scheduler.feeds.store import Store
from tests.serving import served
from tests.unit.feeds.entries import AOIFE, LATER, NOW
from tests.unit.feeds.reading import by_vobject
from tests.unit.views import kilbrack_sample as sample


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("plans")


@pytest.fixture(scope="module")
def port(home: Path) -> Iterator[int]:
    """A server of the routes alone, on a free port."""
    with served(routes.routes(home)) as number:
        yield number


@pytest.fixture
def store(home: Path) -> Store:
    made = Store(home, "kilbrack")
    publish(sample.plan(), sample.situation(), made, NOW)
    return made


def ask(
    port: int, path: str, method: str = "GET", **headers: str
) -> tuple[int, bytes, http.client.HTTPMessage]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        connection.request(method, path, headers={key.replace("_", "-"): v for key, v in headers.items()})
        answer = connection.getresponse()
        return answer.status, answer.read(), answer.headers
    finally:
        connection.close()


def test_a_secret_opens_its_own_calendar(port: int, store: Store) -> None:
    for feed in (AOIFE, KITCHEN):
        status, body, headers = ask(port, f"/feeds/{store.renew(feed)}.ics")
        assert status == 200
        assert body.decode() == store.published().calendars[feed]
        assert headers["Content-Type"] == "text/calendar; charset=utf-8"
        assert headers["Cache-Control"] == "private, no-cache"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert by_vobject(body.decode())


def test_head_says_the_same_without_the_calendar(port: int, store: Store) -> None:
    path = f"/feeds/{store.renew(AOIFE)}.ics"
    status, body, headers = ask(port, path, "HEAD")
    assert (status, body) == (200, b"")
    assert headers["ETag"] == ask(port, path)[2]["ETag"]


def test_no_news_is_told_without_the_calendar_until_there_is_some(port: int, store: Store) -> None:
    path = f"/feeds/{store.renew(AOIFE)}.ics"
    tag = ask(port, path)[2]["ETag"]
    # RFC 9110, 13.1.2: a list, the weak form and * count, too.
    for asked in (tag, f"W/{tag}", f'"other", {tag}', "*"):
        status, body, headers = ask(port, path, if_none_match=asked)
        assert (status, body, headers["ETag"]) == (304, b"", tag)
    for asked in ('"other"', tag.strip('"'), ""):
        assert ask(port, path, if_none_match=asked)[0] == 200
    plan = sample.plan()
    moved = replace(plan, shifts=tuple(replace(shift, start=shift.start + 5) for shift in plan.shifts))
    publish(moved, sample.situation(), store, LATER)
    status, _, headers = ask(port, path, if_none_match=tag)
    assert status == 200
    assert headers["ETag"] != tag


def test_renewed_and_withdrawn_addresses_open_nothing(port: int, store: Store) -> None:
    first = store.renew(AOIFE)
    second = store.renew(AOIFE)
    assert ask(port, f"/feeds/{first}.ics")[0] == 404
    assert ask(port, f"/feeds/{second}.ics")[0] == 200
    store.withdraw(AOIFE)
    assert ask(port, f"/feeds/{second}.ics")[0] == 404


def test_an_address_of_what_is_not_published_opens_nothing(port: int, store: Store) -> None:
    assert ask(port, f"/feeds/{store.renew('person Nobody')}.ics")[0] == 404


def test_wrong_secrets_and_tricks_are_not_found_and_tell_nothing(port: int, store: Store) -> None:
    secret = store.renew(AOIFE)
    other = secret[:-1] + ("A" if secret[-1] != "A" else "B")
    tricks = (
        "", ".ics", "..", "%2e%2e", "..%2flinks.json", "../calendars/kilbrack/links.json", "links.json",
        "published.json", "%00", f"{secret}%00.ics", f"{secret}", f"{secret}.ICS", f"{secret}.ics/",
        f"{secret}.ics.ics", f"/{secret}.ics", f"x/../{secret}.ics", f"x/{secret}.ics", f"{other}.ics",
        f"{secret[:-1]}.ics", f"{secret}A.ics", f"%20{secret}.ics", f"{secret.swapcase()}.ics",
        "person%20Aoife.ics", "*.ics", "%ff%fe.ics", "%ed%b0%80.ics", "A" * 20_000 + ".ics", "....//....//",
    )  # fmt: skip
    answers = {(status, body) for status, body, _ in (ask(port, f"/feeds/{trick}") for trick in tricks)}
    assert answers == {(404, b"Not found\n")}
    assert ask(port, "/feeds")[0] == 404
    assert ask(port, f"/feeds/{secret}.ics?x=1")[0] == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS"])
def test_other_methods_find_nothing(port: int, store: Store, method: str) -> None:
    assert ask(port, f"/feeds/{store.renew(AOIFE)}.ics", method)[0] == 404


def test_huge_headers_are_refused_and_the_server_lives_on(port: int, store: Store) -> None:
    path = f"/feeds/{store.renew(AOIFE)}.ics"
    assert ask(port, path, if_none_match='"x",' * 4_000)[0] == 200
    with suppress(OSError):  # hung up on while it still sent
        assert ask(port, path, if_none_match="x" * 1_000_000)[0] in {400, 431}
    assert ask(port, path)[0] == 200


def test_a_secret_is_compared_with_all_of_them_wherever_it_stands(
    port: int, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    links = {feed: store.renew(feed) for feed in (AOIFE, KITCHEN, "person Noel")}
    compared: list[tuple[bytes, bytes]] = []

    def compare(one: bytes, other: bytes) -> bool:
        compared.append((one, other))
        return one == other

    monkeypatch.setattr(routes, "compare_digest", compare)
    counts = set()
    for asked in (*links.values(), "wrong", ""):
        compared.clear()
        ask(port, f"/feeds/{asked}.ics")
        counts.add(len(compared))
        assert {len(side) for pair in compared for side in pair} == {32}
    assert len(counts) == 1
    assert min(counts) >= len(links)


def test_a_damaged_file_of_secrets_opens_nothing(port: int, home: Path) -> None:
    store = Store(home, "other-kitchen")
    publish(sample.plan(), sample.situation(), store, NOW)
    secret = store.renew(AOIFE)
    assert ask(port, f"/feeds/{secret}.ics")[0] == 200
    for name in ("links.json", "published.json"):
        whole = (store.folder / name).read_bytes()
        (store.folder / name).write_bytes(whole[: len(whole) // 2])
        assert ask(port, f"/feeds/{secret}.ics")[0] == 404
        (store.folder / name).write_bytes(whole)
    assert ask(port, f"/feeds/{secret}.ics")[0] == 200
