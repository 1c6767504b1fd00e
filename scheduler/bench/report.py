"""What was measured, in a terminal and as the list of ``maslin bench --json``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table

from scheduler.bench.course import NEAR
from scheduler.bench.farms import SIZES
from scheduler.bench.measure import Measured, handled

HEADS = ("farm", "a plan", "within 1 %", "proved", "gap", "kg lost", "by habit", "findings")


def as_json(done: Sequence[Measured]) -> list[dict[str, Any]]:
    """One object a farm; seconds and kg to a hundredth, null where something was not reached."""
    return [
        {
            "instance": each.farm.name,
            "size": each.farm.size,
            "seed": each.farm.seed,
            "glut": each.farm.glut,
            "first_s": _rounded(each.first_s),
            "one_percent_s": _rounded(each.one_percent_s),
            "proof_s": _rounded(each.proof_s),
            "gap": each.gap,
            "spoiled_kg": _rounded(each.spoiled_kg),
            "habit_spoiled_kg": _rounded(each.habit_spoiled_kg),
            "findings": each.findings,
        }
        for each in done
    ]


def summary(done: Sequence[Measured], seconds: float) -> RenderableType:
    """A row a farm, and what size of kitchen this machine handles in the time given."""
    title = f"Farms planned in {seconds:g} s each"
    table = Table(title=title, box=box.SIMPLE, title_justify="left", pad_edge=False, padding=(0, 1, 0, 0))
    for n, head in enumerate(HEADS):
        table.add_column(head, justify="right" if n else "left", no_wrap=not n)
    for each in done:
        table.add_row(
            each.farm.name, *map(_seconds, (each.first_s, each.one_percent_s, each.proof_s)),
            "-" if each.gap is None else f"{100 * each.gap:.1f} %",
            *map(_kg, (each.spoiled_kg, each.habit_spoiled_kg)), str(each.findings),
        )  # fmt: skip
    return Group(table, *verdict(done, seconds))


def verdict(done: Sequence[Measured], seconds: float) -> list[str]:
    """Up to what size every farm had a plan, and one known to be nearly the best."""
    if not done:
        return ["Nothing was measured."]
    planned, near = handled(done, float("inf")), handled(done, NEAR)
    said = [f"In {seconds:g} s this machine planned {_up_to(planned)}."]
    if planned is not None:
        said.append(f"Within 1 % of what no plan can beat: {_up_to(near)}.")
    return said


def _up_to(size: str | None) -> str:
    if size is None:
        return "no size of farm"
    how = SIZES[size]
    what = f"{how.days} days, {how.fruits} fruits, {how.pans} pans, {how.people} people"
    return f"farms up to size {size} ({what})"


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, 2)


def _seconds(number: float | None) -> str:
    return "-" if number is None else f"{number:.1f} s"


def _kg(number: float | None) -> str:
    return "-" if number is None else f"{number:,.1f}"
