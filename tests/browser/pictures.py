"""Pictures of the main pages for the README: ``python -m tests.browser.pictures``.

Plans the glut week, opens the dashboard on it, and writes a picture of each page named here.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from scheduler.intake import read_scenario
from scheduler.planner import Settings, make_plan
from scheduler.views.files import write_plan
from tests.browser.served import CHROMIUM, FLAGS, ROOT, served

SCENARIO = "glut-week"
PICTURES = Path(__file__).parent / "pictures"
WIDE, PHONE = (1180, 820), (390, 820)
PAGES = (
    ("Cook calendar", "calendar", WIDE),
    ("Freezer", "freezer", WIDE),
    ("This morning", "morning", PHONE),
)
"""Title in the sidebar, name of the picture, width and height."""


def main() -> None:
    """Write the pictures anew."""
    PICTURES.mkdir(exist_ok=True)
    situation = read_scenario(ROOT / "scenarios" / SCENARIO)
    plan = make_plan(situation, Settings(seconds=30))
    with tempfile.TemporaryDirectory() as place:
        write_plan(plan, situation, Path(place, "plans", situation.input_hash))
        with served(Path(place)) as address, sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            for title, name, size in PAGES:
                page = browser.new_page(viewport={"width": size[0], "height": size[1]}, color_scheme="light")
                _take(page, address, title, PICTURES / f"{name}.png")
                page.close()
            browser.close()


def _take(page: Page, address: str, title: str, path: Path) -> None:
    page.goto(f"{address}/?scenario={SCENARIO}")
    page.locator("h2").first.wait_for()
    opener = page.get_by_test_id("stExpandSidebarButton")
    if opener.is_visible():
        opener.click()
    page.get_by_test_id("stSidebarNavLink").filter(has_text=title).click()
    closer = page.get_by_test_id("stSidebarCollapseButton").get_by_role("button")
    if closer.is_visible():
        closer.click()
    # Charts are drawn after the page has come; there is nothing on the page that says when all are.
    page.wait_for_timeout(5000)
    page.screenshot(path=path)


if __name__ == "__main__":
    main()
