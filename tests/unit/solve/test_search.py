"""The search where its usual helpers fail: no plan by habit, a freezer too full, frozen fruit out of date."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from scheduler import planner
from scheduler.cards import MONEY
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanPossible
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.model import mip
from scheduler.model.allocation import AllocationModel
from scheduler.planner import Settings, make_plan
from scheduler.solve import beside
from scheduler.solve.cuts import add
from scheduler.solve.guided import nearby
from scheduler.solve.habit import habit
from scheduler.solve.joined import Search
from scheduler.solve.place import Answer, Verdict
from scheduler.solve.ranks import UNITS, goal_of, slack_of, value_of, with_value
from scheduler.solve.settings import Clock
from tests.kitchens import random_kitchen, tiny_kitchen

SCENARIOS = Path(__file__).parents[3] / "scenarios"
ALONE = Settings(seconds=60.0, workers=1)


@pytest.mark.parametrize("seed", [2, 16])
def test_a_plan_is_found_where_the_habit_finds_none(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    usual = make_plan(tiny_kitchen(seed), ALONE)
    monkeypatch.setattr(beside, "by_the_day", lambda *_, **__: None)
    assert [goal.value for goal in make_plan(tiny_kitchen(seed), ALONE).goals[:2]] == pytest.approx(
        [goal.value for goal in usual.goals[:2]], abs=0.01
    )


def test_an_overfull_freezer_is_told_by_the_rule_that_clashes() -> None:
    with pytest.raises(NoPlanPossible, match="freezer-room"):
        make_plan(_with_freezer(tiny_kitchen(0), 0.1), ALONE)


@pytest.mark.parametrize("seed", range(12))
def test_the_habit_has_a_plan_for_every_kitchen(seed: int) -> None:
    """Kitchen 8 holds frozen fruit whose date passes before all of it is thawed."""
    situation = random_kitchen(seed, days=(3, 6), picks_kg=12.0)
    assert make_plan(situation, Settings(method="habit", workers=1)).method == "habit"


def test_the_habit_counts_jars_that_orders_took_as_gone_from_the_shelves() -> None:
    situation = read_scenario(SCENARIOS / "glut-week")
    kitchen = replace(situation.scenario.kitchen, shelf_jars=600)
    plan = make_plan(
        replace(situation, scenario=replace(situation.scenario, kitchen=kitchen)),
        Settings(method="habit", workers=1),
    )
    on_hand = sum(size.jars_on_hand for recipe in situation.scenario.recipes for size in recipe.sizes)
    assert on_hand + sum(row.made for row in plan.jars) > 600


@pytest.mark.parametrize(("spare", "kept"), [(-0.01, False), (0.0, True)])
def test_hands_called_in_to_place_a_day_must_not_cost_what_a_rank_before_had(
    spare: float, kept: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """``spare`` is what the plan found for tidiness leaves of the money it may cost."""
    cards = make_cards(tiny_kitchen(5))
    search = Search(cards, ALONE, Clock(60.0, lambda: False), lambda _: None, "EUR")
    found = habit(cards, search.model, search.days, search.clock)
    assert found is not None
    monkeypatch.setattr(Search, "_placed", lambda *_: (found, []))
    search.cap("money", found.allocation.money(cards) + spare * MONEY)
    search.look("tidiness", found.allocation.values, float("inf"), 60.0)
    assert (search.found is found) == kept


@pytest.mark.parametrize("seed", [2, 5])
def test_plans_near_the_best_are_found_where_there_is_no_time_to_keep_free(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a goal before leaves no slack, as here by decree, no plan has room for margins."""
    whole = Search.solve

    def solve(search: Search, *given: Any, margins: Mapping[int, int]) -> mip.MipAnswer:
        if any(margins.values()):
            return mip.MipAnswer(None, None, float("inf"), True)
        return whole(search, *given, margins=margins)

    monkeypatch.setattr(Search, "solve", solve)
    cards = make_cards(random_kitchen(seed, days=(3, 3), fruits=(1, 2), picks_kg=20.0))
    search = Search(cards, ALONE, Clock(60.0, lambda: False), lambda _: None, "EUR")
    search.found = habit(cards, search.model, search.days, search.clock)
    assert search.found is not None
    before = value_of(cards, "spoiled", search.found.allocation)
    search.margins = [24] * cards.days
    assert nearby(search, "spoiled", before, 0.0, 60.0) < before - MONEY


@pytest.mark.parametrize("seed", [0, 5, 20])
def test_without_time_for_timetables_no_cut_is_proved_and_no_bound_rises(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Days left undecided are neither placed nor refuted: no plan uses them, the bound is as without them."""
    monkeypatch.setattr("scheduler.solve.days.place", lambda *_, **__: Answer(Verdict.UNDECIDED))
    monkeypatch.setattr("scheduler.solve.days.pooled_times", lambda *_: (Verdict.UNDECIDED, None))
    cards, added = make_cards(tiny_kitchen(seed)), []
    monkeypatch.setattr("scheduler.solve.joined.add", lambda model, cut: added.append(cut) or add(model, cut))
    search = Search(cards, ALONE, Clock(20.0, lambda: False), lambda _: None, "EUR")
    alone = AllocationModel(cards)
    alone.model.minimize(alone.goals["spoiled"])
    least = mip.solve(alone.model, alone.masses, 60.0, 1, 0, lambda *_: False, gap=0.0).bound
    best, bound = search._exactly("spoiled", float("inf"), 5.0, 5.0)
    assert search.found is None
    assert best == float("inf")
    assert added
    assert not any(cut.proved for cut in added)
    assert bound <= least + 0.01 * MONEY


def test_what_a_later_goal_bettered_is_the_best_that_was_reached() -> None:
    cards = make_cards(tiny_kitchen(0))
    search = Search(cards, ALONE, Clock(20.0, lambda: False), lambda _: None, "EUR")
    found = habit(cards, AllocationModel(cards), search.days, Clock(20.0, lambda: False))
    assert found is not None
    reached, unit = value_of(cards, "spoiled", found.allocation), UNITS["spoiled"]
    assert reached > 0
    for before in (1.5 * reached, reached, 0.9 * reached):
        told = goal_of(cards, "spoiled", before, 0.5 * reached, slack_of(cards, "spoiled", before))
        goal = with_value(cards, told, found.allocation)
        best = min(before, reached)
        assert goal.value == round(reached / unit, 3)
        assert goal.best == round(best / unit, 3)
        assert goal.slack == pytest.approx(slack_of(cards, "spoiled", best) / unit, abs=0.001)
        assert goal.gap == pytest.approx(1 - 0.5 * reached / best, abs=0.001)


def _with_freezer(situation: Situation, kg: float) -> Situation:
    scenario = situation.scenario
    freezer = replace(scenario.kitchen.freezer, kg=kg)
    kitchen = replace(scenario.kitchen, freezer=freezer)
    return replace(situation, scenario=replace(scenario, kitchen=kitchen))


@pytest.mark.parametrize("seed", [0, 5, 20])
def test_time_kept_free_makes_an_allocation_no_better_and_leaves_its_model_as_it_was(seed: int) -> None:
    model = AllocationModel(make_cards(tiny_kitchen(seed)))
    model.model.minimize(model.goals["spoiled"])

    def least(margin: int) -> float:
        beside = model.keeping_free(dict.fromkeys(range(model.cards.days), margin))
        answer = mip.solve(model.model, model.masses, 60.0, 1, 0, lambda *_: False, gap=0.0, beside=beside)
        assert answer.objective is not None
        return answer.objective / MONEY

    free = [least(margin) for margin in (0, 50, 100)]
    assert free == sorted(free)
    assert free[0] < free[2]
    assert least(0) == pytest.approx(free[0], abs=0.001)


def test_what_each_goal_came_to_is_told_before_the_next_begins() -> None:
    told: list[planner.Progress] = []
    plan = make_plan(tiny_kitchen(2), ALONE, told.append)
    for goal in plan.goals:
        last = [at for at in told if at.stage == goal.name and at.value is not None][-1]
        assert (last.value, last.bound) == pytest.approx((goal.best, goal.bound), abs=0.01)
