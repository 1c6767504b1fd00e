"""Habit's plan made beside the search: the same plan, taken when it is there, waited for, or let go."""

from __future__ import annotations

from threading import Event
from typing import Any

import pytest

from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.plan_rows import totals
from scheduler.planner import Settings, make_plan
from scheduler.solve import beside
from scheduler.solve.beside import Beside
from scheduler.solve.days import Days
from scheduler.solve.habit import habit
from scheduler.solve.joined import Search
from scheduler.solve.ranks import value_of
from scheduler.solve.settings import Clock, Progress
from tests.kitchens import random_kitchen, tiny_kitchen

TWO = Settings(seconds=60.0, workers=2)
MOST = 60.0


def never() -> bool:
    return False


@pytest.mark.parametrize("seed", range(3))
def test_it_is_the_plan_that_habit_makes_alone(seed: int) -> None:
    cards = make_cards(random_kitchen(seed, days=(2, 4)))
    alone = habit(cards, AllocationModel(cards), Days(cards, 1, 0), Clock(MOST, never))
    made = Beside(cards, Days(cards, 1, 0), Clock(MOST, never))
    assert not made.taken
    first = made.take()
    assert alone is not None
    assert first is not None
    assert (first.allocation, first.timetables) == (alone.allocation, alone.timetables)
    assert made.taken
    assert made.take() is first


def test_it_is_ready_when_its_days_are_placed_and_ends_when_nobody_wants_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    begun, go_on = Event(), Event()

    def slow(*given: Any, **_: Any) -> None:
        begun.set()
        while not given[2].over:  # the clock
            if go_on.wait(0.01):
                break

    monkeypatch.setattr(beside, "by_the_day", slow)
    cards = make_cards(tiny_kitchen(0))
    waiting, left = (Beside(cards, Days(cards, 1, 0), Clock(MOST, never)) for _ in range(2))
    assert begun.wait(MOST)
    assert not waiting.ready
    left.end()
    assert left.take() is None
    assert not waiting.ready
    go_on.set()
    assert waiting.take() is None


@pytest.mark.parametrize(("late", "at_work"), [(0.0, False), (MOST, True)])
def test_once_somebody_stops_it_goes_on_for_as_long_as_it_may(
    late: float, at_work: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[bool] = []
    monkeypatch.setattr(beside, "by_the_day", lambda *given, **_: seen.append(not given[2].over))
    cards = make_cards(tiny_kitchen(0))
    assert Beside(cards, Days(cards, 1, 0), Clock(MOST, lambda: True), late=late).take() is None
    assert seen == [at_work]


@pytest.mark.parametrize(
    ("goal", "before", "cap", "taken"),
    [
        ("spoiled", 1.01, None, True),
        ("spoiled", 1.0, None, False),
        ("spoiled", 0.99, None, False),
        ("spoiled", 1.01, 1.0, True),
        ("spoiled", 1.01, 0.99, False),
        ("short", 1.01, None, False),
    ],
)
def test_it_is_taken_where_it_is_better_in_the_first_goal_and_within_its_cap(
    goal: str, before: float, cap: float | None, taken: bool
) -> None:
    """``before`` and ``cap`` are shares of what habit loses."""
    cards = make_cards(random_kitchen(3, days=(2, 4), picks_kg=12.0))
    told: list[Progress] = []
    search = Search(cards, TWO, Clock(MOST, never), told.append, "EUR")
    search.usual = Beside(cards, search.days, search.clock)
    found = search.usual.take()
    assert found is not None
    search.usual = Beside(cards, search.days, search.clock)
    lost = value_of(cards, "spoiled", found.allocation)
    assert lost > 100
    if cap is not None:
        search.caps["spoiled"] = round(cap * lost)
    best = search.take_usual(goal, before * lost, wait=True)
    assert best == (lost if taken else before * lost)
    assert (search.found is not None) == taken
    assert [step.stage for step in told] == ["habit"] * (goal == "spoiled")
    search.usual.end()


@pytest.mark.parametrize("seed", range(4))
def test_with_two_workers_no_plan_is_worse_than_habit(seed: int) -> None:
    situation = tiny_kitchen(seed)
    plan = make_plan(situation, TWO)
    usual = make_plan(situation, Settings("habit", MOST, 1))
    assert plan.goals[0].best <= usual.goals[0].value + 0.01
    assert plan.habit == totals(usual)
