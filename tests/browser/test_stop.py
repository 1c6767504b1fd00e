"""Stop in the real dashboard: the plan so far stands there with bounds and gaps, the planner is gone."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from scheduler.auditor import audit
from scheduler.domain.scenario import Scenario
from scheduler.intake import read_scenario
from scheduler.plan_rows import Plan
from scheduler.views import words
from scheduler.views.dashboard import runs
from scheduler.views.tables import goal_words
from tests.browser import test_dashboard
from tests.browser.test_dashboard import PATIENCE, ROOT, Watched

pytestmark = pytest.mark.browser

browser = test_dashboard.browser
address = test_dashboard.address

GLUT = "glut-week"


def planners(run: Path) -> list[str]:
    """Ids of the processes at work on a run folder; one that has ended has no command line any more."""
    found = []
    for process in Path("/proc").iterdir():
        try:
            if str(run).encode() in (process / "cmdline").read_bytes().split(b"\0"):
                found.append(process.name)
        except OSError:  # not a process, or ended just now
            continue
    return found


def until(wanted: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + PATIENCE / 1000
    while not wanted():
        assert time.monotonic() < end, f"waited too long for {what}"
        time.sleep(0.1)


def goals_stand_there(page: Page, plan: Plan, scenario: Scenario) -> None:
    """Every goal with its value and gap in the chart, and its bound where the pointer rests on it."""
    chart = page.locator(".js-plotly-plot").first
    told = []
    for goal in plan.goals:
        value = words.goal_amount(goal.value, goal.unit, scenario)
        gap = f"gap {words.percent(goal.gap)}" if goal.gap > 0 else "proved best"
        told += [f"{goal_words(goal.name, scenario)} {value}", gap]
    expect(chart.locator(".annotation-text")).to_have_text(told)
    dots = chart.locator(".scatterlayer .point")
    expect(dots).to_have_count(3 * len(plan.goals))
    chart.scroll_into_view_if_needed()
    for row, goal in enumerate(plan.goals):
        place = dots.nth(3 * row + 2).bounding_box()
        assert place is not None
        page.mouse.move(place["x"] + place["width"] / 2, place["y"] + place["height"] / 2)
        bound = words.goal_amount(goal.bound, goal.unit, scenario)
        expect(chart.locator(".hoverlayer")).to_contain_text(
            f"never below {bound}gap {words.percent(goal.gap)}"
        )


def test_stop_shows_the_plan_so_far_and_ends_the_planner(
    browser: Browser, address: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    situation = read_scenario(ROOT / "scenarios" / GLUT)
    watched = Watched(browser, 1280, "light")
    page = watched.open(address, GLUT)
    watched.go("Overview")
    page.get_by_role("button", name="Plan", exact=True).click()
    stop = page.get_by_role("button", name="Stop and keep the best")
    expect(page.get_by_text(re.compile("best so far")).first).to_be_visible()
    (run,) = tmp_path_factory.getbasetemp().glob(f"dashboard[0-9]*/plans/{situation.input_hash}/run")
    assert len(planners(run)) == 1
    stop.click()

    expect(page.get_by_role("button", name="Plan again")).to_be_visible()
    until(lambda: not planners(run), "the planner to end")
    plan = runs.last_plan(run.parents[1], situation.input_hash)
    assert plan is not None
    assert audit(situation, plan) == ()
    # The whole search proves the last goal: it was stopped if that stands unproved.
    assert plan.status == "feasible"
    assert plan.goals[-1].gap > 0
    expect(page.get_by_text("The best found, not proved").first).to_be_visible()
    goals_stand_there(page, plan, situation.scenario)
    assert page.get_by_test_id("stException").count() == 0
    assert watched.faults == []
    watched.context.close()
