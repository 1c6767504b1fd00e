"""The real dashboard in headless Chromium: plan a quiet week, then open every page, wide and on a phone."""

import os
import shutil
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright
from pypdf import PdfReader

from tests.browser.served import CHROMIUM, FLAGS, ROOT, served

pytestmark = pytest.mark.browser

SCENARIO = "quiet-week"
HERE = {"127.0.0.1", "localhost", ""}
PATIENCE = 180_000
"""Milliseconds; a plan and a busy machine take their time."""
expect.set_options(timeout=PATIENCE)
NARROW = 360
"""Pixels; the narrowest phones in use."""
AA = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}

CHARTED = (
    "Freeze or cook",
    "Overview",
    "Cook calendar",
    "Who does what",
    "Freezer",
    "Fruit",
    "Season",
    "Orders and store",
    "Recipes",
)
PAGES = ("This morning", *CHARTED, "Try a change", "Scenario")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if not Path(CHROMIUM).exists():
        reason = f"no Chromium at {CHROMIUM}: install Debian's package chromium"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The dashboard on a free port with a store of plans of its own."""
    with served(tmp_path_factory.mktemp("dashboard")) as url:
        yield url


class Watched:
    """A page, and everything that it said or asked for which it should not have."""

    def __init__(self, browser: Browser, width: int, scheme: str) -> None:
        self.context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)  # type: ignore[arg-type]
        self.page: Page = self.context.new_page()
        self.page.set_default_timeout(PATIENCE)
        self.faults: list[str] = []
        self.page.on("console", lambda m: self.faults.append(m.text) if m.type == "error" else None)
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("request", lambda request: self._asked(request.url))
        self.page.on("websocket", lambda socket: self._asked(socket.url))

    def _asked(self, url: str) -> None:
        if (urlsplit(url).hostname or "") not in HERE:
            self.faults.append(f"asked {url}")

    def open(self, address: str, scenario: str = SCENARIO) -> Page:
        self.page.goto(f"{address}/?scenario={scenario}")
        expect(self.page.locator("h2").first).to_be_visible()
        return self.page

    def settled(self) -> None:
        """Wait until a page being drawn anew shows nothing of the page before beside it."""
        at_rest = "[data-testid=stApp][data-test-script-state=notRunning]"
        expect(self.page.locator(at_rest)).to_be_attached()

    def go(self, title: str) -> None:
        """Follow a link of the sidebar, which a phone opens first and closes after. What is pressed before
        the server has told the new page's address would lead back to the page before."""
        opener = self.page.get_by_test_id("stExpandSidebarButton")
        link = self.page.get_by_test_id("stSidebarNavLink").filter(has_text=title)
        if opener.is_visible():
            opener.click()
        there = urlsplit(link.get_attribute("href") or "").path
        link.click()
        self.page.wait_for_url(lambda url: urlsplit(url).path == there)
        if self.page.viewport_size and self.page.viewport_size["width"] < 700:
            closer = self.page.get_by_test_id("stSidebarCollapseButton").get_by_role("button")
            if closer.is_visible():
                closer.click()


@pytest.fixture(scope="module")
def planned(browser: Browser, address: str) -> str:
    """The address, once a quiet week was planned by pressing Plan, watched from two tabs."""
    first = Watched(browser, 1280, "light")
    page = first.open(address)
    expect(page.get_by_text("No plan yet for quiet-week")).to_be_visible()
    page.get_by_role("button", name="Plan", exact=True).click()
    # The run is either still at work, then a reload and a second tab find it, or it has ended already.
    stop = page.get_by_role("button", name="Stop and keep the best")
    done = page.get_by_role("button", name="Plan again")
    expect(stop.or_(done).first).to_be_visible()
    second = Watched(browser, 1280, "light")
    other = second.open(address)
    both = other.get_by_role("button", name="Stop and keep the best").or_(
        other.get_by_role("button", name="Plan again")
    )
    expect(both.first).to_be_visible()
    assert other.get_by_role("button", name="Plan", exact=True).count() == 0
    for seen, tab in ((first, page), (second, other)):
        expect(tab.get_by_role("button", name="Plan again")).to_be_visible()
        seen.go("Overview")
        expect(tab.locator(".js-plotly-plot .main-svg").first).to_be_visible()
    assert first.faults + second.faults == []
    first.context.close()
    second.context.close()
    return address


def accessible(page: Page, title: str) -> None:
    """axe-core finds nothing against WCAG 2.2 AA on the page as it stands."""
    answer = Axe().run(page, options=AA).response
    assert len(answer["passes"]) > 20
    told = [(each["id"], node["html"]) for each in answer["violations"] for node in each["nodes"]]
    assert not told, title


def _bar_widths(page: Page) -> list[float]:
    # The page may draw the chart again at any time, so waiting and measuring are one look at all bars.
    seen = page.wait_for_function(
        "() => { const bars = [...document.querySelectorAll('.barlayer .point path')];"
        " const widths = bars.map(bar => bar.getBoundingClientRect().width);"
        " return widths.length > 0 && widths.every(width => width > 1) && widths; }",
        timeout=PATIENCE,
    )
    widths: list[float] = seen.json_value()
    return widths


# No style depends on both, so each width and each look is tried once.
@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (NARROW, "dark")])
def test_every_page_is_sound(browser: Browser, planned: str, width: int, scheme: str, tmp_path: Path) -> None:
    """Its heading and pictures are there, nothing is cut off, and axe-core, which tests pages against the Web
    Content Accessibility Guidelines 2.2 (W3C Recommendation, 12 December 2024), finds no violation."""
    watched = Watched(browser, width, scheme)
    page = watched.open(planned)
    for title in PAGES:
        watched.go(title)
        heading = {
            "This morning": " Aug",
            "Overview": "Kilbrack",
            "Fruit": "What happens to each fruit",
            "Season": "The plan week by week",
            "Scenario": "What was read",
        }
        expect(page.locator("h2").first).to_contain_text(heading.get(title, title))
        if title in CHARTED:
            expect(page.locator(".js-plotly-plot .main-svg").first).to_be_visible()
        page.wait_for_timeout(700)
        page.screenshot(path=tmp_path / f"{title}.png")
        assert page.get_by_test_id("stException").count() == 0, title
        main = page.get_by_test_id("stMain")
        assert main.evaluate("box => box.scrollWidth - box.clientWidth") <= 0, f"{title} scrolls sideways"
        watched.settled()
        accessible(page, title)
    assert watched.faults == []
    watched.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_page_prints_without_its_controls_and_on_white(browser: Browser, planned: str, scheme: str) -> None:
    watched = Watched(browser, 1280, scheme)
    page = watched.open(planned)
    watched.go("Freezer")
    expect(page.get_by_text("What each lot is kept for")).to_be_visible()
    watched.settled()
    page.wait_for_timeout(700)
    printed = PdfReader(BytesIO(page.pdf(format="A4", print_background=True)))
    text = "\n".join(sheet.extract_text() for sheet in printed.pages)
    if scheme == "light":  # turned round, the dark look is printed as pictures without text
        assert "Draw-down" in text
    assert "Seconds to plan" not in text
    assert "Plan again" not in text
    wide, high = printed.pages[0].mediabox.width, printed.pages[0].mediabox.height
    assert wide > high, "pictures have no room on an upright sheet"
    page.emulate_media(media="print")
    sheet = page.evaluate(
        "() => [document.documentElement, document.querySelector('[data-testid=stApp]')]"
        ".map(each => getComputedStyle(each)).map(style => [style.backgroundColor, style.filter])"
    )
    assert sheet[0][0] == "rgb(255, 255, 255)"
    turned = sheet[0][1] != "none"
    assert sheet[1][0] == ("rgb(0, 0, 0)" if turned else "rgb(255, 255, 255)")
    assert turned == (scheme == "dark")
    watched.context.close()


@pytest.mark.parametrize("width", [1280, 390])
def test_calendar_bars_have_width_by_day_and_by_week(browser: Browser, planned: str, width: int) -> None:
    watched = Watched(browser, width, "light")
    page = watched.open(planned)
    watched.go("Cook calendar")
    expect(page.locator("h2").first).to_contain_text("Cook calendar")
    expect(page.locator(".barlayer .point path").first).to_be_attached()
    widths = _bar_widths(page)
    assert len(widths) >= 7, "a batch has seven stages on the calendar at least"
    # Five minutes are the shortest stage; a boil is wider than a finger's edge even on a phone.
    assert min(widths) > 1
    assert max(widths) > 6
    a_day = len(widths)
    page.get_by_text("A week", exact=True).click()
    expect(page.locator(".js-plotly-plot")).to_have_count(1)
    expect(page.locator(".barlayer .point path").nth(a_day - 1)).to_be_attached()
    assert min(_bar_widths(page)) > 1
    assert watched.faults == []
    watched.context.close()


def test_a_bad_folder_lists_its_faults(browser: Browser, address: str, tmp_path: Path) -> None:
    bad = tmp_path / "bad"
    shutil.copytree(ROOT / "scenarios" / SCENARIO, bad)
    (bad / "picks.csv").write_text("date,fruit,grade,kg\n2026-08-24,moonberry,table,3\n", encoding="utf-8")
    watched = Watched(browser, 390, "light")
    page = watched.open(address, str(bad))
    expect(page.locator("h2").first).to_have_text("This scenario cannot be read yet")
    expect(page.locator("h3").filter(has_text="picks.csv")).to_be_visible()
    expect(page.get_by_text("moonberry").first).to_be_visible()
    assert page.get_by_test_id("stException").count() == 0
    assert watched.faults == []
    watched.context.close()
