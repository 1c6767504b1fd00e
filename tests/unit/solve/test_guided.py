"""Plans with time kept free on every day: days that fail are dealt out anew, the others stay."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from scheduler.cards import Cards
from scheduler.making import make_cards
from scheduler.model.day import DayWork
from scheduler.model.mip import MipAnswer
from scheduler.solve import place
from scheduler.solve.days import Days
from scheduler.solve.guided import soon, with_margins
from scheduler.solve.joined import Search
from scheduler.solve.margins import FIRST, STEP, SURE
from scheduler.solve.place import Answer, Verdict
from scheduler.solve.ranks import value_of
from scheduler.solve.settings import Clock, Settings
from tests.kitchens import random_kitchen

ALONE = Settings(seconds=60.0, workers=1)
INFINITE = float("inf")


def search_of(seed: int) -> Search:
    cards = make_cards(random_kitchen(seed, days=(3, 4), fruits=(1, 2), picks_kg=20.0))
    return Search(cards, ALONE, Clock(60.0, lambda: False), lambda _: None, "EUR")


class Watched:
    """Which days of a search fail, full ones by decree, and what it then solves."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, most: int) -> None:
        self.margins: list[list[int]] = []
        self.counts: list[tuple[tuple[int, ...], ...]] = []
        self.failed: list[set[int]] = []
        whole = Search.solve

        def solve(search: Search, *given: Any, margins: Mapping[int, int], **options: Any) -> MipAnswer:
            answer = whole(search, *given, margins=margins, **options)
            self.margins.append([margins[day] for day in range(search.cards.days)])
            if answer.values is not None:
                self.counts.append(search.model.read(answer.values).count)
            return answer

        placed = Days.answers

        def answers(days: Days, *given: Any) -> dict[int, Answer]:
            found = placed(days, *given)
            self.failed.append({day for day, answer in found.items() if answer.timetable is None})
            return found

        def strictly(cards: Cards, work: DayWork, *given: Any, **options: Any) -> Answer:
            if len(work.batches) > most:
                return Answer(Verdict.UNDECIDED)
            return place.place(cards, work, *given, **options)

        monkeypatch.setattr(Search, "solve", solve)
        monkeypatch.setattr(Days, "answers", answers)
        monkeypatch.setattr("scheduler.solve.days.place", strictly)


@pytest.mark.parametrize("seed", [4, 5, 9])
def test_days_that_fail_keep_more_time_free_and_the_others_their_batches(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    search = search_of(seed)
    first = search.solve("spoiled", 60.0, INFINITE, margins=dict.fromkeys(range(search.cards.days), FIRST))
    assert first.values is not None
    most = max(map(sum, search.model.read(first.values).count)) - 1
    watched = Watched(monkeypatch, most)
    best = with_margins(search, "spoiled", INFINITE, 60.0)
    assert search.found is not None
    assert best == value_of(search.cards, "spoiled", search.found.allocation)
    assert max(map(sum, search.found.allocation.count)) <= most
    assert watched.margins[0] == [FIRST] * search.cards.days
    assert watched.failed[0]
    until = next(n for n, failed in enumerate(watched.failed) if not failed)
    for n in range(until):
        for day, (before, after) in enumerate(zip(*watched.margins[n : n + 2], strict=True)):
            assert after - before == (STEP if day in watched.failed[n] else 0)
            if day not in watched.failed[n]:
                assert watched.counts[n][day] == watched.counts[n + 1][day]


@pytest.mark.parametrize("seed", [2, 6])
def test_where_all_days_are_placed_less_is_kept_free_as_long_as_plans_get_better(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    watched = Watched(monkeypatch, most=99)
    search = search_of(seed)
    best = with_margins(search, "spoiled", INFINITE, 60.0)
    placed = [row for row, failed in zip(watched.margins, watched.failed, strict=False) if not failed]
    assert placed[0] == [FIRST] * search.cards.days
    assert min(watched.margins[-1]) < FIRST
    assert search.found is not None
    # What the best plan keeps free is where the next goal begins.
    free = search.enough
    watched.margins.clear()
    with_margins(search, "spoiled", best + 1, 60.0)
    assert watched.margins[0] == free


@pytest.mark.parametrize("seed", [2, 4, 9])
def test_a_first_plan_is_placed_with_much_time_kept_free(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    watched = Watched(monkeypatch, most=99)
    search = search_of(seed)
    best = soon(search, "spoiled")
    assert search.found is not None
    assert best == value_of(search.cards, "spoiled", search.found.allocation)
    assert len(search.found.timetables) == search.cards.days
    assert watched.margins[0] == [SURE] * search.cards.days
    # What is kept free guides the search only: the model itself is as it was.
    without = search.solve("spoiled", 60.0, INFINITE, margins=dict.fromkeys(range(search.cards.days), 0))
    assert without.bound <= best + 1e-6


def test_where_nobody_can_be_placed_there_is_no_first_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    search = search_of(2)
    Watched(monkeypatch, most=-1)
    assert soon(search, "spoiled") == INFINITE
    assert search.found is None


def test_a_first_plan_is_given_up_where_somebody_stops() -> None:
    search = search_of(2)
    search.clock.stop = lambda: True
    assert soon(search, "spoiled") == INFINITE
