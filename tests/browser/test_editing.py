"""A scenario is changed in the real dashboard: typed into, told its fault, mended, saved, and planned."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, TimeoutError, expect

from scheduler.intake import read_scenario
from tests.browser import test_dashboard
from tests.browser.test_dashboard import ROOT, SCENARIO, Watched, accessible

pytestmark = pytest.mark.browser

browser = test_dashboard.browser
address = test_dashboard.address

A_KEY_MS = 80
"""Between two keys: a table opens its cell at the first of them."""
KG = re.compile("^kg: as picked")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(ROOT / "scenarios" / SCENARIO, tmp_path / "week"))


def begin(watched: Watched, address: str, folder: Path, file: str) -> Page:
    """Open a folder's page "Scenario" and a file of it to be changed."""
    page = watched.open(address, str(folder))
    watched.go("Scenario")
    page.get_by_text("Change it", exact=True).click()
    expect(page.locator("h2").first).to_have_text("Change the scenario")
    choose(page, file)
    return page


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_cannot_be_pressed_yet_can_be_read(
    browser: Browser, address: str, folder: Path, scheme: str
) -> None:
    watched = Watched(browser, 1280, scheme)
    page = begin(watched, address, folder, "orders.csv")
    inks = [
        page.get_by_role("button", name=name, exact=True).evaluate(
            "button => getComputedStyle(button.querySelector('p')).color"
        )
        for name in ("Save", "Undo")
    ]
    assert inks[0] == inks[1], "Save is written in the ink of a button that can be pressed"
    page.get_by_role("radio", name="Change it").hover()
    watched.settled()
    accessible(page, "the chosen way under the pointer")
    sound(watched)


def choose(page: Page, file: str) -> None:
    box = page.get_by_role("combobox", name="File")
    box.fill(file)
    page.get_by_role("option", name=file).first.click()
    expect(page.get_by_role("combobox", name="File")).to_have_value(re.compile(file))


def sound(watched: Watched) -> None:
    """Nothing failed, nothing was cut off at the side."""
    page = watched.page
    assert page.get_by_test_id("stException").count() == 0
    assert page.get_by_test_id("stMain").evaluate("box => box.scrollWidth - box.clientWidth") <= 0
    assert watched.faults == []
    watched.context.close()


def type_until(page: Page, date_of_row: tuple[float, float], text: str, said: Locator) -> None:
    """Type into the fourth cell of a row until the page answers: the table, a drawing, loses keys that come
    while it is busy, as it would those of somebody who types blindly."""
    for _ in range(10):
        page.mouse.click(*date_of_row)
        for _ in range(3):
            page.keyboard.press("ArrowRight")
        page.keyboard.type(text, delay=A_KEY_MS)
        page.keyboard.press("Enter")
        try:
            said.wait_for(timeout=15_000)
        except TimeoutError:
            continue
        return
    expect(said).to_be_visible()


def test_a_cell_is_typed_mended_and_saved_and_the_plan_follows(
    browser: Browser, address: str, folder: Path
) -> None:
    watched = Watched(browser, 1280, "light")
    page = begin(watched, address, folder, "picks.csv")
    watched.settled()
    table = page.get_by_test_id("stDataFrame")
    expect(table).to_have_count(1)
    expect(table).to_be_visible()
    page.wait_for_timeout(1_000)
    corner = table.bounding_box()
    assert corner is not None
    fault = page.get_by_text("Found 'many'.").first
    type_until(page, (corner["x"] + 130, corner["y"] + 53), "many", fault)
    expect(page.get_by_role("button", name="Save", exact=True)).to_be_disabled()
    assert "many" not in (folder / "picks.csv").read_text(encoding="utf-8")

    page.get_by_text("As fields", exact=True).click()
    field = page.get_by_role("textbox", name=KG)
    expect(field).to_have_value("many")
    field.fill("3 st 4 lb")
    field.press("Enter")
    # Drawn afresh, the field stands beside what it replaces for a moment.
    expect(page.get_by_role("textbox", name=KG).first).to_have_value("20.8652")
    expect(page.get_by_text("kg: 3 st 4 lb is 20.8652 kg.")).to_be_visible()
    expect(fault).to_have_count(0)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("What was there before is kept in")).to_be_visible()
    assert read_scenario(folder).scenario.picks[0].kg == 20.9
    (kept,) = (folder / "earlier").iterdir()
    assert [path.name for path in kept.iterdir()] == ["picks.csv"]

    page.get_by_role("button", name="Plan", exact=True).click()
    expect(page.get_by_role("button", name="Plan again")).to_be_visible()
    watched.go("Overview")
    expect(page.locator(".js-plotly-plot .main-svg").first).to_be_visible()
    sound(watched)


def test_on_a_phone_a_step_back_is_taken_and_what_others_did_is_not_lost(
    browser: Browser, address: str, folder: Path
) -> None:
    watched = Watched(browser, 390, "light")
    page = begin(watched, address, folder, "orders.csv")
    page.get_by_text("As fields", exact=True).click()
    jars = page.get_by_role("textbox", name=re.compile("^jars: how many"))
    expect(jars).to_have_value("40")
    jars.fill("44")
    jars.press("Enter")
    expect(page.get_by_text("Changed, and not saved yet: orders.csv.")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("Nothing is changed.")).to_be_visible()
    expect(jars.first).to_have_value("40")
    page.get_by_role("button", name="Redo").click()
    expect(page.get_by_text("Changed, and not saved yet: orders.csv.")).to_be_visible()
    expect(jars.first).to_have_value("44")

    theirs = (folder / "orders.csv").read_text(encoding="utf-8").replace("3.80", "3.90")
    (folder / "orders.csv").write_text(theirs, encoding="utf-8")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("Changed elsewhere since they were read: orders.csv.")).to_be_visible()
    page.get_by_role("button", name="Read anew").click()
    expect(page.get_by_role("button", name="Read anew")).to_have_count(0)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("What was there before is kept in")).to_be_visible()
    assert read_scenario(folder).scenario.orders[0].jars == 44
    (kept,) = (folder / "earlier").iterdir()
    assert (kept / "orders.csv").read_text(encoding="utf-8") == theirs
    sound(watched)


def test_ten_answers_and_a_workbook(browser: Browser, address: str, tmp_path: Path) -> None:
    new = tmp_path / "first"
    watched = Watched(browser, 1280, "light")
    page = watched.open(address, str(new))
    watched.go("Scenario")
    page.get_by_role("textbox", name="What is the farm called?").fill("Kilbrack")
    page.get_by_role("button", name="Make a first scenario").click()
    expect(page.get_by_text("A first scenario stands below.")).to_be_visible()
    assert not new.exists()
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("button", name="Plan", exact=True)).to_be_visible()
    assert read_scenario(new).scenario.farm == "Kilbrack"

    page.get_by_text("Change it", exact=True).click()
    page.get_by_text("As a workbook for a spreadsheet").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Download the workbook").click()
    assert download.value.suggested_filename == "first.xlsx"
    book = tmp_path / "first.xlsx"
    download.value.save_as(book)
    page.get_by_test_id("stFileUploader").locator("input").set_input_files(book)
    expect(page.get_by_text("It says what the files say already.")).to_be_visible()
    sound(watched)
