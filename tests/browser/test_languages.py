"""The real dashboard in another language: chosen at the side, spoken on every page, and changed back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, TimeoutError, expect

from scheduler.intake import read_scenario
from scheduler.languages import speaking, spoken
from scheduler.languages.catalogues import read
from scheduler.languages.template import texts
from scheduler.planner import Settings, make_plan
from scheduler.views.files import write_plan
from tests.browser import test_dashboard
from tests.browser.served import ROOT, served
from tests.browser.test_dashboard import PAGES, PATIENCE, SCENARIO, Watched

pytestmark = pytest.mark.browser

browser = test_dashboard.browser
LANGUAGE, OWN_NAME = "de", "Deutsch"
AT_REST = "[data-testid=stApp][data-test-script-state=notRunning]"
A_LIST_MS = 5_000
"""Within which a list that was opened shows what can be chosen, or was closed again."""
A_START_MS = 500
"""Within which a page that was asked for is at work."""
A_WORD = re.compile(r"[^\W\d_]{3,}")


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A dashboard with a plan of a quiet week."""
    place = tmp_path_factory.mktemp("dashboard")
    situation = read_scenario(ROOT / "scenarios" / SCENARIO)
    plan = make_plan(situation, Settings(seconds=20))
    write_plan(plan, situation, Path(place, "plans", situation.input_hash))
    with served(place) as url:
        yield url


def english() -> list[re.Pattern[str]]:
    """What a line looks like that is said in English although the catalogue says it otherwise."""
    found = []
    for each in read(LANGUAGE):
        for text in texts(each.id) if each.id else ():
            pieces = re.split(r"\{\w+\}", text)
            # A template of one word, as "{what} for {who}", fits law's own English too.
            if text not in texts(each.string) and len(A_WORD.findall(" ".join(pieces))) >= min(
                2, len(pieces)
            ):
                found.append(re.compile(".+".join(map(re.escape, pieces)), re.DOTALL))
    return found


def lines(page: Page) -> list[str]:
    """What stands on the page and at its side, and the names that are read aloud of its fields."""
    page.wait_for_timeout(A_START_MS)
    expect(page.locator(AT_REST)).to_be_attached(timeout=PATIENCE)
    told = page.locator("body").inner_text().splitlines()
    named = page.locator("input[aria-label], [data-testid=stMain] [role=img][aria-label]")
    return [
        line.strip() for line in (*told, *(each.get_attribute("aria-label") or "" for each in named.all()))
    ]


def choose(page: Page, own_name: str) -> None:
    """Choose a language at the foot of the side; a page that is still being drawn may close the list."""
    option = page.get_by_role("option", name=own_name, exact=True)
    for _ in range(5):
        expect(page.locator(AT_REST)).to_be_attached()
        page.get_by_role("combobox", name="Language · Sprache").click()
        with suppress(TimeoutError):
            option.click(timeout=A_LIST_MS)
            return
    raise AssertionError(f"{own_name} could not be chosen")


def test_every_page_speaks_the_chosen_language(browser: Browser, address: str) -> None:
    with speaking(LANGUAGE):
        titles = {title: spoken(title) for title in PAGES}
    patterns = english()
    watched = Watched(browser, 1280, "light")
    page = watched.open(address)
    expect(page.get_by_role("button", name="Plan again", exact=True)).to_be_visible(timeout=PATIENCE)
    choose(page, OWN_NAME)
    expect(page.get_by_role("button", name="Neu planen", exact=True)).to_be_visible(timeout=PATIENCE)
    expect(page).to_have_url(re.compile("language=de"))
    expect(page.locator("html")).to_have_attribute("lang", LANGUAGE)
    beside = Watched(browser, 1280, "light")
    other = beside.open(address)
    expect(other.get_by_role("button", name="Plan again", exact=True)).to_be_visible(timeout=PATIENCE)
    left = []
    for title in titles.values():
        watched.go(title)
        link = page.get_by_test_id("stSidebarNavLink").filter(has_text=title)
        expect(link).to_have_attribute("aria-current", "page", timeout=PATIENCE)
        expect(page.locator("h2").first).to_be_visible(timeout=PATIENCE)
        left += [f"{title}: {line}" for line in lines(page) if any(each.fullmatch(line) for each in patterns)]
    assert not left, "\n".join(left)
    beside.go("Freezer")
    expect(other.get_by_role("heading", name="Draw-down")).to_be_visible(timeout=PATIENCE)
    beside.context.close()
    watched.go(titles["This morning"])
    page.wait_for_url(f"{address}/?*language=de*")
    page.reload()
    expect(page.get_by_role("button", name="Neu planen", exact=True)).to_be_visible(timeout=PATIENCE)
    choose(page, "English")
    expect(page.get_by_role("button", name="Plan again", exact=True)).to_be_visible(timeout=PATIENCE)
    expect(page).not_to_have_url(re.compile("language"))
    expect(page.locator("html")).to_have_attribute("lang", "en")
    assert watched.faults == []
    watched.context.close()


def test_a_browser_is_answered_in_its_own_language(browser: Browser, address: str) -> None:
    for locale, said in (("de-AT", "Neu planen"), ("en-GB", "Plan again"), ("ga-IE", "Plan again")):
        context = browser.new_context(locale=locale)
        page = context.new_page()
        page.goto(f"{address}/?scenario={SCENARIO}")
        expect(page.get_by_role("button", name=said, exact=True)).to_be_visible(timeout=PATIENCE)
        context.close()
