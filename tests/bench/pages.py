"""How quick the dashboard is in Chromium on this machine: ``python -m tests.bench.pages [--repeats N]``.

Prints the median and longest of: the first page once the server is up, a change of page, the echo of an edit,
a week of the calendar of about 200 batches; and what the server's memory grows by over many new plans
(``--plans``, 0 to leave them out).
"""

from __future__ import annotations

import shutil
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median

import typer
from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright

from scheduler.bench.farms import Farm, Size
from scheduler.intake import read_scenario
from scheduler.plan_json import to_json
from scheduler.planner import Settings, make_plan
from tests.browser.served import CHROMIUM, FLAGS, ROOT, served
from tests.browser.test_dashboard import Watched
from tests.commands import FARM

WEEK = ROOT / "scenarios" / "quiet-week"
MANY = Farm("M", 2.5, 0, own=Size(days=14, picking=14, fruits=5, pans=6, people=6))
"""A fortnight on six pans: about 200 batches, half of them in the week that the calendar shows at most."""
LONGEST = 120
"""Seconds that a plan of the small farm may take."""
CHANGES = ("Cook calendar", "Freezer", "Fruit", "Orders and store", "Who does what", "Overview")


def planned(folder: Path, home: Path) -> tuple[Path, int]:
    """Keep the plan by habit of a folder where the dashboard finds it; its file, and how many batches."""
    situation = read_scenario(folder)
    plan = make_plan(situation, Settings(method="habit", seconds=600.0))
    kept = home / "plans" / situation.input_hash
    kept.mkdir(parents=True)
    (kept / "plan.json").write_text(to_json(plan), encoding="utf-8")
    return kept / "plan.json", len(plan.batches)


def seconds(until: Locator, act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    expect(until).to_be_visible()
    return time.perf_counter() - began


def tell(what: str, measured: list[float]) -> None:
    print(
        f"{what}: median {median(measured):.2f} s, longest {max(measured):.2f} s of {len(measured)}",
        flush=True,
    )


def first_page(browser: Browser, url: str, folder: Path) -> float:
    watched = Watched(browser, 1280, "light")
    cards = watched.page.get_by_text("people in", exact=True)
    took = seconds(cards.first, lambda: watched.page.goto(f"{url}/?scenario={folder}"))
    watched.context.close()
    return took


def changes(page: Page) -> list[float]:
    """From a click in the sidebar until the other page's heading stands there."""
    found = []
    for title in CHANGES:
        heading = "What happens to each fruit" if title == "Fruit" else title
        heading = "Kilbrack" if title == "Overview" else heading
        link = page.get_by_test_id("stSidebarNavLink").filter(has_text=title)
        found.append(seconds(page.locator("h2", has_text=heading).first, link.click))
        page.wait_for_timeout(1_500)
    return found


def echoes(watched: Watched, repeats: int) -> list[float]:
    """From leaving a field until the page says what is changed."""
    page = watched.page
    watched.go("Scenario")
    page.get_by_text("Change it", exact=True).click()
    box = page.get_by_role("combobox", name="File")
    box.fill("orders.csv")
    page.get_by_role("option", name="orders.csv").first.click()
    page.get_by_text("As fields", exact=True).click()
    found = []
    for n in range(repeats):
        field = page.get_by_role("textbox", name="jars: how many").first
        watched.settled()
        field.fill(str(41 + n))
        said = page.get_by_text("Changed, and not saved yet: orders.csv.")
        found.append(seconds(said, partial(field.press, "Enter")))
        watched.settled()
        page.get_by_role("button", name="Undo").click()
        expect(page.get_by_text("Nothing is changed.")).to_be_visible()
    return found


def calendar(browser: Browser, url: str, folder: Path) -> float:
    """From choosing the calendar until its last bar is drawn."""
    watched = Watched(browser, 1280, "light")
    page = watched.open(url, str(folder))
    watched.settled()
    bars = page.locator(".barlayer .point path")
    watched.go("Cook calendar")
    expect(bars.first).to_be_attached()
    took = seconds(
        page.get_by_text("above each batch", exact=False).first, page.get_by_text("A week", exact=True).click
    )
    began = time.perf_counter()
    expect(bars.nth(99)).to_be_attached()
    took += time.perf_counter() - began
    watched.context.close()
    return took


def memory() -> int:
    """kB of the dashboard's process, the youngest Streamlit there is."""
    found = [
        path.parent
        for path in Path("/proc").glob("[0-9]*/cmdline")
        if b"streamlit\0run\0app.py" in path.read_bytes()
    ]
    status = (max(found, key=lambda path: int(path.name)) / "status").read_text(encoding="utf-8")
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith("VmRSS")))


def grows(watched: Watched, plans: int, kept: Path) -> tuple[int, int]:
    """kB after the first few plans made anew, and after all of them; ``kept`` is the plan's file."""
    page = watched.page
    again = page.get_by_role("button", name="Plan again", exact=True)
    early = 0
    for n in range(plans):
        before, began = kept.stat().st_mtime_ns, time.monotonic()
        again.click()
        # A small farm may be planned before the browser has shown that it is.
        while kept.stat().st_mtime_ns == before:
            if time.monotonic() - began > LONGEST:
                raise TimeoutError(f"no plan {n + 1} after {LONGEST} s")
            page.wait_for_timeout(100)
        expect(again).to_be_visible()
        watched.settled()
        early = memory() if n == min(9, plans - 1) else early
    return early, memory()


def main(repeats: int = 7, plans: int = 100) -> None:
    """Measure everything once."""
    with tempfile.TemporaryDirectory() as place:
        home, week = Path(place), Path(shutil.copytree(WEEK, Path(place) / "week"))
        small = Path(shutil.copytree(FARM, Path(place) / "small"))
        many = Path(place) / "fortnight"
        many.mkdir()
        for name, text in MANY.texts().items():
            (many / name).write_text(text, encoding="utf-8")
        planned(week, home)
        kept, _ = planned(small, home)
        _, batches = planned(many, home)
        with served(home) as url, sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            tell("First page", [first_page(browser, url, week) for _ in range(repeats)])
            watched = Watched(browser, 1280, "light")
            page = watched.open(url, str(week))
            page.wait_for_timeout(2_000)
            tell("Change of page", [each for _ in range(repeats) for each in changes(page)])
            tell("Echo of an edit", echoes(watched, repeats))
            tell(f"A week of {batches} batches", [calendar(browser, url, many) for _ in range(repeats)])
            if plans:
                page.goto(f"{url}/?scenario={small}")
                early, late = grows(watched, plans, kept)
                few = min(10, plans)
                print(f"Memory: {early / 1024:.0f} MB after {few} plans, {late / 1024:.0f} MB after {plans}")
            browser.close()


if __name__ == "__main__":
    typer.run(main)
