"""The peers agree on farms small enough for each of them to prove what it found."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from scheduler.bench.farms import SIZES, Farm, Size
from scheduler.making import make_cards
from tests.bench import report
from tests.bench.case import ALLOCATION, TIMETABLE, Case, Outcome
from tests.bench.instances import situation
from tests.bench.peers import PEERS
from tests.bench.peers.days import days_by_pyjobshop
from tests.bench.peers.monolith_day import can_be_stated
from tests.bench.run import FOR_ONE_WEEK, Run, run_one, write

SMALL = Farm("two days", 2.5, 1, own=Size(2, 2, 1, 1, 4))
SECONDS = 20.0
CENT = 0.01
UNITS = 0.25
"""In the farm's currency: what whole units of 0.1 kg may add to what is lost on so small a farm."""


@pytest.fixture(scope="module")
def run() -> Run:
    return run_one(SMALL, list(PEERS), SECONDS, workers=1)


@pytest.fixture(scope="module")
def by_peer(run: Run) -> dict[str, Outcome]:
    return run.outcomes


def test_the_planner_proves_what_no_allocation_can_beat(by_peer: dict[str, Outcome]) -> None:
    planner, highs = by_peer["planner"].course, by_peer["highs allocation"].course
    assert planner.value is not None
    assert planner.value > 1
    assert planner.proof is not None
    assert highs.proof is not None
    assert highs.bound <= planner.bound + CENT
    assert planner.value == pytest.approx(planner.bound, abs=CENT)


def test_the_monolith_proves_the_same_but_for_whole_units(by_peer: dict[str, Outcome]) -> None:
    planner, monolith, cp_sat = (by_peer[n].course for n in ("planner", "monolith", "cp-sat allocation"))
    assert monolith.proof is not None
    assert planner.value is not None
    assert monolith.value is not None
    assert planner.bound - CENT <= monolith.value <= planner.value + UNITS
    assert cp_sat.proof is not None
    assert cp_sat.bound <= monolith.bound + CENT


def test_whole_plans_pass_the_audit_and_beat_the_habit(by_peer: dict[str, Outcome]) -> None:
    for name in ("planner", "habit", "monolith"):
        assert by_peer[name].whole, by_peer[name].remark
        assert by_peer[name].findings == 0
    habit = by_peer["habit"].course.value
    assert habit is not None
    for name in ("planner", "monolith"):
        value = by_peer[name].course.value
        assert value is not None
        assert value <= habit + CENT


def test_pyjobshop_places_the_days_that_the_planner_placed(by_peer: dict[str, Outcome]) -> None:
    case = Case(SMALL, situation(SMALL), SECONDS, 1, plan=by_peer["planner"].plan)
    days = days_by_pyjobshop(case)
    assert days.counts["days"] == days.counts["placed"] == days.counts["placed by us"] > 0
    assert FOR_ONE_WEEK not in by_peer  # only farms of size S are asked of it in a run


def test_time_is_told_apart_by_rank_and_level(by_peer: dict[str, Outcome]) -> None:
    spent = by_peer["planner"].spent
    for level in (ALLOCATION, TIMETABLE):
        assert spent["spoiled", level] > 0
    assert spent["habit", TIMETABLE] > 0
    assert sum(spent.values()) <= by_peer["planner"].seconds


def test_results_have_a_row_for_each_farm_and_peer(run: Run, tmp_path: Path) -> None:
    write([run], tmp_path)
    report.write([run], SECONDS, 1, tmp_path)
    rows = list(csv.DictReader((tmp_path / "results.csv").read_text(encoding="utf-8").splitlines()))
    assert [row["peer"] for row in rows] == list(run.outcomes)
    planner = rows[0]
    assert float(planner["to_habit"]) <= 1
    assert float(planner["to_bound"]) == pytest.approx(1, abs=1e-4)
    assert float(planner["to_planner"]) == 1
    assert float(planner["proof_s"]) >= float(planner["first_s"]) > 0
    table = (tmp_path / "table.txt").read_text(encoding="utf-8")
    assert "ortools" in table
    assert SMALL.name in table
    assert "plotly" in (tmp_path / "plots.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("size", SIZES)
def test_the_monolith_has_words_for_every_farm(size: str) -> None:
    for family in ("plain", "cooks", "freezer") if size in ("S", "M") else ("plain",):
        assert can_be_stated(make_cards(situation(Farm(size, 2.0, 0, family))))
