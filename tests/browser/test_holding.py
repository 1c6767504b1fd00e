"""The real dashboard: a batch is held on the calendar and planned around; a change is tried beside it."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect
from pypdf import PdfReader

from scheduler.auditor.held import held_batches
from scheduler.intake import read_scenario
from scheduler.plan_rows import Plan
from scheduler.views.dashboard import runs
from scheduler.views.held_tables import SIGN
from tests.browser import test_dashboard
from tests.browser.test_dashboard import PATIENCE, ROOT, SCENARIO, Watched, accessible

pytestmark = pytest.mark.browser

browser = test_dashboard.browser
address = test_dashboard.address

LIST = "Look at a batch (or click on its bar)"
NONE = "None of them"
READ = {"Ring": "Above each batch:", "Person": "Shifts, and in them", "Batch": "Beside each batch:"}
WIDEST = """() => {
  const bars = document.querySelector('.js-plotly-plot').data.filter(trace => trace.type === 'bar');
  const marks = bars.flatMap(bar => bar.customdata.map((told, at) => told[0] ? bar.x[at] : 0));
  return marks.indexOf(Math.max(...marks));
}"""
"""The place, among all bars drawn, of the longest stage of a batch."""
A_SCROLL_MS = 700
"""A list closes when the page scrolls, as it does to what is focused."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A quiet week that differs from those of other tests, whose plans it would find otherwise."""
    copy = Path(shutil.copytree(ROOT / "scenarios" / SCENARIO, tmp_path / "week"))
    text = (copy / "kitchen.toml").read_text(encoding="utf-8")
    (copy / "kitchen.toml").write_text(f"{text}# {tmp_path.name}\n", encoding="utf-8")
    return copy


def planned(watched: Watched, address: str, folder: Path) -> Page:
    """The overview of a folder once a plan of it was made."""
    page = watched.open(address, str(folder))
    page.get_by_role("button", name="Plan", exact=True).click()
    expect(page.get_by_role("button", name="Plan again", exact=True)).to_be_visible()
    return page


def calendar(watched: Watched) -> None:
    watched.go("Cook calendar")
    expect(watched.page.locator(".barlayer .point path").first).to_be_attached()
    expect(watched.page.get_by_role("combobox", name=LIST)).to_be_visible()


def by_keyboard(page: Page) -> str:
    """Choose a batch with keys alone; what the list says of it."""
    box = page.get_by_role("combobox", name=LIST)
    box.focus()
    page.wait_for_timeout(A_SCROLL_MS)
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("option").first).to_be_visible()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(box).not_to_have_value(NONE)
    return box.input_value()


def sound(watched: Watched) -> None:
    page = watched.page
    assert page.get_by_test_id("stException").count() == 0
    assert page.get_by_test_id("stMain").evaluate("box => box.scrollWidth - box.clientWidth") <= 0
    assert watched.faults == []


def button(page: Page, name: str) -> Locator:
    return page.get_by_role("button", name=name, exact=True)


def kept_plan(page: Page, plans: Path) -> Plan:
    """The plan of a folder of kept plans, once it is there."""
    for _ in range(PATIENCE // 500):
        if (plan := runs.last_plan(plans.parent, plans.name)) is not None:
            return plan
        page.wait_for_timeout(500)
    raise AssertionError(f"no plan in {plans}")


def test_from_no_plan_to_paper_on_a_phone_with_a_batch_held_by_keyboard_in_between(
    browser: Browser, address: str, folder: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """The way of a newcomer: plan, calendar, hold a batch, plan again, print."""
    first = Watched(browser, 1280, "light")
    planned(first, address, folder)
    first.context.close()
    watched = Watched(browser, 390, "light")
    page = watched.open(address, str(folder))
    calendar(watched)
    batch = by_keyboard(page)
    expect(page.get_by_text("What is in it")).to_be_visible()
    button(page, "Hold, plan later").click()
    expect(page.get_by_text("This plan is of the scenario as it was before.")).to_be_visible()
    (row,) = read_scenario(folder).scenario.held
    assert f"{row.recipe} in {row.pan} on {row.ring}" in batch
    expect(page.get_by_role("combobox", name=LIST)).to_have_value(re.compile(f"{SIGN} held"))

    before = (folder / "held.csv").read_bytes()
    page.get_by_role("radio", name="Rule it out").click()
    button(page, "Rule out and plan again").click()
    expect(page.get_by_text("Nothing was saved")).to_be_visible()
    expect(page.get_by_text("a batch that row 3 rules out")).to_be_visible()
    assert (folder / "held.csv").read_bytes() == before

    page.get_by_role("radio", name="Hold it as it is").click()
    page.get_by_text("Size:").click()
    button(page, "Hold and plan again").click()
    expect(page.get_by_text("This plan is of the scenario as it was before.")).to_have_count(0)
    expect(page.locator(".textpoint", has_text=SIGN).first).to_be_attached()
    situation = read_scenario(folder)
    assert [(held.kg, held.start) for held in situation.scenario.held] == [(None, row.start)]
    plans = next(tmp_path_factory.getbasetemp().glob(f"dashboard*/plans/{situation.input_hash}"))
    plan = kept_plan(page, plans)
    assert len(held_batches(situation.scenario.held, plan)) == 1
    sound(watched)

    page.get_by_text("On paper").click()
    with page.expect_download() as told:
        page.get_by_role("button", name=re.compile("A4$")).first.click()
    wall = PdfReader(told.value.path())
    assert row.recipe in " ".join(sheet.extract_text() for sheet in wall.pages)

    watched.settled()
    page.get_by_text(re.compile(rf"{SIGN} .*: held$")).click()
    watched.settled()
    button(page, "Let the ticked go, plan later").click()
    expect(page.get_by_text("Held and ruled out")).to_have_count(0)
    assert not (folder / "held.csv").exists()
    sound(watched)
    watched.context.close()


def test_a_click_on_a_bar_opens_its_batch_whatever_the_rows(
    browser: Browser, address: str, folder: Path
) -> None:
    watched = Watched(browser, 1280, "dark")
    page = planned(watched, address, folder)
    calendar(watched)
    for rows in ("Ring", "Person", "Batch"):
        page.get_by_role("radio", name=rows, exact=True).click()
        expect(page.get_by_text(READ[rows])).to_be_visible()
        for _ in range(2 if rows == "Ring" else 1):  # the same bar a second time, too
            page.wait_for_timeout(1_000)
            page.locator(".js-plotly-plot").first.scroll_into_view_if_needed()
            place = page.locator(".barlayer .point path").nth(page.evaluate(WIDEST)).bounding_box()
            assert place is not None
            page.mouse.click(place["x"] + place["width"] / 2, place["y"] + place["height"] / 2)
            expect(button(page, "Hold and plan again")).to_be_visible()
            expect(page.get_by_role("combobox", name=LIST)).not_to_have_value(NONE)
            page.get_by_role("combobox", name=LIST).focus()
            page.wait_for_timeout(A_SCROLL_MS)
            page.keyboard.press("ArrowDown")
            page.get_by_role("option", name=NONE).click()
            expect(button(page, "Hold and plan again")).to_have_count(0)
    sound(watched)
    watched.context.close()


def test_a_pan_out_is_tried_beside_the_plan_and_taken_over(
    browser: Browser, address: str, folder: Path
) -> None:
    watched = Watched(browser, 1280, "light")
    page = planned(watched, address, folder)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    watched.go("Try a change")
    name = page.get_by_role("textbox", name="Name of the new try")
    name.fill("without the copper")
    name.press("Enter")
    button(page, "Begin this try").click()
    expect(page.get_by_text("Nothing is changed yet.")).to_be_visible()
    expect(button(page, "Plan this try")).to_be_disabled()
    watched.settled()
    accessible(page, "a try that is begun")
    button(page, "Change it").click()
    expect(page.get_by_text("What “without the copper” changes")).to_be_visible()
    button(page, "Plan this try").click()
    expect(page.get_by_text("What the change does")).to_be_visible()
    told = page.locator(".m-wide table").first
    for row in ("fruit lost, kg", "jars made", "jars missing from orders", "hours paid", "in the freezer"):
        expect(told).to_contain_text(row)
    expect(page.locator(".js-plotly-plot .main-svg").first).to_be_visible()
    expect(page.locator(".js-plotly-plot")).to_have_count(2)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    sound(watched)

    watched.context.close()

    watched = Watched(browser, 390, "light")
    page = watched.open(address, str(folder))
    watched.go("Try a change")
    expect(page.get_by_text("What “without the copper” changes")).to_be_visible()
    expect(page.locator(".js-plotly-plot")).to_have_count(2)
    page.wait_for_timeout(1_000)
    sound(watched)
    button(page, "Take it over into the scenario").click()
    expect(page.get_by_text("The scenario now says what without the copper says.")).to_be_visible()
    assert {row.pan for row in read_scenario(folder).scenario.out} == {"big copper"}
    expect(page.get_by_text("The plan of this try is now that of the scenario.")).to_be_visible()
    button(page, "Throw it away").click()
    expect(page.get_by_text("without the copper is thrown away.")).to_be_visible()
    expect(button(page, "Begin this try")).to_be_visible()
    sound(watched)
    watched.context.close()


def test_pages_that_show_a_plan_show_the_last_one_of_a_changed_folder_without_its_papers(
    browser: Browser, address: str, folder: Path
) -> None:
    watched = Watched(browser, 1280, "light")
    page = planned(watched, address, folder)
    with (folder / "kitchen.toml").open("a", encoding="utf-8") as file:
        file.write("# changed\n")
    watched.open(address, str(folder))
    for name in ("This morning", "Overview", "Freezer", "Orders and store"):
        watched.go(name)
        expect(page.get_by_text("This plan is of the scenario as it was before.")).to_be_visible()
        expect(page.get_by_text("Changed since: kitchen.toml.")).to_be_visible()
        expect(page.get_by_text("On paper")).to_have_count(0)
    watched.go("Who does what")
    expect(page.get_by_text("Everybody's day", exact=False)).to_be_visible()
    expect(page.get_by_text("as it was before")).to_have_count(0)
    sound(watched)
