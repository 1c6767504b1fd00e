"""Cuts: whatever a cut forbids has no timetable, whichever cards of its kinds are drawn."""

from __future__ import annotations

from random import Random

import pytest

from scheduler.cards import Cards
from scheduler.model.day import DayWork
from scheduler.solve.cuts import covers, reduce
from scheduler.solve.place import Verdict, place
from scheduler.solve.settings import Clock
from tests.oracle.day_pyjobshop import random_day
from tests.oracle.test_day import DAYS, answer, as_work

DRAWS = 6


@pytest.mark.parametrize("seed", DAYS)
def test_nothing_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    if answer(seed):
        return
    day = random_day(seed)
    assert day is not None
    assert_cut_holds(*as_work(day), seed)


def assert_cut_holds(cards: Cards, work: DayWork, seed: int) -> None:
    """A refuted day's cut covers it, and nothing drawn from what it forbids can be placed."""
    cut = reduce(cards, work, Clock(60.0, lambda: False))
    assert cut.proved
    assert covers(cut, work)
    rng = Random(seed)
    for _ in range(DRAWS):
        drawn = [rng.choice(sorted(members)) for members, least in cut.batches for _ in range(least)]
        batches, chores = tuple(sorted(drawn)), (cut.labelling, cut.taking_out)
        forbidden = DayWork(batches, cut.freezing, cut.people, cut.closed, *chores)
        assert covers(cut, forbidden)
        assert place(cards, forbidden).verdict is not Verdict.PLACED
