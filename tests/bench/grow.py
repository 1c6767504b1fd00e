"""Farms of size S with one number growing: time against that number."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import plotly.express as px
from rich import box
from rich.console import Console
from rich.table import Table

from scheduler.bench.farms import SIZES, Farm
from tests.bench.case import ALLOCATION, TIMETABLE
from tests.bench.report import WIDTH, head, number, percent, write_plots
from tests.bench.run import Run, run_one, write_rows

SERIES = {
    "days": (4, 7, 10, 14, 21),
    "fruits": (1, 2, 3, 5, 8),
    "pans": (1, 2, 3, 4, 6),
    "people": (3, 4, 5, 6),
}
LEVELS = {"s an allocation": ("allocations", ALLOCATION), "s a day tried": ("days tried", TIMETABLE)}
TIMES = ("first_s", "one_percent_s", "proof_s", *LEVELS)


def farms(what: str, glut: float, seed: int) -> list[Farm]:
    """The farms of a series; of days all are days of picking."""
    more = (what, "picking") if what == "days" else (what,)
    grown = {n: replace(SIZES["S"], **dict.fromkeys(more, n)) for n in SERIES[what]}
    return [Farm(f"{what} {n}", glut, seed, own=size) for n, size in grown.items()]


def row(what: str, run: Run) -> dict[str, Any]:
    """A farm of a series: times of its planner, and seconds for one allocation and one day tried."""
    (measured,), outcome = run.rows(), run.outcomes["planner"]
    counts = {
        **outcome.counts,
        "days tried": sum(outcome.counts.get(k, 0) for k in ("placed", "refuted", "undecided")),
    }
    spent = {
        level: sum(s for (_, at), s in outcome.spent.items() if at == level)
        for level in (ALLOCATION, TIMETABLE)
    }
    grown = {what: int(run.farm.size.split()[1]), "glut": run.farm.glut, "seed": run.farm.seed}
    known = {name: measured[name] for name in ("first_s", "one_percent_s", "proof_s", "gap")}
    each = {
        name: spent[level] / counts[counted] if counts.get(counted) else None
        for name, (counted, level) in LEVELS.items()
    }
    return {**grown, **known, **each, "seconds": outcome.seconds, "remark": outcome.remark}


def grow(
    what: str, glut: float, seed: int, seconds: float, workers: int, out: Path, tell: Callable[[str], None]
) -> Table:
    """Measure a series; ``growth.csv``, ``growth.txt`` and ``growth.html`` in a folder."""
    rows: list[dict[str, Any]] = []
    out.mkdir(parents=True, exist_ok=True)
    for farm in farms(what, glut, seed):
        tell(farm.name)
        rows.append(row(what, run_one(farm, ["planner"], seconds, workers)))
        write_rows(out / "growth.csv", rows)
    shown = table(what, rows)
    with (out / "growth.txt").open("w", encoding="utf-8") as file:
        Console(file=file, width=WIDTH).print(
            head(seconds, workers), shown, sep="\n", markup=False, highlight=False
        )
    points = [
        {what: each[what], "seconds": each[name], "time": name}
        for each in rows
        for name in TIMES
        if each[name]
    ]
    if points:
        lines = {"x": what, "y": "seconds", "color": "time", "title": f"Time against {what}"}
        write_plots(
            [px.line(points, **lines, markers=True, log_y=True)], head(seconds, workers), out / "growth.html"
        )
    return shown


def table(what: str, rows: list[dict[str, Any]]) -> Table:
    """A row a farm."""
    shown = Table(box=box.SIMPLE_HEAD)
    for name in (what, *TIMES, "gap", "seconds"):
        shown.add_column(name, justify="right")
    for each in rows:
        times = (number(each[name], 2) for name in TIMES)
        shown.add_row(str(each[what]), *times, percent(each["gap"]), number(each["seconds"], 1))
    return shown
