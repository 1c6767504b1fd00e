"""Pages over a real connection: only the secret opens one, forms are kept once, bad ones are told why."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import Engine, event

from scheduler.feeds import routes as feeds
from scheduler.feeds.entry import KITCHEN, of_person
from scheduler.feeds.publishing import publish
from scheduler.feeds.store import Store
from scheduler.people_pages import Answers
from scheduler.people_pages.answers import MOST_OPEN, Kind, State, Wish
from scheduler.people_pages.routes import MOST_BYTES, page_address
from scheduler.people_pages.tables import FILE
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW
from tests.unit.people_pages.serving import MORNING, Site
from tests.unit.views import kilbrack_sample as sample

TUESDAY = MONDAY + timedelta(days=1)


@pytest.fixture
def answers(store: Store) -> Answers:
    return Answers(store.folder)


# What opens a page


def test_a_secret_opens_its_own_page_and_nobody_keeps_it(site: Site, store: Store) -> None:
    for name in ("Aoife", "Noel"):
        got = site.page(store.renew(of_person(name)))
        assert got.status == 200
        assert f"<h1>{name}</h1>" in got.text
        assert got.headers["Content-Type"] == "text/html; charset=utf-8"
        assert got.headers["Cache-Control"] == "private, no-store"
        assert got.headers["Referrer-Policy"] == "no-referrer"
        assert got.headers["X-Robots-Tag"] == "noindex"


def test_a_new_plan_changes_page_and_calendar_at_once(site: Site, store: Store, secret: str) -> None:
    assert "08:05" not in site.page(secret).text
    plan = sample.plan()
    moved = replace(plan, shifts=tuple(replace(shift, start=shift.start + 5) for shift in plan.shifts))
    publish(moved, sample.situation(), store, LATER)
    assert "08:05" in site.page(secret).text
    calendar, _ = feeds.Shelf(store.folder.parent).find(secret) or (b"", "")
    assert b"T080500" in calendar


def test_renewed_and_withdrawn_secrets_open_nothing_and_take_nothing(
    site: Site, store: Store, secret: str, answers: Answers
) -> None:
    slip = site.page(secret).value("slip")
    second = store.renew(AOIFE)
    assert site.page(secret).status == 404
    assert site.post(secret, {"slip": slip, "do": "away", "day": MONDAY.isoformat()}).status == 404
    store.withdraw(AOIFE)
    assert site.page(second).status == 404
    assert answers.asked() == ()


def test_only_people_have_pages(site: Site, store: Store) -> None:
    for feed in (KITCHEN, "orders and deliveries", "person Nobody"):
        assert site.page(store.renew(feed)).status == 404


def test_wrong_secrets_and_tricks_are_not_found_and_tell_nothing(site: Site, secret: str) -> None:
    other = secret[:-1] + ("A" if secret[-1] != "A" else "B")
    tricks = (
        "", "..", "%2e%2e", "..%2flinks.json", "../calendars/kilbrack/links.json", FILE, "%00",
        f"{secret}%00", f"{secret}/", f"{secret}.ics", f"/{secret}", f"x/../{secret}", f"x/{secret}", other,
        secret[:-1], f"{secret}A", f"%20{secret}", secret.swapcase(), "person%20Aoife", "*", "%ff%fe",
        "%ed%b0%80", "A" * 12_000, "....//....//", "{{7*7}}",
    )  # fmt: skip
    for method in ("GET", "POST"):
        found = {(got.status, got.text) for got in (site.ask(f"/mine/{trick}", method) for trick in tricks)}
        assert found == {(404, "Not found\n")}
    assert site.ask("/mine").status == 404


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "OPTIONS"])
def test_other_methods_find_nothing(site: Site, secret: str, method: str) -> None:
    assert site.ask(f"/mine/{secret}", method).status == 404


def test_head_says_the_same_without_the_page(site: Site, secret: str) -> None:
    got = site.ask(f"/mine/{secret}", "HEAD")
    assert (got.status, got.text) == (200, "")


def test_a_secret_is_compared_with_all_of_them_wherever_it_stands(
    site: Site, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    secrets = [store.renew(of_person(name)) for name in ("Aoife", "Declan", "Noel")]
    compared: list[int] = []

    def compare(one: bytes, other: bytes) -> bool:
        compared.append(len(one))
        return one == other

    monkeypatch.setattr(feeds, "compare_digest", compare)
    for asked in (*secrets, "wrong", ""):
        compared.clear()
        site.page(asked)
        assert compared == [32, 32, 32]


def test_a_damaged_publication_opens_nothing(site: Site, store: Store, secret: str) -> None:
    whole = (store.folder / "published.json").read_bytes()
    (store.folder / "published.json").write_bytes(whole[: len(whole) // 2])
    assert site.page(secret).status == 404
    (store.folder / "published.json").write_bytes(whole)
    assert site.page(secret).status == 200


def test_an_address_starts_where_it_is_told() -> None:
    assert page_address("https://kilbrack.example/jam/", "s") == "https://kilbrack.example/jam/mine/s"


# What is kept


def test_i_know_is_kept_for_the_plan_that_was_shown(
    site: Site, store: Store, secret: str, answers: Answers
) -> None:
    page = site.page(secret)
    plan = sample.plan()
    moved = replace(plan, shifts=tuple(replace(shift, start=shift.start + 5) for shift in plan.shifts))
    publish(moved, sample.situation(), store, LATER)
    got = site.post(secret, {"slip": page.value("slip"), "do": "know", "plan": page.value("plan")})
    assert (got.status, got.headers["Location"]) == (303, secret)
    assert answers.seen() == {AOIFE: NOW}
    again = site.page(secret)
    assert "The plan has changed for you" in again.text
    site.send(secret, do="know", plan=again.value("plan"))
    assert answers.seen() == {AOIFE: LATER}
    assert "You have said that you know this plan" in site.page(secret).text
    # An old page does not take it back.
    site.send(secret, do="know", plan=page.value("plan"))
    assert answers.seen() == {AOIFE: LATER}


def test_a_day_called_off_waits_and_its_fate_is_told(site: Site, secret: str, answers: Answers) -> None:
    got = site.send(secret, do="away", day=TUESDAY.isoformat(), note='=HYPERLINK("x") <b>dentist</b>\r\n')
    assert got.status == 303
    (asked,) = answers.asked()
    note = '=HYPERLINK("x") <b>dentist</b>'
    assert (asked.feed, asked.wish) == (AOIFE, Wish(Kind.CANNOT, TUESDAY, note=note))
    assert asked.at == MORNING
    page = site.page(secret).text
    assert "You cannot come on Tue 7 Jul" in page
    assert "&lt;b&gt;dentist&lt;/b&gt;" in page
    assert "not answered yet" in page
    answers.settle(asked.id, State.DECLINED, MORNING)
    assert "declined" in site.page(secret).text


@pytest.mark.parametrize(
    ("fields", "wish"),
    [
        ({"kind": "can", "from": "08:00", "to": "12:30"}, Wish(Kind.CAN, TUESDAY, 480, 750)),
        ({"kind": "cannot", "from": "", "to": ""}, Wish(Kind.CANNOT, TUESDAY)),
        ({"kind": "cannot", "from": "10:00", "to": "24:00"}, Wish(Kind.CANNOT, TUESDAY, 600, 1440)),
    ],
)
def test_a_wish_is_kept(
    site: Site, secret: str, answers: Answers, fields: dict[str, str], wish: Wish
) -> None:
    assert site.send(secret, do="wish", day=TUESDAY.isoformat(), **fields).status == 303
    assert [each.wish for each in answers.asked()] == [wish]


def test_a_form_sent_twice_and_a_wish_made_twice_are_kept_once(
    site: Site, secret: str, answers: Answers
) -> None:
    fields = {"slip": site.page(secret).value("slip"), "do": "away", "day": TUESDAY.isoformat()}
    assert [site.post(secret, fields).status for _ in range(3)] == [303, 303, 303]
    assert site.send(secret, do="away", day=TUESDAY.isoformat(), note="other words").status == 303
    (asked,) = answers.asked()
    answers.settle(asked.id, State.DECLINED, MORNING)
    site.post(secret, fields)  # the old form once more asks nothing anew
    assert [each.state for each in answers.asked()] == [State.DECLINED]
    site.send(secret, do="away", day=TUESDAY.isoformat())
    assert [each.state for each in answers.asked()] == [State.DECLINED, State.OPEN]


def test_nobody_sees_what_another_said(site: Site, store: Store, secret: str) -> None:
    site.send(secret, do="away", day=TUESDAY.isoformat(), note="private matter")
    assert "private matter" not in site.page(store.renew(of_person("Noel"))).text


# What is refused


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"do": "away", "day": "2026-07-05"}, "You are not in on Sun 5 Jul"),
        ({"do": "away", "day": "2026-07-13"}, "Mon 6 Jul, Tue 7 Jul"),
        ({"do": "away", "day": "2026-02-30"}, "No day was chosen"),
        ({"do": "away"}, "No day was chosen"),
        ({"do": "away", "day": "2026-07-07", "note": "x" * 201}, "201 characters; at most 200"),
        ({"do": "wish", "kind": "can", "day": "2026-07-07"}, "“from” must be a time"),
        ({"do": "wish", "kind": "can", "day": "2026-07-07", "from": "08:03", "to": "09:00"}, "5 minutes"),
        ({"do": "wish", "kind": "can", "day": "2026-07-07", "from": "10:00", "to": "09:00"}, "later than"),
        ({"do": "wish", "kind": "can", "day": "2026-07-07", "from": "10:00", "to": "25:00"}, "“to” must be"),
        ({"do": "wish", "kind": "may", "day": "2026-07-07"}, "Choose “I can come”"),
        ({"do": "wish", "kind": "cannot", "day": "2026-07-05"}, "choose a day from today to Wed 7 Jul 2027"),
        ({"do": "wish", "kind": "cannot", "day": "9999-12-31"}, "choose a day from today"),
        ({"do": "know", "plan": "2999-01-01T00:00:00+00:00"}, "not known here"),
        ({"do": "know", "plan": "yesterday"}, "not known here"),
        ({"do": "know", "plan": "2026-07-05T18:00:00"}, "not known here"),
        ({"do": "else"}, "No button"),
        ({}, "No button"),
    ],
)
def test_what_cannot_be_is_told_why_and_the_form_stays_filled(
    site: Site, secret: str, answers: Answers, fields: dict[str, str], said: str
) -> None:
    got = site.send(secret, **fields)
    assert got.status == 400
    assert "This was not kept." in got.text
    assert said in got.text
    assert answers.asked() == ()
    assert answers.seen() == {}
    if fields.get("from") == "10:00":
        assert 'value="10:00"' in got.text


def test_a_form_from_elsewhere_is_refused(site: Site, store: Store, secret: str, answers: Answers) -> None:
    others = site.page(store.renew(of_person("Noel"))).value("slip")
    right = site.page(secret).value("slip")
    for slip in ("", "x", "x.y", others, right[:-1], right + "A", f"ü.{right}", "." + right):
        got = site.post(secret, {"slip": slip, "do": "away", "day": TUESDAY.isoformat(), "note": "typed"})
        assert got.status == 403
        assert 'value="typed"' in got.text
    assert answers.asked() == ()


@pytest.mark.parametrize("body", [b"\xff\xfe=1", b"%zz", b"=", b"&&&", b"a=1&" * 50, b"slip=%ff%fe", b"{}"])
def test_what_is_no_form_is_refused(site: Site, secret: str, body: bytes) -> None:
    assert site.ask(f"/mine/{secret}", "POST", body).status in {400, 403}


def test_a_body_or_headers_beyond_the_limit_are_refused_and_the_server_lives_on(
    site: Site, secret: str, answers: Answers
) -> None:
    slip = site.page(secret).value("slip")
    got = site.post(
        secret, {"slip": slip, "do": "away", "day": TUESDAY.isoformat(), "note": "x" * MOST_BYTES}
    )
    assert got.status == 413
    assert "16384 bytes" in got.text
    with suppress(OSError):  # hung up on while it still sent
        assert site.ask(f"/mine/{secret}", "POST", b"x" * 3_000_000).status == 413
    assert site.ask(f"/mine/{secret}", X_Long="x" * MOST_BYTES).status == 431
    assert site.page(secret).status == 200
    assert answers.asked() == ()


def test_so_many_wishes_wait_and_no_more(site: Site, secret: str, answers: Answers) -> None:
    for n in range(MOST_OPEN):
        answers.ask(str(n), AOIFE, Wish(Kind.CANNOT, TUESDAY + timedelta(days=n)), MORNING)
    got = site.send(secret, do="wish", kind="cannot", day="2027-01-01")
    assert got.status == 400
    assert f"No more than {MOST_OPEN} of your wishes can wait" in got.text
    assert len(answers.asked()) == MOST_OPEN
    assert site.send(secret, do="wish", kind="cannot", day=TUESDAY.isoformat()).status == 303


# A file that cannot be used


@contextmanager
def read_only() -> Iterator[None]:
    """SQLite itself refuses to write; file modes do not bind who runs as root."""

    def forbid(connection: sqlite3.Connection, _record: object) -> None:
        connection.execute("PRAGMA query_only=1")

    event.listen(Engine, "connect", forbid)
    try:
        yield
    finally:
        event.remove(Engine, "connect", forbid)


def test_a_read_only_file_is_told_and_nothing_is_lost(site: Site, secret: str, answers: Answers) -> None:
    site.send(secret, do="away", day=TUESDAY.isoformat())
    with read_only():
        got = site.send(
            secret,
            do="wish",
            kind="can",
            day="2026-07-11",
            note="kept here",
            **{"from": "08:00", "to": "09:00"},
        )
        assert got.status == 503
        assert "may not be written to" in got.text
        assert 'value="kept here"' in got.text
        assert "You cannot come on Tue 7 Jul" in got.text
    assert (
        site.send(secret, do="wish", kind="can", day="2026-07-11", **{"from": "08:00", "to": "09:00"}).status
        == 303
    )
    assert len(answers.asked()) == 2


def test_a_locked_file_is_told_and_the_plan_can_still_be_read(
    site: Site, store: Store, secret: str, answers: Answers
) -> None:
    site.send(secret, do="away", day=TUESDAY.isoformat())
    other = sqlite3.connect(store.folder / FILE, isolation_level=None)
    try:
        other.execute("BEGIN EXCLUSIVE")
        got = site.send(secret, do="away", day="2026-07-08", note="kept here")
        assert got.status == 503
        assert "another program is writing" in got.text
        assert 'value="kept here"' in got.text
        assert site.page(secret).status == 200
    finally:
        other.execute("ROLLBACK")
        other.close()
    assert site.send(secret, do="away", day="2026-07-08").status == 303
    assert len(answers.asked()) == 2


def test_a_damaged_file_is_told_and_the_plan_can_still_be_read(site: Site, store: Store, secret: str) -> None:
    (store.folder / FILE).write_bytes(b"no data base at all, whatever it is" * 99)
    page = site.page(secret)
    assert page.status == 200
    assert "cannot be read just now" in page.text
    assert "Cook: S strawberry jam" in page.text
    got = site.send(secret, do="away", day=TUESDAY.isoformat())
    assert got.status == 503
    assert "move it away" in got.text
