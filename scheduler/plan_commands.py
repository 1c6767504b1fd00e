"""Commands that share a plan that was made: ``maslin publish``, ``link``, ``print``."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from scheduler.errors import PlanRejected
from scheduler.law.acts import HERE
from scheduler.terminal import Folder, aside, known, screen

if TYPE_CHECKING:
    from scheduler.domain.scenario import Situation
    from scheduler.feeds import Store
    from scheduler.feeds.dav_settings import DavServer
    from scheduler.plan_rows import Plan

HERE_SERVED = "http://localhost:8501"
"""Where ``streamlit run app.py`` serves, if it is not told otherwise."""


def publish(
    scenario: Folder,
    plan: Annotated[Path, typer.Argument(help="Folder that the plan was written to with --out.")],
    out: Annotated[Path | None, typer.Option(help="Folder for the calendars as files, by name.")] = None,
    web: Annotated[
        Path | None, typer.Option(help="Folder to copy to a web host: files named by secret address.")
    ] = None,
    caldav: Annotated[
        bool, typer.Option("--caldav", help="Send what differs to a calendar server; the README says how.")
    ] = False,
) -> None:
    """Put a plan into the calendars of its kitchen: everybody's, the kitchen's, orders and deliveries."""
    from scheduler import feeds
    from scheduler.feeds.dav_settings import dav_server
    from scheduler.feeds.files import write_hosted, write_named
    from scheduler.feeds.publishing import known_feeds
    from scheduler.views.files import plans_home

    situation, made = _sound(scenario, plan)
    store = feeds.Store(plans_home(), situation.scenario.kitchen_id)
    server = dav_server() if caldav else None
    if server:  # settings that cannot be are told before anything is published
        server.chosen(known_feeds(situation.scenario, store.published(), store.linked()))
    changes = feeds.publish(made, situation, store, datetime.now(UTC))
    screen.print(f"{changes}", markup=False, highlight=False)
    if out is not None:
        screen.print(f"Calendars written to {out}: {len(write_named(store, out))}")
    if web is not None:
        screen.print(f"Calendars with an address written to {web}: {write_hosted(store, web)}")
    if server:
        _send(server, situation, store)


def _send(settings: DavServer, situation: Situation, store: Store) -> None:
    """Send what is published to a calendar server; ends with exit code 1 if any of it could not be sent."""
    from scheduler.feeds.dav import Server
    from scheduler.feeds.publishing import known_feeds
    from scheduler.feeds.sending import send

    published = store.published()
    chosen = settings.chosen(known_feeds(situation.scenario, published, store.linked()))
    outcomes = send(chosen, published, store, Server(settings))
    for outcome in outcomes:
        shown = screen if outcome.well else aside
        shown.print("\n".join(outcome.lines()), markup=False, highlight=False)
    if not all(outcome.well for outcome in outcomes):
        raise typer.Exit(1)


def link(
    scenario: Folder,
    who: Annotated[str, typer.Argument(help="A person, “the kitchen”, or “orders and deliveries”.")],
    renew: Annotated[
        bool, typer.Option("--renew", help="Give a new address; the old one stops working.")
    ] = False,
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Take the address away.")] = False,
    page: Annotated[
        bool,
        typer.Option("--page", help="Show the address of the person's page instead, of the same secret."),
    ] = False,
) -> None:
    """Show the secret address of a calendar, or of a person's page, making it if there is none."""
    from scheduler.feeds import Store
    from scheduler.feeds.entry import is_person, title
    from scheduler.feeds.publishing import known_feeds
    from scheduler.feeds.routes import address, server_at
    from scheduler.intake import read_scenario
    from scheduler.people_pages.routes import page_address
    from scheduler.views.files import plans_home

    if renew and withdraw:
        raise typer.BadParameter("found both; allowed: one of them", param_hint="--renew, --withdraw")
    base = server_at(os.environ.get("MASLIN_ADDRESS", HERE_SERVED))
    farm = read_scenario(scenario).scenario
    store = Store(plans_home(), farm.kitchen_id)
    published = store.published()
    feed_of = {title(feed): feed for feed in known_feeds(farm, published, store.linked())}
    who = known(who, [name for name, feed in feed_of.items() if is_person(feed) or not page], "WHO")
    if withdraw:
        store.withdraw(feed_of[who])
        screen.print(f"The calendar of {who} has no address now.", markup=False, highlight=False)
        return
    secret = None if renew else store.link(feed_of[who])
    # Not through rich, which would break the line.
    print((page_address if page else address)(base, secret or store.renew(feed_of[who])))
    if feed_of[who] not in published.calendars:
        aside.print("It is not published yet: maslin publish SCENARIO PLAN", style="yellow")


def print_(
    what: Annotated[
        str,
        typer.Argument(help="calendar, batches, picks, thaw, purchases, labels, or all: all but the labels."),
    ],
    scenario: Folder,
    plan: Annotated[Path, typer.Argument(help="Folder that the plan was written to with --out.")],
    out: Annotated[Path, typer.Option(help="The PDF to write.")],
    size: Annotated[str, typer.Option(help="Paper of the calendar: a4 or a3.")] = "a4",
    of: Annotated[
        str | None, typer.Option(help="Lot mark of the only batch wanted, as on its sheet.")
    ] = None,
    labels: Annotated[str, typer.Option(help="Label sheets, columns by rows: 2x7, 2x4 or 3x8.")] = "2x7",
    where: Annotated[str, typer.Option(help="Where the jars are sold, for the labels.")] = HERE,
) -> None:
    """Put a plan on paper, as a PDF: to hang up, to work from, to stick on jars."""
    from scheduler.paper import GRIDS, WHATS, Wish, print_pdf, write_pdf
    from scheduler.sheet import jurisdictions

    what = known(what, WHATS, "WHAT")
    size = known(size, ("a4", "a3"), "--size")
    labels = known(labels, list(GRIDS), "--labels")
    situation, made = _sound(scenario, plan)
    farm = situation.scenario
    where = known(where, jurisdictions(farm), "--where")
    square = _kitchen_square(farm.kitchen_id)
    write_pdf(out, print_pdf(what, made, farm, Wish(size, of, labels, where, square)))
    screen.print(f"Written to {out}", markup=False, highlight=False)
    if square and what in ("calendar", "all"):
        aside.print("It shows the secret address of the kitchen's calendar, as a square.", style="yellow")


def _kitchen_square(kitchen_id: str) -> str:
    """The address of the kitchen's calendar for a phone's camera; empty where there is none to reach."""
    from scheduler.feeds import Store
    from scheduler.feeds.entry import KITCHEN
    from scheduler.feeds.routes import address, reaches_phones, to_subscribe
    from scheduler.views.files import plans_home

    base = os.environ.get("MASLIN_ADDRESS")
    secret = Store(plans_home(), kitchen_id).link(KITCHEN) if base else None
    if not base or not secret:
        return ""
    found = address(base, secret)
    return to_subscribe(found) if reaches_phones(found) else ""


def _sound(scenario: Path, plan: Path) -> tuple[Situation, Plan]:
    """A scenario and the plan made of it, audited once more."""
    from scheduler.auditor import audit
    from scheduler.intake import read_scenario
    from scheduler.keep import plan_in

    situation = read_scenario(scenario)
    made = plan_in(plan, situation)
    if findings := audit(situation, made):
        raise PlanRejected([str(finding) for finding in findings])
    return situation, made
