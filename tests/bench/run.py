"""Every peer on every farm, one after another in the same run: a row each."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from scheduler.bench.course import NEAR
from scheduler.bench.farms import Farm
from scheduler.solve.ranks import RANKS
from tests.bench.case import ALLOCATION, TIMETABLE, Case, Outcome
from tests.bench.instances import situation
from tests.bench.peers import PEERS
from tests.bench.peers.days import OURS

MARKS = (5, 30, 120)
"""Seconds after which the gap is looked at, where a peer had as many or had a proof before."""
BOUNDING = ("planner", "highs allocation")
"""Peers whose bounds hold for every plan."""
FOR_ONE_WEEK = "pyjobshop days"
"""The peer that is asked on farms of size S only."""
PARTS = ("habit", *RANKS)
"""The parts of the planner's time."""


@dataclass(frozen=True)
class Run:
    """What peers made of a farm, by their names."""

    farm: Farm
    outcomes: dict[str, Outcome]

    @property
    def bound(self) -> float:
        """The best bound that holds for every plan; 0 where none is known."""
        mine = (each.course.bound for name, each in self.outcomes.items() if name in BOUNDING)
        return max(mine, default=0.0)

    def rows(self) -> list[dict[str, Any]]:
        """A row a peer: money in the farm's currency, seconds, and ratios."""
        return [self._row(name, outcome) for name, outcome in self.outcomes.items()]

    def _row(self, peer: str, outcome: Outcome) -> dict[str, Any]:
        farm, course = self.farm, outcome.course
        row: dict[str, Any] = {
            "instance": farm.name, "size": farm.size, "family": farm.family, "glut": farm.glut,
            "seed": farm.seed, "peer": peer, "whole_plan": outcome.whole, "spoiled": course.value,
            "bound": course.bound, "gap": course.gap, "to_habit": _ratio(course.value, self._habit),
            "to_bound": _ratio(course.value, self.bound), "first_s": course.first,
            "one_percent_s": course.reached(NEAR), "proof_s": course.proof,
        }  # fmt: skip
        over = course.proof is not None
        row |= {
            f"gap_{mark}_s": course.gap_at(mark) if over or mark <= outcome.seconds else None
            for mark in MARKS
        }
        row |= {"seconds": outcome.seconds, "to_planner": self._to_planner(peer, outcome)}
        for part in PARTS:
            for level in (ALLOCATION, TIMETABLE):
                row[f"{part}_{level}_s"] = outcome.spent.get((part, level))
        counted = ("allocations", "cuts", "placed", "refuted", "undecided")
        row |= {name: outcome.counts.get(name) for name in counted}
        return row | {"findings": outcome.findings, "remark": outcome.remark}

    @property
    def _habit(self) -> float | None:
        habit = self.outcomes.get("habit")
        return None if habit is None else habit.course.value

    def _to_planner(self, peer: str, outcome: Outcome) -> float | None:
        """Time to the proof against the planner's; of single days, time to place them against ours."""
        if peer == FOR_ONE_WEEK:
            return _ratio(outcome.spent.get(("days", TIMETABLE)), outcome.spent.get(("days", OURS)))
        planner = self.outcomes.get("planner")
        return None if planner is None else _ratio(outcome.course.proof, planner.course.proof)


def _ratio(over: float | None, under: float | None) -> float | None:
    return over / under if over is not None and under else None


def run_one(farm: Farm, peers: Sequence[str], seconds: float, workers: int) -> Run:
    """Ask each peer, in the order of ``PEERS``: the planner first, whose plan others look at."""
    case, outcomes = Case(farm, situation(farm), seconds, workers), {}
    for name, peer in PEERS.items():
        if name in peers and (name != FOR_ONE_WEEK or farm.size == "S"):
            outcomes[name] = peer(case)
            if name == "planner":
                case = replace(case, plan=outcomes[name].plan)
    return Run(farm, outcomes)


def run_all(
    farms: Iterable[Farm],
    peers: Sequence[str],
    seconds: float,
    workers: int,
    out: Path,
    tell: Callable[[str], None],
) -> list[Run]:
    """Run farm by farm; ``out`` has what was measured so far at any time, and Ctrl-C ends with it."""
    runs: list[Run] = []
    try:
        for farm in farms:
            tell(farm.name)
            runs.append(run_one(farm, peers, seconds, workers))
            write(runs, out)
    except KeyboardInterrupt:
        tell("Stopped; the farms so far are kept.")
    return runs


def write(runs: Sequence[Run], out: Path) -> None:
    """``results.csv`` with a row a farm and peer, ``courses.csv`` with every moment of each."""
    out.mkdir(parents=True, exist_ok=True)
    write_rows(out / "results.csv", [row for run in runs for row in run.rows()])
    moments = [
        {
            "instance": run.farm.name,
            "peer": peer,
            "seconds": at.seconds,
            "spoiled": at.value,
            "bound": at.bound,
        }
        for run in runs
        for peer, outcome in run.outcomes.items()
        for at in outcome.course.moments
    ]
    write_rows(out / "courses.csv", moments)


def write_rows(path: Path, rows: Sequence[dict[str, Any]]) -> None:
    """A CSV file of rows that have the same keys; numbers to six digits."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]) if rows else [], lineterminator="\n")
        writer.writeheader()
        for row in rows:
            shown = {k: round(v, 6) + 0.0 if isinstance(v, float) else v for k, v in row.items()}
            writer.writerow(shown)
