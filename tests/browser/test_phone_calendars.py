"""Phone calendars in the real dashboard: published, given an address, followed, renewed and withdrawn."""

from __future__ import annotations

import http.client
import re
from urllib.parse import urlsplit

import pytest
from icalendar import Calendar
from playwright.sync_api import Browser, Page, TimeoutError, expect

from scheduler.intake import read_scenario
from scheduler.planner import Settings, make_plan
from scheduler.views.files import write_plan
from tests.browser import test_dashboard
from tests.browser.served import ROOT, newest
from tests.browser.test_dashboard import SCENARIO, Watched
from tests.calendar_server import PASSWORD, USER, radicale

pytestmark = pytest.mark.browser

browser = test_dashboard.browser
address = test_dashboard.address


def get(url: str, tag: str = "") -> tuple[int, bytes, str]:
    """Status, body and entity tag; the path is sent just as it stands."""
    parts = urlsplit(url)
    connection = http.client.HTTPConnection(parts.netloc, timeout=60)
    try:
        connection.request(
            "GET", url.partition(parts.netloc)[2], headers={"If-None-Match": tag} if tag else {}
        )
        answer = connection.getresponse()
        return answer.status, answer.read(), answer.headers.get("ETag", "")
    finally:
        connection.close()


def shown_address(page: Page) -> str:
    code = page.locator("code").filter(has_text="/feeds/")
    expect(code).to_be_visible()
    return code.inner_text().strip()


def choose(page: Page, name: str) -> None:
    """Choose a calendar; a list that is opened while the page is still drawn or scrolled closes again."""
    option = page.get_by_role("option", name=name)
    for _ in range(60):
        page.get_by_role("combobox", name="Calendar of").press("ArrowDown")
        try:
            option.click(timeout=2_000)
            return
        except TimeoutError:
            continue
    pytest.fail(f"the list of calendars never stayed open for {name}")


@pytest.fixture(scope="module")
def published(browser: Browser, address: str, tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of the dashboard, once a plan by habit was published."""
    situation = read_scenario(ROOT / "scenarios" / SCENARIO)
    plan = make_plan(situation, Settings(method="habit"))
    write_plan(plan, situation, newest(tmp_path_factory.getbasetemp()) / "plans" / situation.input_hash)
    watched = Watched(browser, 390, "light")
    page = watched.open(address)
    watched.go("Who does what")
    expect(page.get_by_text("No phone has this plan yet.")).to_be_visible()
    page.get_by_role("button", name="Publish this plan").click()
    expect(page.get_by_text("This plan is published.")).to_be_visible()
    assert watched.faults == []
    watched.context.close()
    return address


def test_an_address_is_made_followed_renewed_and_withdrawn(
    browser: Browser, published: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    watched = Watched(browser, 1280, "light")
    page = watched.open(published)
    watched.go("Who does what")
    page.get_by_role("button", name="Make an address").click()
    first = shown_address(page)
    assert re.fullmatch(rf"{re.escape(published)}/feeds/[A-Za-z0-9_-]{{43}}\.ics", first)
    status, body, tag = get(first)
    assert status == 200
    assert len(Calendar.from_ical(body).walk("VEVENT")) > 0
    assert get(first, tag)[:2] == (304, b"")
    with page.expect_download() as download:
        page.get_by_role("button", name="File for").click()
    assert download.value.path().read_bytes() == body

    page.get_by_role("button", name="New address").click()
    page.get_by_role("button", name="Give a new address").click()
    expect(page.locator("code").filter(has_text=first)).to_have_count(0)
    second = shown_address(page)
    assert (get(first)[0], get(second)[0]) == (404, 200)

    page.get_by_role("button", name="Withdraw", exact=True).click()
    page.get_by_role("button", name="Withdraw the address").click()
    expect(page.get_by_text("It has no address: no phone follows it.")).to_be_visible()
    assert get(second)[0] == 404

    secrets = [each.rpartition("/")[2].removesuffix(".ics") for each in (first, second)]
    for path in (
        "/feeds",
        "/feeds/",
        f"/feeds/x/{secrets[0]}.ics",
        "/feeds/person%20Aoife.ics",
        # What climbs or hides, too: told as any other, and not in the words of the dashboard's server.
        *(
            f"/{place}/{trick}"
            for place in ("feeds", "mine")
            for trick in ("../feeds/x.ics", "..%2f..%2flinks.json", "%00", "..", "%5c%5cx", "C:/x")
        ),
    ):
        assert get(f"{published}{path}")[:2] == (404, b"Not found\n"), path
    log = newest(tmp_path_factory.getbasetemp()) / "log.txt"
    written = log.read_text(encoding="utf-8")
    assert written
    assert not any(secret in written for secret in secrets)
    assert "/feeds" not in written
    assert page.get_by_test_id("stException").count() == 0
    assert watched.faults == []
    watched.context.close()


@pytest.mark.parametrize("width", [1280, 390])
def test_each_calendar_is_at_hand_wide_and_on_a_phone(browser: Browser, published: str, width: int) -> None:
    watched = Watched(browser, width, "dark")
    page = watched.open(published)
    watched.go("Who does what")
    expect(page.get_by_role("button", name="File for")).to_be_visible()
    for name in ("the kitchen", "orders and deliveries"):
        choose(page, name)
        with page.expect_download() as download:
            page.get_by_role("button", name=f"File for {name}").click()
        assert download.value.suggested_filename == f"{name.replace(' ', '-')}.ics"
    main = page.get_by_test_id("stMain")
    assert main.evaluate("box => box.scrollWidth - box.clientWidth") <= 0
    assert watched.faults == []
    watched.context.close()


def test_a_button_sends_what_differs_to_the_calendar_server(
    browser: Browser, published: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    place = newest(tmp_path_factory.getbasetemp())
    watched = Watched(browser, 1280, "light")
    page = watched.open(published)
    watched.go("Who does what")
    button = page.get_by_role("button", name="Send to the calendar server")
    button.click()
    expect(page.get_by_text("Nothing was sent.")).to_be_visible()
    with radicale(place / "radicale") as server:
        settings = f'url = "{server.url}"\nuser = "{USER}"\npassword = "{PASSWORD}"\n[calendars]\n'
        (place / "caldav.toml").write_text(f'{settings}"the kitchen" = "kitchen"\n', encoding="utf-8")
        button.click()
        expect(page.get_by_text("Sent to the calendar server.")).to_be_visible()
        expect(page.get_by_text(re.compile(r"the kitchen: \d+ events? new"))).to_be_visible()
        assert server.events("kitchen")
        button.click()
        expect(page.get_by_text("the kitchen: the server has it all")).to_be_visible()
    assert page.get_by_test_id("stException").count() == 0
    assert watched.faults == []
    watched.context.close()
