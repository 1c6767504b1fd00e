"""A person's page on a phone without script, and its owner: a day called off leaves the shifts."""

from __future__ import annotations

import re
import shutil
from datetime import date, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from scheduler.intake import read_scenario
from tests.browser import test_dashboard
from tests.browser.served import newest
from tests.browser.test_dashboard import ROOT, SCENARIO, Watched
from tests.commands import maslin, planned

pytestmark = pytest.mark.browser

browser = test_dashboard.browser
address = test_dashboard.address


@pytest.fixture(scope="module")
def coming_week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The quiet week, moved by whole weeks so that it is to come: days gone by cannot be called off."""
    folder = Path(shutil.copytree(ROOT / "scenarios" / SCENARIO, tmp_path_factory.mktemp("farm") / "week"))
    start = read_scenario(folder).scenario.start
    weeks = (date.today() - start).days // 7 + 2

    def moved(found: re.Match[str]) -> str:
        return (date.fromisoformat(found[0]) + timedelta(weeks=weeks)).isoformat()

    for file in folder.iterdir():
        text = file.read_text(encoding="utf-8")
        file.write_text(re.sub(r"\b20\d\d-\d\d-\d\d\b", moved, text), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def page_of_aoife(address: str, coming_week: Path, tmp_path_factory: pytest.TempPathFactory) -> str:
    """Her page, once the week is planned and published into the store of that dashboard."""
    store = newest(tmp_path_factory.getbasetemp())
    planned(store, coming_week)
    assert maslin(store, "publish", str(coming_week), "plan").returncode == 0
    linked = maslin(store, "link", str(coming_week), "Aoife", "--page", MASLIN_ADDRESS=address)
    return linked.stdout.strip()


def test_a_day_is_called_off_on_a_phone_accepted_and_gone_from_the_shifts(
    browser: Browser, address: str, coming_week: Path, page_of_aoife: str
) -> None:
    phone = browser.new_context(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    page = phone.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(page_of_aoife)
    expect(page.get_by_role("heading", level=1)).to_have_text("Aoife")
    expect(page.get_by_text("In the kitchen from").first).to_be_visible()
    body = page.locator("body").bounding_box()
    assert body is not None
    assert body["width"] <= 360
    for button in page.get_by_role("button").all():
        box = button.bounding_box()
        assert box is not None
        assert box["x"] + box["width"] <= 360
        assert box["height"] >= 24  # WCAG 2.2, 2.5.8: the least size of a target

    page.get_by_role("button", name="I know this plan").click()
    expect(page.get_by_text("You have said that you know this plan.")).to_be_visible()
    days = page.get_by_role("combobox", name="Day")
    value = days.locator("option").nth(1).get_attribute("value")
    assert value is not None
    days.select_option(value)
    page.get_by_role("button", name="I can’t come").click()
    expect(page.get_by_text("not answered yet")).to_be_visible()
    assert page.url == page_of_aoife
    assert set(asked) == {page_of_aoife}  # the page fetches nothing else

    def in_that_day() -> list[str]:
        shifts = read_scenario(coming_week).scenario.shifts
        return [shift.person for shift in shifts if shift.day.isoformat() == value]

    before = in_that_day()
    assert "Aoife" in before
    owner = Watched(browser, 1280, "light")
    desk = owner.open(address, str(coming_week))
    owner.go("Who does what")
    expect(desk.get_by_text("knows the plan")).to_be_visible()
    desk.get_by_role("button", name="Accept").click()
    expect(desk.get_by_text("Accepted: Aoife cannot come on")).to_be_visible()
    assert in_that_day() == [name for name in before if name != "Aoife"]
    (kept,) = (coming_week / "earlier").iterdir()
    assert value in (kept / "shifts.csv").read_text(encoding="utf-8")
    assert desk.get_by_test_id("stException").count() == 0
    assert owner.faults == []
    owner.context.close()

    page.reload()
    expect(page.get_by_text("accepted", exact=True)).to_be_visible()
    phone.close()


def test_the_secret_is_in_no_log(page_of_aoife: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    log = newest(tmp_path_factory.getbasetemp()) / "log.txt"
    written = log.read_text(encoding="utf-8")
    assert written
    assert page_of_aoife.rpartition("/")[2] not in written
    assert "/mine" not in written
