"""What a person's page shows: their days in order, with whom, what to watch for; and sound HTML."""

from __future__ import annotations

import base64
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from itertools import pairwise

import pytest

from scheduler.feeds.entry import of_person
from scheduler.feeds.publishing import publish
from scheduler.feeds.store import Store
from scheduler.people_pages.days import days_of, newest
from scheduler.views.look import DARK, LIGHT, Look
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW
from tests.unit.people_pages.reading_html import Outline
from tests.unit.people_pages.serving import MORNING, Site
from tests.unit.views import kilbrack_sample as sample


def test_today_comes_first_then_tomorrow_then_the_rest(site: Site, secret: str) -> None:
    site.now = MORNING + timedelta(days=2)
    page = Outline(site.page(secret).text)
    days = [text for level, text in page.headings if level == 2]
    assert days == [
        "Today, Wed 8 Jul", "Tomorrow, Thu 9 Jul", "Fri 10 Jul", "Sat 11 Jul", "Sun 12 Jul",
        "Say when you can come", "Mon 6 Jul", "Tue 7 Jul",
    ]  # fmt: skip
    assert ("summary", {}) in page.tags


def test_today_is_that_of_the_farm_not_of_the_server(site: Site, secret: str) -> None:
    # 23:30 UTC is half past midnight in Ireland in summer (IANA time zone database, Europe/Dublin).
    site.now = datetime(2026, 7, 6, 23, 30, tzinfo=UTC)
    page = site.page(secret).text
    assert (2, "Today, Tue 7 Jul") in Outline(page).headings
    assert "as it was on Tue 7 Jul, 00:30" in page


def test_after_the_plan_nothing_is_to_come(site: Site, secret: str) -> None:
    site.now = MORNING + timedelta(days=30)
    page = site.page(secret).text
    assert "Nothing to come" in page
    assert "I can’t come" not in page


def test_a_day_says_when_what_where_how_and_with_whom(store: Store) -> None:
    monday = days_of(AOIFE, store.published().revisions)[0]
    assert (monday.day, monday.present, monday.cooks) == (MONDAY, "08:00 to 16:00", True)
    assert [(each.span, each.what, each.where, each.is_break) for each in monday.pieces] == [
        ("10:00 to 11:00", "Cook: S strawberry jam", "the big copper, front left", False),
        ("10:45 to 11:45", "Cook: RC raspberry and redcurrant jam", "steel twelve, front right", False),
        ("11:45 to 12:15", "Break", "", True),
    ]
    assert monday.pieces[0].told[0].startswith("Dissolve 15 min, boil 25 min")
    assert [load.what for load in monday.loads] == ["S strawberry jam", "RC raspberry and redcurrant jam"]
    assert any("refractometer" in line or "Boil to" in line for line in monday.loads[0].told)
    assert any("Long sleeves" in text for text in monday.care)
    assert [(other.name, other.span, other.cooks) for other in monday.others] == [
        ("Declan", "08:00 to 16:00", True),
        ("Maeve", "08:00 to 16:00", False),
        ("Noel", "08:00 to 16:30", False),
    ]
    noel = days_of(of_person("Noel"), store.published().revisions)[0]
    assert noel.others[0].name == "Aoife"
    assert noel.others[0].cooks


def test_a_caution_is_read_once_though_it_holds_on_every_day(site: Site, secret: str) -> None:
    page = site.page(secret).text
    before, _, after = page.partition("Tomorrow, ")
    assert before.count("Long sleeves") == 1
    assert "Long sleeves" not in after
    assert "said under this heading for the days before" in after


def test_a_day_called_off_says_so_and_cannot_be_called_off_again(
    site: Site, store: Store, secret: str
) -> None:
    plan = sample.plan()
    left = tuple(each for each in plan.shifts if (each.person, each.day) != ("Aoife", MONDAY))
    stages = tuple(each for each in plan.stages if each.day != MONDAY or "Aoife" not in each.people)
    publish(replace(plan, shifts=left, stages=stages), sample.situation(), store, LATER)
    page = Outline(site.page(secret).text)
    assert "You are not needed on this day any more." in page.text
    values = [each.get("value") for each in page.all("option")]
    assert values == [(MONDAY + timedelta(days=n)).isoformat() for n in range(1, 7)]


def test_a_page_without_days_of_the_person_still_opens(store: Store) -> None:
    assert days_of("person Nobody", store.published().revisions) == []
    assert newest("person Nobody", store.published().revisions) is None


def test_the_page_is_sound_html_with_language_landmarks_and_a_label_for_each_field(
    site: Site, secret: str
) -> None:
    got = site.page(secret)
    page = Outline(got.text)
    assert got.text.startswith("<!doctype html>")
    assert page.crossed == []
    assert page.all("html") == [{"lang": "en"}]
    assert [len(page.all(tag)) for tag in ("h1", "header", "main", "footer")] == [1, 1, 1, 1]
    levels = [level for level, _ in page.headings]
    # WCAG 2.2, 1.3.1: no level is skipped on the way down.
    assert all(below - above <= 1 for above, below in pairwise(levels))
    labels = {each.get("for") for each in page.all("label")}
    fields = [each for each in [*page.all("input"), *page.all("select")] if each.get("type") != "hidden"]
    assert fields
    assert all(each.get("id") in labels for each in fields if each.get("type") != "radio")
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(ids) == len(set(ids))


def digest_of(text: str) -> str:
    return "sha256-" + base64.b64encode(sha256(text.encode()).digest()).decode()


def test_only_the_pages_own_script_runs_and_nothing_else_is_fetched(site: Site, secret: str) -> None:
    got = site.page(secret)
    page = Outline(got.text)
    assert not {"img", "link", "iframe"} & {tag for tag, _ in page.tags}
    assert not any(key.startswith("on") or key == "style" for _, attrs in page.tags for key in attrs)
    assert "url(" not in got.text
    assert secret not in got.text
    assert re.search(r"<script[^>]*></script>", got.text)
    script = digest_of(site.page("keep.js").text)
    assert page.all("script") == [{"src": "keep.js", "integrity": script, "defer": None}]
    style = re.search(r"<style>(.*?)</style>", got.text, re.DOTALL)
    assert style
    # CSP level 3, 2.3.1: style and script are let in by their own digests; all else is shut.
    assert got.headers["Content-Security-Policy"].split("; ") == [
        "default-src 'none'", f"style-src '{digest_of(style[1])}'", f"script-src '{script}'",
        "worker-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'",
    ]  # fmt: skip


def test_the_worker_may_ask_this_server_alone_and_is_asked_for_anew(site: Site) -> None:
    for name in ("keep.js", "worker.js"):
        got = site.page(name)
        assert (got.status, got.headers["Content-Type"]) == (200, "text/javascript; charset=utf-8")
        assert got.headers["Content-Security-Policy"] == "default-src 'none'; connect-src 'self'"
        assert got.headers["Cache-Control"] == "no-cache"
    assert site.ask("/mine/worker.js", "POST").status == 404


def test_the_words_for_reading_without_a_connection_stand_in_each_page_unseen(
    site: Site, secret: str
) -> None:
    text = site.page(secret).text
    assert "Read without a connection, as it was on Mon 6 Jul, 06:00." in text
    assert text.count("you need a connection: open this page again") == text.count("<form") == 4
    assert ".kept-only,.kept .fresh{display:none}" in text
    # What the worker marks a kept page by.
    assert text.count("<body>") == 1
    assert 'replace("<body>", ' in site.page("worker.js").text


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition of it)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_words_stand_out_from_their_ground(look: Look) -> None:
    # WCAG 2.2, 1.4.3: at least 4.5 to 1.
    for ink, ground in (
        (look.ink, look.paper), (look.ink, look.card), (look.faint, look.paper), (look.leaf, look.paper),
        (look.berry, look.paper), (look.paper, look.leaf),
    ):  # fmt: skip
        light, dark = sorted((luminance(ink), luminance(ground)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, (ink, ground)


def test_names_of_any_kind_are_words_never_markup(site: Site, store: Store) -> None:
    bad = '<b onclick="x">&{{ 7 * 7 }}</b>'
    plan, situation = sample.plan(), sample.situation()
    farm = situation.scenario
    people = tuple(replace(each, name=bad if each.name == "Aoife" else each.name) for each in farm.people)
    shifts = tuple(
        replace(each, person=bad if each.person == "Aoife" else each.person) for each in plan.shifts
    )
    stages = tuple(
        replace(each, people=tuple(bad if name == "Aoife" else name for name in each.people))
        for each in plan.stages
    )
    changed = replace(situation, scenario=replace(farm, people=people, farm="</title><script>"))
    publish(replace(plan, shifts=shifts, stages=stages), changed, store, NOW + timedelta(hours=1))
    for feed in (of_person(bad), of_person("Noel")):
        page = Outline(site.page(store.renew(feed)).text)
        assert bad in page.text
        assert page.crossed == []
        assert "b onclick" not in {tag for tag, _ in page.tags}
        assert [each["src"] for each in page.all("script")] == ["keep.js"]
        assert all("onclick" not in attrs for _, attrs in page.tags)
