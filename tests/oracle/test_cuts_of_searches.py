"""Cuts that searches learn: all that they forbid is written out, and PyJobShop places none of it.

Two hundred tiny kitchens of two days, with shifts, overtime and two fill steps. A cut forbids every choice of
so many batches of its cards on every day, with every team of people that is no roomier than its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations_with_replacement, product
from random import Random

import pytest

from scheduler.cards import Cards
from scheduler.domain.scenario import Situation
from scheduler.model.given import day_work
from scheduler.planner import Progress, Settings, begin
from scheduler.solve.cuts import Cut, covers
from scheduler.solve.joined import Search
from scheduler.solve.settings import Clock
from tests.kitchens import random_kitchen
from tests.oracle.allocation_highs import Allocation
from tests.oracle.brute_force import Team, day_teams
from tests.oracle.cards_by_book import BookCard
from tests.oracle.day_pyjobshop import KitchenDay, can_be_placed
from tests.oracle.test_day import index_of, somebody

KITCHENS = range(200)
LOOKS = 4
"""Allocations whose days are placed before a search ends, where the first two goals take more than that."""
FILL_STEPS = (0.6, 1.0)
MOST_DAYS = 12
"""Days of one kitchen that are tried; more are drawn from."""


@pytest.mark.parametrize("seed", KITCHENS)
def test_no_day_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    situation = two_days(seed)
    search = searched(situation)
    days = list(forbidden(situation, search.cards, [cut for cut in search.cuts if cut.proved]))
    for day in Random(seed).sample(days, min(MOST_DAYS, len(days))):
        assert not can_be_placed(day), day


def test_some_kitchens_teach_cuts_beside_overtime() -> None:
    taught = [seed for seed in KITCHENS[:30] if any(cut.proved for cut in searched(two_days(seed)).cuts)]
    shifts = [shift for seed in taught for shift in two_days(seed).scenario.shifts]
    assert len(taught) >= 6
    assert any(shift.overtime_minutes for shift in shifts)


def two_days(seed: int) -> Situation:
    """One recipe, one or two pans, rings and people, three hours a day. No breaks: PyJobShop has none that
    move."""
    sizes = {"days": (2, 2), "fruits": (1, 1), "pans": (1, 2), "rings": (1, 2), "people": (1, 2)}
    situation = random_kitchen(seed, picks_kg=9.0, hours=(3, 3), warm=False, **sizes)
    scenario = situation.scenario
    cooked = scenario.recipes[-1:]
    small = replace(
        scenario,
        kitchen=replace(scenario.kitchen, fill_steps=FILL_STEPS),
        work_rules=replace(scenario.work_rules, breaks=()),
        recipes=cooked,
        orders=tuple(order for order in scenario.orders if order.recipe == cooked[0].name),
    )
    return replace(situation, scenario=small)


def searched(situation: Situation) -> Search:
    """A search of the first two goals, ended by count."""
    looks, stage = [0], [""]

    def tell(progress: Progress) -> None:
        looks[0] += progress.message.startswith("placing")
        stage[0] = progress.stage

    clock = Clock(100_000.0, lambda: looks[0] >= LOOKS or stage[0] == "money")
    search = begin(situation, Settings(workers=1), tell, clock)
    search.run()
    return search


def forbidden(situation: Situation, cards: Cards, cuts: list[Cut]) -> Iterator[KitchenDay]:
    """Every day that the cuts forbid with no more batches than they name, once."""
    scenario, seen = situation.scenario, set()
    books = {index_of(cards, card): card for card in Allocation(scenario).cards}
    for cut in cuts:
        for batches, day in product(_choices(cut), range(scenario.days)):
            for team in day_teams(scenario, day):
                people = tuple(sorted((somebody(cards, turn) for _, turn in team), key=lambda p: p.person))
                work = day_work(cards, day, batches, cut.freezing, people)
                if covers(cut, work) and work not in seen:
                    seen.add(work)
                    yield _as_day(situation, [books[m] for m in batches], cut.freezing, team)


def _choices(cut: Cut) -> set[tuple[int, ...]]:
    """Every choice of so many batches of each set of cards."""
    of_each = [combinations_with_replacement(sorted(members), least) for members, least in cut.batches]
    return {tuple(sorted(m for some in chosen for m in some)) for chosen in product(*of_each)}


def _as_day(situation: Situation, batches: list[BookCard], freezing: int, team: Team) -> KitchenDay:
    return KitchenDay(situation, tuple(batches), freezing, team)
