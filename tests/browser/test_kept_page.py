"""A person's page in a real browser with no connection: read as it was, and saying so; else the newest."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response
from starlette.routing import Mount
from starlette.types import Receive, Scope, Send

from scheduler.feeds.publishing import publish
from scheduler.feeds.store import Store
from scheduler.people_pages.routes import routes
from tests.browser import test_dashboard
from tests.serving import served
from tests.unit.feeds.entries import AOIFE, LATER, NOW
from tests.unit.people_pages.serving import MORNING
from tests.unit.views import kilbrack_sample as sample

pytestmark = pytest.mark.browser

browser = test_dashboard.browser

BANNER = "Read without a connection, as it was on Mon 6 Jul, 06:00."


@dataclass
class Farm:
    """The farm's server behind a gateway: ``status`` is what the gateway answers in its place, and while
    ``open`` is not set the server thinks."""

    store: Store
    address: str = ""
    status: int = 0
    open: threading.Event = field(default_factory=threading.Event)

    def through(self, app: Starlette) -> object:
        async def gateway(scope: Scope, receive: Receive, send: Send) -> None:
            await run_in_threadpool(self.open.wait, 60)
            answer = Response(status_code=self.status) if self.status else app
            await answer(scope, receive, send)

        return gateway


@pytest.fixture
def farm(tmp_path: Path) -> Iterator[Farm]:
    store = Store(tmp_path, "kilbrack")
    publish(sample.plan(), sample.situation(), store, NOW)
    farm = Farm(store)
    farm.open.set()
    pages = Starlette(routes=routes(tmp_path, lambda: MORNING))
    with served([Mount("/", app=farm.through(pages))]) as port:  # type: ignore[arg-type]
        farm.address = f"http://127.0.0.1:{port}/mine/{store.renew(AOIFE)}"
        yield farm
        farm.open.set()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 360, "height": 740})
    yield context
    context.close()


def kept(phone: BrowserContext, farm: Farm) -> Page:
    """The page, opened once and kept by now."""
    page = phone.new_page()
    page.goto(farm.address)
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    return page


def read_without(page: Page) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text("Aoife")
    expect(page.get_by_text(BANNER)).to_be_visible()
    expect(page.get_by_text("Ask whether it still holds.")).to_be_visible()
    expect(page.get_by_text("Cook: S strawberry jam").first).to_be_visible()
    # Whoever reads it tomorrow must not take it for tomorrow's plan.
    expect(page.get_by_role("heading", name="Mon 6 Jul", exact=True)).to_be_visible()
    expect(page.get_by_text("you need a connection")).to_have_count(4)
    for said in page.get_by_text("you need a connection").all():
        expect(said).to_be_visible()
    expect(page.get_by_role("button")).to_have_count(0)


def read_fresh(page: Page) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text("Aoife")
    expect(page.get_by_text(BANNER)).to_be_hidden()
    expect(page.get_by_role("heading", name="Today, Mon 6 Jul")).to_be_visible()
    expect(page.get_by_role("button", name="I know this plan")).to_be_visible()


def later(farm: Farm) -> None:
    """A new plan is published: everybody begins five minutes later."""
    plan = sample.plan()
    moved = replace(plan, shifts=tuple(replace(shift, start=shift.start + 5) for shift in plan.shifts))
    publish(moved, sample.situation(), farm.store, LATER)


def test_with_no_connection_the_plan_is_read_as_it_was_and_says_so(phone: BrowserContext, farm: Farm) -> None:
    page = kept(phone, farm)
    faults: list[str] = []
    page.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.reload()
    read_fresh(page)
    assert faults == []
    phone.set_offline(True)
    page.reload()
    read_without(page)
    assert faults == []
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    expect(page.get_by_text(BANNER)).to_be_in_viewport()  # wherever one reads
    body = page.locator("body").bounding_box()
    assert body is not None
    assert body["width"] <= 360


def test_a_changed_plan_is_shown_and_kept_once_there_is_a_connection(
    phone: BrowserContext, farm: Farm
) -> None:
    page = kept(phone, farm)
    phone.set_offline(True)
    later(farm)
    page.reload()
    read_without(page)
    expect(page.get_by_text("08:05 to 16:00").first).to_be_hidden()
    phone.set_offline(False)
    page.reload()
    read_fresh(page)
    expect(page.get_by_text("08:05 to 16:00").first).to_be_visible()
    phone.set_offline(True)
    page.reload()
    read_without(page)
    expect(page.get_by_text("08:05 to 16:00").first).to_be_visible()


def test_a_gateway_that_reaches_no_farm_and_one_that_waits_are_no_connection(
    phone: BrowserContext, farm: Farm
) -> None:
    page = kept(phone, farm)
    farm.status = 502
    page.reload()
    read_without(page)
    farm.status = 0
    farm.open.clear()
    page.reload()
    read_without(page)
    farm.open.set()
    page.reload()
    read_fresh(page)


def test_a_page_withdrawn_is_forgotten(phone: BrowserContext, farm: Farm) -> None:
    page = kept(phone, farm)
    farm.store.withdraw(AOIFE)
    got = page.reload()
    assert got is not None
    assert got.status == 404
    assert page.evaluate("caches.keys()") == []
    phone.set_offline(True)
    with pytest.raises(Error, match="ERR_INTERNET_DISCONNECTED"):
        page.reload()


def test_only_the_persons_own_page_is_kept(phone: BrowserContext, farm: Farm) -> None:
    page = kept(phone, farm)
    assert page.evaluate("navigator.serviceWorker.ready.then(it => it.scope)") == farm.address
    assert page.evaluate("caches.keys()") == [farm.address]
    phone.set_offline(True)
    other = phone.new_page()
    with pytest.raises(Error, match="ERR_INTERNET_DISCONNECTED"):
        other.goto(farm.address.rpartition("/")[0] + "/keep.js")


def test_answers_are_sent_as_without_the_worker_and_their_page_is_kept(
    phone: BrowserContext, farm: Farm
) -> None:
    page = kept(phone, farm)
    page.get_by_role("button", name="I know this plan").click()
    expect(page.get_by_text("You have said that you know this plan.")).to_be_visible()
    assert page.url == farm.address
    phone.set_offline(True)
    page.reload()
    expect(page.get_by_text(BANNER)).to_be_visible()
    expect(page.get_by_text("You have said that you know this plan.")).to_be_visible()
    phone.set_offline(False)
    page.reload()
    page.get_by_label("Calendar file").set_input_files(
        {
            "name": "mine.ics",
            "mimeType": "text/calendar",
            "buffer": b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\n"
            b"DTSTART;VALUE=DATE:20260709\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n",
        }
    )
    page.get_by_role("button", name="Send the times").click()
    expect(page.get_by_text("You cannot come on Thu 9 Jul (from a calendar file)")).to_be_visible()
