"""What was measured as a text table and as plots, under a head that says when, with what and where."""

from __future__ import annotations

import os
import platform
from collections.abc import Sequence
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import Any

import plotly.express as px
from rich import box
from rich.console import Console
from rich.table import Table

from tests.bench.run import MARKS, PARTS, Run

LIBRARIES = ("ortools", "highspy", "pyjobshop")
WIDTH = 200
NOTES = (
    "spoiled: value lost, first goal, before slack. A value in brackets is no plan: timetables are left out.",
    "to habit, to bound: spoiled against the habit's, and against the best bound that holds for every plan.",
    "gap: what is left to the peer's own bound (cp-sat and monolith: of masses in whole units of 0.1 kg).",
    "x planner: time to the proof against the planner's; pyjobshop: time with the same days.",
    "days placed: of the days tried; the others were refuted or left undecided, see results.csv.",
    "in days: of the planner's time in search, the share spent on timetables of days.",
)


def head(seconds: float, workers: int) -> str:
    """When, with what and where something was measured."""
    libraries = ", ".join(f"{name} {version(name)}" for name in LIBRARIES)
    return (
        f"{date.today().isoformat()}; Maslin {version('maslin')}, Python {platform.python_version()}, "
        f"{libraries}\n{os.cpu_count()} cores, {cpu()}, {platform.system()}; "
        f"{seconds:g} s for each farm and peer, {workers} workers"
    )


def cpu() -> str:
    """The model of the processor, as far as the system tells."""
    told = Path("/proc/cpuinfo")
    lines = told.read_text(encoding="utf-8").splitlines() if told.is_file() else []
    models = (line.partition(":")[2].strip() for line in lines if line.startswith("model name"))
    return next(models, platform.processor() or "processor unknown")


def table(runs: Sequence[Run]) -> Table:
    """A row a farm and peer."""
    shown = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0))
    heads = ["farm", "peer", "spoiled", "to habit", "to bound", *(f"gap {mark} s" for mark in MARKS), "gap"]
    heads += ["first s", "1 % s", "proof s", "s", "x planner", "in days", "days placed", "cuts", "findings"]
    for n, name in enumerate([*heads, "remark"]):
        left = n < 2 or name == "remark"
        shown.add_column(name, justify="left" if left else "right", no_wrap=n < 2)
    for run in runs:
        for n, (row, outcome) in enumerate(zip(run.rows(), run.outcomes.values(), strict=True)):
            value = number(row["spoiled"], 2)
            value = value if row["whole_plan"] or not value else f"({value})"
            shown.add_row(
                "" if n else run.farm.name, row["peer"], value,
                number(row["to_habit"], 3), number(row["to_bound"], 3),
                *(percent(row[f"gap_{mark}_s"]) for mark in MARKS), percent(row["gap"]),
                *(number(row[name], 1) for name in ("first_s", "one_percent_s", "proof_s", "seconds")),
                number(row["to_planner"], 2), percent(in_days(row)),
                _days(outcome.counts), number(row["cuts"], 0), number(row["findings"], 0), row["remark"],
                end_section=n == len(run.outcomes) - 1,
            )  # fmt: skip
    return shown


def _days(counts: dict[str, int]) -> str:
    """Days placed, of those tried."""
    if "placed" not in counts:
        return ""
    tried = sum(counts[name] for name in ("placed", "refuted", "undecided"))
    return f"{counts['placed']} of {tried}"


def in_days(row: dict[str, Any]) -> float | None:
    """Of the time measured inside a search, the share spent on timetables."""
    levels = {
        level: sum(row[f"{part}_{level}_s"] or 0.0 for part in PARTS) for level in ("allocation", "timetable")
    }
    both = sum(levels.values())
    return levels["timetable"] / both if both else None


def number(value: float | None, digits: int) -> str:
    return "" if value is None else f"{value:.{digits}f}"


def percent(share: float | None) -> str:
    return "" if share is None else f"{100 * share:.1f} %"


def write(runs: Sequence[Run], seconds: float, workers: int, out: Path) -> None:
    """``table.txt`` and ``plots.html`` in a folder."""
    with (out / "table.txt").open("w", encoding="utf-8") as file:
        console = Console(file=file, width=WIDTH)
        console.print(head(seconds, workers), table(runs), *NOTES, sep="\n", markup=False, highlight=False)
    write_plots([gaps(runs, seconds), against_habit(runs)], head(seconds, workers), out / "plots.html")


def gaps(runs: Sequence[Run], seconds: float) -> Any:
    """Gap over time, a line a farm and peer."""
    rows = [
        {"farm": run.farm.name, "peer": peer, "seconds": at, "gap": 100 * gap}
        for run in runs
        for peer, outcome in run.outcomes.items()
        for at in [*(each.seconds for each in outcome.course.moments), seconds]
        if peer != "habit" and (gap := outcome.course.gap_at(at)) is not None
    ]
    if not rows:
        return px.line(title="No gap was measured")
    title = "What is left to the peer's own bound of spoiled, %"
    lines = {"x": "seconds", "y": "gap", "color": "peer", "line_group": "farm"}
    return px.line(rows, **lines, line_shape="hv", hover_data=["farm"], title=title)


def against_habit(runs: Sequence[Run]) -> Any:
    """What peers with a whole plan lose against the habit."""
    rows = [row for run in runs for row in run.rows() if row["whole_plan"] and row["to_habit"] is not None]
    if not rows:
        return px.bar(title="No plan to compare with the habit's")
    title = "Spoiled against the habit's"
    return px.bar(rows, x="instance", y="to_habit", color="peer", barmode="group", title=title)


def write_plots(figures: Sequence[Any], title: str, path: Path) -> None:
    """Figures one below the other in one page that needs nothing from elsewhere."""
    parts = [fig.to_html(full_html=False, include_plotlyjs=n == 0) for n, fig in enumerate(figures)]
    page = f'<!doctype html><meta charset="utf-8"><title>Benchmarks</title><pre>{title}</pre>{"".join(parts)}'
    path.write_text(page, encoding="utf-8")
