"""The figures of small farms that depend on no machine: ``python -m tests.bench.gate`` writes them again.

Each farm is planned with one worker and time that never runs out, up to the last goal that its search closes
by proof; so nothing but the search itself decides what it finds, and in how many steps.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scheduler.bench.farms import Farm, Size
from scheduler.planner import Progress, Settings, begin, finish
from scheduler.solve.ranks import RANKS
from scheduler.solve.settings import Clock
from tests.bench.instances import situation
from tests.bench.run import write_rows
from tests.bench.timing import timed_search

FILE = Path(__file__).parent / "expected.csv"
ENDLESS = 100_000.0
"""Seconds: each farm takes a few."""
CLOSE = 0.01
"""How far objective and bound may lie apart on two machines."""


@dataclass(frozen=True)
class Gate:
    """A farm, and how many goals its search closes by proof."""

    farm: Farm
    goals: int


def small(days: int, fruits: int, pans: int, glut: float, seed: int, goals: int) -> Gate:
    """A farm of four people."""
    size = Size(days, days, fruits, pans, 4)
    return Gate(Farm(f"{days} days {fruits} fruit {pans} pan", glut, seed, own=size), goals)


GATES = (
    small(2, 1, 1, 1.5, 1, goals=4),
    small(2, 1, 1, 2.5, 0, goals=4),
    small(2, 1, 2, 2.5, 0, goals=1),
    small(2, 1, 2, 2.5, 2, goals=2),
    small(3, 1, 1, 2.0, 0, goals=2),
    small(4, 2, 1, 1.5, 0, goals=2),
    small(4, 2, 1, 2.5, 1, goals=2),
)


def measure(gate: Gate) -> list[dict[str, Any]]:
    """A row for each goal: best and bound in units of the goal; and what the whole search counted."""
    told = [""]

    def tell(progress: Progress) -> None:
        told[0] = progress.stage

    def stop() -> bool:
        return told[0] in RANKS[gate.goals :]

    read = situation(gate.farm)
    settings, clock = Settings(seconds=ENDLESS, workers=1), Clock(ENDLESS, stop)
    with timed_search(lambda *_: None) as times:
        search = begin(read, settings, tell, clock)
        search.run()
    plan, days = finish(read, search, clock), search.days.counts()
    counts = {
        "allocations": times.allocations, "cuts": len(search.cuts), "placed": days.placed,
        "refuted": days.refuted, "undecided": days.undecided,
    }  # fmt: skip
    return [
        {"farm": gate.farm.name, "goal": goal.name, "best": goal.best, "bound": goal.bound, **counts}
        for goal in plan.goals[: gate.goals]
    ]


def expected() -> dict[str, list[dict[str, str]]]:
    """The rows of the file by farm."""
    rows: dict[str, list[dict[str, str]]] = {}
    for row in csv.DictReader(FILE.read_text(encoding="utf-8").splitlines()):
        rows.setdefault(row["farm"], []).append(row)
    return rows


if __name__ == "__main__":
    write_rows(FILE, [row for gate in GATES for row in measure(gate)])
    print(f"{len(GATES)} farms: {FILE.name}")
