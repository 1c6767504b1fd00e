"""A long season: week after week at the worth that the relaxation of the whole gives to what is handed on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from scheduler.bench.farms import Farm, Size, read
from scheduler.cards import Cards
from scheduler.domain.scenario import Situation
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.model.mip import Rows, loaded, solve
from scheduler.model.pieces import Pieces, _whole_first, days_of
from scheduler.plan_rows import Plan
from scheduler.planner import Progress, Settings, make_plan, never
from scheduler.solve import season
from scheduler.solve.days import Days
from scheduler.solve.kept import Kept
from scheduler.solve.settings import Clock

OPTIONS = {"mip_rel_gap": 1e-6, "time_limit": 60.0, "threads": 1}


@cache
def farm(days: int, seed: int = 0, glut: float = 2.0) -> Situation:
    of = Farm("own", glut, seed, own=Size(days, days, 2, 2, 3))
    return read(of.name, of.texts())


@cache
def cards(days: int, seed: int = 0) -> Cards:
    return make_cards(farm(days, seed))


def clock(seconds: float = 300.0) -> Clock:
    return Clock(seconds, lambda: False)


def whole(model: AllocationModel, goal: str) -> float:
    """The optimum of the whole model, by the solver that pieces have no part in."""
    model.model.minimize(model.goals[goal])
    answer = solve(
        model.model, model.masses, 60, 1, 0, lambda *_: False, gap=1e-6, fixed={model.avoid.index: 0.0}
    )
    assert answer.objective is not None
    return answer.objective


@pytest.mark.parametrize("seed", [0, 1])
def test_one_piece_of_all_days_is_the_whole_problem(seed: int) -> None:
    model = AllocationModel(cards(4, seed))
    pieces = Pieces(model, model.goals["spoiled"], {model.avoid.index: 0.0}, {})
    none, before = dict.fromkeys(range(4), 0), np.zeros(len(pieces.cost))
    near = pieces.solve(range(4), 4, before, none, OPTIONS, never)
    pieces.counted[:] = False  # no batches next to those of the relaxation alone
    values = pieces.solve(range(4), 4, before, none, OPTIONS, never)
    assert values is not None
    best = whole(model, "spoiled")
    assert model.value("spoiled", tuple(values)) == pytest.approx(best, rel=1e-4)
    assert near is not None
    assert best - 1 <= model.value("spoiled", tuple(near)) <= 1.25 * best
    counts = [near[var.index] for row in model.x.count for var in row]
    assert counts == [round(count) for count in counts]


@pytest.mark.parametrize(("low", "high", "found"), [(1.4, 1.6, None), (1.4, 2.6, 2.0), (2.4, 3.6, 3.0)])
def test_a_whole_number_is_found_next_to_the_relaxation(low: float, high: float, found: float | None) -> None:
    """The least whole number between two limits; the relaxation is the lower one."""
    rows = Rows([low], [high], [0, 1], [0], [1.0])
    solver = loaded(rows, np.array([1.0]), 0.0, np.array([0.0]), np.array([9.0]), [True])
    whole_one = np.array([True])
    values = _whole_first(solver, whole_one, whole_one, OPTIONS)
    assert (None if values is None else values[0]) == found


def test_where_no_whole_neighbour_is_allowed_one_farther_off_is_found() -> None:
    """x is five times y and at least a half: the relaxation has 0.5 and 0.1, the best in whole numbers is 5
    and 1."""
    rows = Rows([0.0, 0.5], [0.0, 9.0], [0, 2, 3], [0, 1, 0], [1.0, -5.0, 1.0])
    solver = loaded(rows, np.array([1.0, 0.0]), 0.0, np.zeros(2), np.array([9.0, 9.0]), [True, True])
    both = np.array([True, True])
    values = _whole_first(solver, both, both, OPTIONS)
    assert values is not None
    assert tuple(values) == (5.0, 1.0)


@pytest.mark.parametrize("goal", ["spoiled", "short", "money"])
def test_the_relaxation_is_a_bound(goal: str) -> None:
    model = AllocationModel(cards(4))
    bound = season.least(model, goal, {}, clock())
    assert bound <= whole(model, goal) + 1e-6
    assert bound > -1e12


def test_without_time_there_is_no_bound_and_no_plan() -> None:
    model = AllocationModel(cards(22))
    stopped = Clock(300.0, lambda: True)
    assert season.least(model, "spoiled", {}, stopped) == float("-inf")
    assert season.sweep(model, Days(cards(22), 1, 0), stopped, {}, lambda _: None) is None


def test_who_stops_does_not_wait_for_a_piece_to_be_rounded() -> None:
    model = AllocationModel(cards(14))
    pieces = Pieces(model, model.goals["spoiled"], {model.avoid.index: 0.0}, {})
    none, before, asked = dict.fromkeys(range(14), 0), np.zeros(len(pieces.cost)), 0

    def stop() -> bool:
        nonlocal asked
        asked += 1
        return True

    stopped = pieces.solve(range(14), 14, before, none, OPTIONS, stop)
    assert asked
    assert stopped is None


def test_a_piece_keeps_the_days_before_it_and_leaves_those_after_it_empty() -> None:
    model = AllocationModel(cards(6))
    pieces = Pieces(model, model.goals["spoiled"], {model.avoid.index: 0.0}, {})
    none = dict.fromkeys(range(6), 0)
    assert pieces.price(none, 60, never)
    first = pieces.solve(range(3), 5, np.zeros(len(pieces.cost)), none, OPTIONS, never)
    assert first is not None
    second = pieces.solve(range(3, 6), 6, first, none, OPTIONS, never)
    assert second is not None
    days = np.array(days_of(model))
    assert not first[days >= 3].any()
    assert (second[days < 3] == first[days < 3]).all()
    assert second[days >= 3].any()


def test_every_variable_has_the_day_that_its_name_says() -> None:
    model = AllocationModel(cards(5))
    days = days_of(model)
    for d, row in enumerate(model.x.count):
        assert {days[var.index] for var in row} == {d}
    for table in (model.x.left, model.x.level, model.x.in_store):
        assert all(days[var.index] == key[1] for key, var in table.items())
    assert all(days[var.index] == key[0] for key, var in model.x.thaw.items())
    assert all(days[var.index] == 4 for var in model.x.worth.values())


@dataclass
class Swept:
    spoiled: float
    batches: int


@cache
def swept(prices: bool) -> Swept:
    model, found = AllocationModel(cards(22)), None
    days = Days(cards(22), 2, 0)
    with pytest.MonkeyPatch.context() as patch:
        if not prices:
            priced = Pieces.price

            def worthless(pieces: Pieces, *given: object) -> bool:
                known = priced(pieces, *given)  # type: ignore[arg-type]
                pieces.worth = np.zeros(len(pieces.worth))
                return known

            patch.setattr(Pieces, "price", worthless)
        found = season.sweep(model, days, clock(), {}, lambda _: None)
    assert found is not None
    assert len(found.timetables) == 22
    return Swept(found.allocation.spoiled, sum(sum(row) for row in found.allocation.count))


def test_a_swept_season_loses_no_less_than_its_bound_and_cooks() -> None:
    model = AllocationModel(cards(22))
    assert swept(prices=True).spoiled >= season.least(model, "spoiled", {}, clock())
    assert swept(prices=True).batches > 0


def test_prices_beyond_the_week_save_fruit() -> None:
    assert swept(prices=True).spoiled < swept(prices=False).spoiled


def test_a_season_is_long_by_its_days_of_picking_alone() -> None:
    assert season.is_long(cards(22))
    assert not season.is_long(cards(6))


class Enough:
    """Stops a search once it has a plan of the whole season and a bound on its first goal."""

    reached = False

    def tell(self, step: Progress) -> None:
        self.reached |= step.stage == "spoiled" and step.value is not None

    def stop(self) -> bool:
        return self.reached


def planned(kept: Kept | None = None) -> Plan:
    enough = Enough()
    return make_plan(farm(22), Settings(seconds=300, workers=2), enough.tell, enough.stop, kept)


def test_a_long_season_is_planned_and_audited_with_a_bound_on_its_losses() -> None:
    """The planner audits every plan itself and refuses one with findings."""
    plan = planned()
    goals = {goal.name: goal for goal in plan.goals}
    assert goals["spoiled"].bound <= goals["spoiled"].value
    assert plan.batches


def test_days_that_are_kept_stay_as_they_were_in_a_long_season() -> None:
    before = make_plan(farm(22), Settings("habit", seconds=300, workers=2))
    plan = planned(Kept(before, 3))
    for day in farm(22).scenario.dates()[:3]:
        assert [b for b in plan.batches if b.day == day] == [b for b in before.batches if b.day == day]
