"""The command line: ``maslin check``, ``plan``, ``curve``, ``recipe``, ``publish``, ``link``,
``messages``, ``print``, ``bench``; and those that make scenario folders.

A command imports the rooms it needs when it is called: all of them together take ten times as long as typer,
and nobody who asks for help or mistypes a name should wait for a solver.
"""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer
from rich.progress import Progress as Bar
from rich.progress import SpinnerColumn, TextColumn, TimeElapsedColumn

from scheduler import message_commands, plan_commands, scenario_commands
from scheduler.errors import MaslinError
from scheduler.law.acts import HERE
from scheduler.terminal import Folder, aside, known, screen

if TYPE_CHECKING:
    from scheduler.domain.scenario import Situation
    from scheduler.solve.kept import Kept
    from scheduler.solve.settings import Progress

app = typer.Typer(
    help="Plan what a soft-fruit farm sells, cooks, freezes or gives up, and when each batch is cooked.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


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
    where = known(where, jurisdictions(farm), "--where")
    if name is not None:
        name = known(name, [each.name for each in farm.recipes], "--name")
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
        size = known(size, list(SIZES), "--size")
    settings = Settings(seconds=seconds, workers=workers)
    with _stop_on_interrupt("the farms") as stopped, _bar(quiet=json_) as tell:
        measured = Bench(settings, tell, lambda: stopped[0])
        measured.run(farms([size] if size else list(SIZES), seeds))
    if json_:
        sys.stdout.write(json.dumps(report.as_json(measured.done), ensure_ascii=False) + "\n")
        return
    screen.print(report.summary(measured.done, seconds))


app.command()(plan_commands.publish)
app.command()(plan_commands.link)
app.command()(message_commands.messages)
app.command("print")(plan_commands.print_)
app.command()(scenario_commands.new)
app.command()(scenario_commands.workbook)
app.command("scenario-from")(scenario_commands.scenario_from)


def _kept(situation: Situation, keep: Path | None, until: datetime | None) -> Kept | None:
    """The days kept, if any are asked for."""
    from scheduler.keep import kept_days

    if (keep is None) != (until is None):
        raise typer.BadParameter(
            "found one of the two; allowed: both or neither", param_hint="--keep, --until"
        )
    return kept_days(situation, keep, until.date()) if keep and until else None


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
