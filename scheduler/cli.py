"""The command line: ``maslin check``, ``plan``, ``curve``, ``recipe``, ``publish``, ``link``,
``messages``, ``print``, ``bench``; and those that make scenario folders.

A command imports the rooms it needs when it is called: all of them together take ten times as long as typer,
and nobody who asks for help or mistypes a name should wait for a solver.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer
from rich.console import Console
from rich.progress import Progress as Bar
from rich.progress import SpinnerColumn, TextColumn, TimeElapsedColumn

from scheduler import message_commands, scenario_commands
from scheduler.errors import MaslinError, PlanRejected
from scheduler.law.acts import HERE

if TYPE_CHECKING:
    from scheduler.domain.scenario import Situation
    from scheduler.feeds import Store
    from scheduler.feeds.dav_settings import DavServer
    from scheduler.plan_rows import Plan
    from scheduler.solve.kept import Kept
    from scheduler.solve.settings import Progress

app = typer.Typer(
    help="Plan what a soft-fruit farm sells, cooks, freezes or gives up, and when each batch is cooked.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
Folder = Annotated[Path, typer.Argument(help="A scenario folder, described in scenarios/README.md.")]
HERE_SERVED = "http://localhost:8501"
"""Where ``streamlit run app.py`` serves, if it is not told otherwise."""
screen = Console()
aside = Console(stderr=True)


@app.command()
def check(scenario: Folder) -> None:
    """Read a scenario, name every fault in it, and say what to take care of."""
    from scheduler.finished import warnings_of
    from scheduler.intake import read_scenario
    from scheduler.intake.check_days import idle_shifts
    from scheduler.intake.check_freezers import still_to_leave

    situation = read_scenario(scenario)
    farm = situation.scenario
    screen.print(
        f"{farm.name} reads well: {farm.days} days from {farm.start.isoformat()}, {len(farm.fruits)} fruits, "
        f"{len(farm.recipes)} recipes, {len(farm.people)} people, {len(farm.orders)} orders."
    )
    for warning in (*warnings_of(farm), *idle_shifts(farm), *still_to_leave(farm)):
        screen.print(warning, style="yellow", markup=False, highlight=False)


@app.command()
def plan(
    scenario: Folder,
    out: Annotated[Path | None, typer.Option(help="Folder for plan.json and the CSV files.")] = None,
    seconds: Annotated[float, typer.Option(min=1, max=86_400, help="Wall time for the plan.")] = 60,
    workers: Annotated[int, typer.Option(min=1, max=64, help="Cores to use; with 1 a seed repeats.")] = 2,
    seed: Annotated[int, typer.Option(min=0, max=2_000_000_000)] = 0,
    method: Annotated[
        str, typer.Option(help="exact, or habit: oldest fruit and biggest pan first.")
    ] = "exact",
    slack: Annotated[
        list[str] | None,
        typer.Option(help="As in [slack] of kitchen.toml, e.g. spoiled_share=0.05; may be repeated."),
    ] = None,
    json_: Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")] = False,
    keep: Annotated[Path | None, typer.Option(help="Folder of an earlier plan, with --until.")] = None,
    until: Annotated[
        datetime | None, typer.Option(formats=["%Y-%m-%d"], help="Last day that stays as in that plan.")
    ] = None,
) -> None:
    """Plan a scenario; Ctrl-C keeps the best plan so far."""
    from scheduler.intake import read_scenario
    from scheduler.intake.slack import with_slack
    from scheduler.planner import Settings, make_plan, with_crates
    from scheduler.views.files import write_plan
    from scheduler.views.summary import as_json, summary

    situation = with_slack(read_scenario(scenario), slack or ())
    kept = _kept(situation, keep, until)
    settings = Settings(_method(method), seconds, workers, seed)
    with _stop_on_interrupt() as stopped, _bar(quiet=json_) as tell:
        made = make_plan(situation, settings, tell, lambda: stopped[0], kept)
        if out is not None:
            made = with_crates(situation, made, lambda: stopped[0])
    if out is not None:
        write_plan(made, situation, out)
    if json_:
        sys.stdout.write(json.dumps(as_json(made, situation, ()), ensure_ascii=False) + "\n")
        return
    screen.print(summary(made, situation))
    if out is not None:
        screen.print(f"Written to {out}")


@app.command()
def curve(
    scenario: Folder,
    out: Annotated[Path, typer.Option(help="Folder for curve.csv and a folder for each plan.")],
    points: Annotated[int, typer.Option(min=2, max=25, help="At most so many plans.")] = 7,
    seconds: Annotated[float, typer.Option(min=1, max=86_400, help="Wall time for all of them.")] = 300,
    workers: Annotated[int, typer.Option(min=1, max=64, help="Cores to use; with 1 a seed repeats.")] = 2,
    seed: Annotated[int, typer.Option(min=0, max=2_000_000_000)] = 0,
) -> None:
    """Plans to choose from: lost fruit against missing jars against money. Ctrl-C keeps those done so far."""
    from scheduler.curve import make_curve
    from scheduler.intake import read_scenario
    from scheduler.planner import Settings
    from scheduler.views.curve_files import in_the_way, write_curve
    from scheduler.views.summary import curve_summary

    if found := in_the_way(out, points):
        raise typer.BadParameter(f"found {found}; allowed: a folder, or none yet", param_hint="--out")
    situation = read_scenario(scenario)
    settings = Settings(seconds=seconds, workers=workers, seed=seed)
    with _stop_on_interrupt("the points") as stopped, _bar(quiet=False) as tell:
        plans = make_curve(situation, points, settings, tell, lambda: stopped[0])
    write_curve(plans, situation, out)
    screen.print(curve_summary(plans, situation))
    screen.print(f"Written to {out}")


@app.command()
def recipe(
    file: Annotated[Path, typer.Argument(help="recipes.toml in a scenario folder, or the folder.")],
    name: Annotated[str | None, typer.Option(help="One recipe, as a full batch sheet.")] = None,
    where: Annotated[str, typer.Option(help="Where the jars are sold, for the draft of the label.")] = HERE,
    json_: Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")] = False,
) -> None:
    """Show what each recipe makes in each pan: fruit, jars, minutes, cost, names and label."""
    from scheduler.intake import read_scenario
    from scheduler.making import make_cards
    from scheduler.sheet import jurisdictions, label_draft, sheet
    from scheduler.views import recipe_sheet

    situation = read_scenario(file.parent if file.name == "recipes.toml" else file)
    farm = situation.scenario
    where = _known(where, jurisdictions(farm), "--where")
    if name is not None:
        name = _known(name, [each.name for each in farm.recipes], "--name")
    chosen = farm.recipes if name is None else (farm.recipe(name),)
    cards = make_cards(situation)
    sheets = [sheet(cards, each) for each in chosen]
    drafts = [label_draft(farm, each, where) for each in chosen]
    if json_:
        shown = recipe_sheet.as_json(sheets, drafts, farm)
        sys.stdout.write(json.dumps(shown, ensure_ascii=False) + "\n")
    elif name is None:
        screen.print(recipe_sheet.short(sheets, farm))
    else:
        screen.print(recipe_sheet.full(sheets[0], drafts[0], farm))


@app.command()
def bench(
    size: Annotated[
        str | None, typer.Option(help="S, M, L or XL; without it from S up, as long as there are plans.")
    ] = None,
    seeds: Annotated[int, typer.Option(min=1, max=100, help="Farms of each size.")] = 1,
    seconds: Annotated[float, typer.Option(min=1, max=86_400, help="Wall time for each farm.")] = 60,
    workers: Annotated[int, typer.Option(min=1, max=64, help="Cores to use.")] = 2,
    json_: Annotated[bool, typer.Option("--json", help="Print one JSON list and nothing else.")] = False,
) -> None:
    """Say what size of kitchen this machine handles in a minute. Ctrl-C keeps what was measured so far."""
    from scheduler.bench import report
    from scheduler.bench.farms import SIZES
    from scheduler.bench.measure import Bench, farms
    from scheduler.planner import Settings

    if size is not None:
        size = _known(size, list(SIZES), "--size")
    settings = Settings(seconds=seconds, workers=workers)
    with _stop_on_interrupt("the farms") as stopped, _bar(quiet=json_) as tell:
        measured = Bench(settings, tell, lambda: stopped[0])
        measured.run(farms([size] if size else list(SIZES), seeds))
    if json_:
        sys.stdout.write(json.dumps(report.as_json(measured.done), ensure_ascii=False) + "\n")
        return
    screen.print(report.summary(measured.done, seconds))


@app.command()
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


@app.command()
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
    known = {title(feed): feed for feed in known_feeds(farm, published, store.linked())}
    who = _known(who, [name for name, feed in known.items() if is_person(feed) or not page], "WHO")
    if withdraw:
        store.withdraw(known[who])
        screen.print(f"The calendar of {who} has no address now.", markup=False, highlight=False)
        return
    secret = None if renew else store.link(known[who])
    # Not through rich, which would break the line.
    print((page_address if page else address)(base, secret or store.renew(known[who])))
    if known[who] not in published.calendars:
        aside.print("It is not published yet: maslin publish SCENARIO PLAN", style="yellow")


app.command()(message_commands.messages)
app.command()(scenario_commands.new)
app.command()(scenario_commands.workbook)
app.command("scenario-from")(scenario_commands.scenario_from)


@app.command("print")
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

    what = _known(what, WHATS, "WHAT")
    size = _known(size, ("a4", "a3"), "--size")
    labels = _known(labels, list(GRIDS), "--labels")
    situation, made = _sound(scenario, plan)
    farm = situation.scenario
    where = _known(where, jurisdictions(farm), "--where")
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


def _kept(situation: Situation, keep: Path | None, until: datetime | None) -> Kept | None:
    """The days kept, if any are asked for."""
    from scheduler.keep import kept_days

    if (keep is None) != (until is None):
        raise typer.BadParameter(
            "found one of the two; allowed: both or neither", param_hint="--keep, --until"
        )
    return kept_days(situation, keep, until.date()) if keep and until else None


def _known(found: str, allowed: Sequence[str], option: str) -> str:
    """The allowed word that was meant: capitals do not matter where that leaves one."""
    meant = [word for word in allowed if word.casefold() == found.casefold()]
    if found in allowed or len(meant) == 1:
        return found if found in allowed else meant[0]
    raise typer.BadParameter(f"found {found}; allowed: {', '.join(allowed)}", param_hint=option)


def _method(name: str) -> Literal["exact", "habit"]:
    if name == "exact":
        return "exact"
    if name == "habit":
        return "habit"
    raise typer.BadParameter(f"found {name}; allowed: exact, habit", param_hint="--method")


@contextmanager
def _stop_on_interrupt(kept: str = "the best plan") -> Iterator[list[bool]]:
    """Ctrl-C asks the search to stop and keep what it has; a second one ends the program."""
    stopped = [False]

    def ask(_signal: int, _frame: Any) -> None:
        if stopped[0]:
            raise KeyboardInterrupt
        stopped[0] = True
        aside.print(f"Stopping; {kept} so far {'are' if kept.endswith('s') else 'is'} kept.")

    before = signal.signal(signal.SIGINT, ask)
    try:
        yield stopped
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _bar(quiet: bool) -> Iterator[Callable[[Progress], None]]:
    """A line that shows incumbent, bound and gap while the search works."""
    columns = (SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn())
    with Bar(*columns, console=aside, transient=True, disable=quiet) as bar:
        task = bar.add_task("reading", total=None)
        yield lambda progress: bar.update(task, description=_line(progress))


def _line(progress: Progress) -> str:
    parts = [f"{progress.stage}: {progress.message}"]
    if progress.value is not None:
        parts.append(f"best {progress.value:.2f} {progress.unit}")
    if progress.bound is not None:
        parts.append(f"bound {progress.bound:.2f}")
    if progress.gap is not None:
        parts.append(f"gap {100 * progress.gap:.1f} %")
    return ", ".join(parts)


def main() -> None:
    """Run a command; errors of ours end with their message and exit code, without a traceback."""
    try:
        app(standalone_mode=True)
    except MaslinError as error:
        aside.print(str(error), style="bold red", markup=False, highlight=False)
        sys.exit(error.exit_code)
