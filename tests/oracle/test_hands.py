"""Learners, the young, minutes in a row at the stove and short shifts: both levels agree with the oracles."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from itertools import count, islice, product
from random import Random

import pytest

from scheduler.auditor.stove import birthday
from scheduler.cards import MONEY
from scheduler.domain.people import Person
from scheduler.domain.scenario import Situation
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayWork
from scheduler.planner import make_plan
from scheduler.solve.cuts import covers, easiest, reduce
from scheduler.solve.place import Verdict, place, refuted
from scheduler.solve.settings import Clock
from tests.kitchens_of_hands import kitchen_of_hands
from tests.oracle.allocation_highs import Allocation
from tests.oracle.brute_force import least_spoiled
from tests.oracle.day_limits import birthdays, modes, on_the_day, turns
from tests.oracle.day_pyjobshop import KitchenDay, random_day
from tests.oracle.day_pyjobshop import can_be_placed as placed_by_library
from tests.oracle.exhaustive_day import TinyDay
from tests.oracle.test_allocation import assert_agree, least
from tests.oracle.test_day import as_work

SEEDS = (0, 1, 2, 3, 5, 8, 12, 17, 18, 19, 22, 23, 25, 29, 40, 41)  # all but the first three cook less for it
ONE = (1, 1)


def small(seed: int) -> Situation:
    return kitchen_of_hands(seed, days=(2, 2), fruits=(1, 2), people=(2, 4), picks_kg=16.0)


@pytest.mark.parametrize("seed", SEEDS)
def test_spoiled_and_short_are_those_of_the_oracle(seed: int) -> None:
    assert_agree(small(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_money_alone_is_that_of_the_oracle(seed: int) -> None:
    """Short shifts are paid for longer; where orders are worth it, people come in."""
    situation = small(seed)
    money, _ = Allocation(situation.scenario).least("money", {})
    assert least(AllocationModel(make_cards(situation)), "money") / MONEY == pytest.approx(
        money / 100, abs=0.02
    )


def tiny_day(seed: int) -> KitchenDay | None:
    """One or two batches on a day on which somebody's minutes at the stove are limited."""
    rng = Random(f"tiny day {seed}")
    sizes = {"days": ONE, "fruits": ONE, "pans": (1, 2), "rings": (1, 2), "people": (1, 3), "hours": (3, 4)}
    situation = kitchen_of_hands(seed, **sizes, picks_kg=7.0, warm=False)
    scenario = situation.scenario
    cards = modes(scenario)
    offered = [turn for turn in turns(scenario) if turn.shift.day == scenario.start]
    people = []
    for person in scenario.people:
        mine = [turn for turn in offered if turn.shift.person == person.name]
        if mine:
            people.append(rng.choice(mine))
    if not cards or len(people) < 2:
        return None
    batches = tuple(rng.choice(cards) for _ in range(rng.randint(1, 2)))
    return KitchenDay(situation, batches, 0, tuple((on_the_day(scenario, turn), turn) for turn in people))


# Of the first 150 days those that can be walked through within two seconds, and of those that can be placed
# only some.
TINY = (0, 1, 6, 7, 13, 18, 19, 23, 24, 27, 28, 29, 36, 37, 38, 41, 46, 47, 51, 52, 56, 57, 58)
TINY += (81, 89, 144, 148)


@cache
def can_be_placed(seed: int) -> bool:
    day = tiny_day(seed)
    assert day is not None
    return TinyDay(day.kitchen, day.batches, 0, day.people, day.situation.scenario.work_rules).can_be_placed()


@pytest.mark.parametrize("seed", TINY)
def test_a_day_is_placed_exactly_if_some_course_of_it_obeys_the_rules(seed: int) -> None:
    day = tiny_day(seed)
    assert day is not None
    found = place(*as_work(day), effort=2.0)
    assert found.verdict is (Verdict.PLACED if can_be_placed(seed) else Verdict.REFUTED)


def test_the_days_are_a_fair_mixture_and_none_needs_names_to_be_refuted() -> None:
    assert len(TINY) // 4 <= sum(map(can_be_placed, TINY)) <= 3 * len(TINY) // 4
    days = [as_work(day) for seed in TINY if not can_be_placed(seed) and (day := tiny_day(seed))]
    assert all(refuted(*day) for day in days)


def test_without_the_longest_stretch_some_of_the_days_can_be_placed() -> None:
    days = [day for seed in TINY if not can_be_placed(seed) and (day := tiny_day(seed))]
    assert sum(not refuted(*as_work(with_stretches(day, None))) for day in days) >= 4


def with_stretches(day: KitchenDay, longest: int | None) -> KitchenDay:
    scenario = day.situation.scenario
    rules = replace(scenario.work_rules, longest_stove_minutes=longest, stove_rest_minutes=15)
    return replace(day, situation=replace(day.situation, scenario=replace(scenario, work_rules=rules)))


@pytest.mark.parametrize("seed", TINY)
def test_nothing_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    if can_be_placed(seed):
        return
    day = tiny_day(seed)
    assert day is not None
    cards, work = as_work(day)
    cut = reduce(cards, work, Clock(60.0, lambda: False))
    assert covers(cut, work)
    rng = Random(seed)
    for _ in range(4):
        drawn = [rng.choice(sorted(members)) for members, fewest in cut.batches for _ in range(fewest)]
        forbidden = DayWork(tuple(sorted(drawn)), cut.freezing, cut.people)
        assert place(cards, forbidden).verdict is not Verdict.PLACED


# Of the first 150 days those whose batch cooks hand over, as it is longer than such a stretch.
HANDED_OVER = (
    (56, 20), (57, 15), (57, 20), (78, 15), (78, 20), (80, 15), (90, 20), (102, 15), (120, 15),
)  # fmt: skip


@pytest.mark.parametrize(("seed", "longest"), HANDED_OVER)
def test_the_easiest_batch_is_no_harder_to_mind_than_one_that_is_handed_over(seed: int, longest: int) -> None:
    day = tiny_day(seed)
    assert day is not None
    cards, work = as_work(replace(with_stretches(day, longest), batches=day.batches[:1]))
    assert place(cards, work).verdict is Verdict.PLACED
    easy = easiest([cards.batches[work.batches[0]]])
    assert easy is not None
    wider = replace(cards, batches=(*cards.batches, easy))
    assert not refuted(wider, replace(work, batches=(len(cards.batches),)))


def one_pan(seed: int) -> Situation:
    """Two people, one pan and one ring for three hours of a day."""
    sizes = {"days": ONE, "fruits": ONE, "pans": ONE, "rings": ONE, "people": (2, 2), "hours": (3, 3)}
    return kitchen_of_hands(seed, **sizes, picks_kg=5.0)


# Of the first 210 some that can be tried through within two seconds, and in which people do less than their
# skills and strength would let them do, or cook all the same (146).
@pytest.mark.parametrize("seed", [103, 122, 143, 146, 150, 159, 163, 178, 199, 209])
def test_the_joined_optimum_is_that_of_trying_every_plan(seed: int) -> None:
    situation = one_pan(seed)
    spoiled = make_plan(situation).goals[0]
    assert spoiled.best == pytest.approx(spoiled.bound, abs=0.011)
    assert spoiled.best == pytest.approx(least_spoiled(situation) / 1000, abs=0.011)


LEARNING = list(islice((seed for seed in count() if random_day(seed, hands=True) is not None), 24))


@pytest.mark.parametrize("seed", LEARNING)
def test_a_day_of_learners_and_the_young_is_placed_exactly_if_the_library_places_it(seed: int) -> None:
    day = random_day(seed, hands=True)
    assert day is not None
    found = place(*as_work(day))
    assert found.verdict is (Verdict.PLACED if placed_by_library(day) else Verdict.REFUTED)


def test_ages_are_the_same_in_three_formulations() -> None:
    near = [date(2026, 2, 28) + timedelta(days=n) for n in range(-3, 4)]
    for born in (date(2008, 2, 27), date(2008, 2, 28), date(2008, 2, 29), date(2008, 3, 1)):
        person = Person("Brid", frozenset(), 15.0, 20.0, 40.0, born=born)
        for years, day in product((17, 18, 20), near):
            when = day.replace(year=born.year + years)
            old_enough = birthdays(born, when) >= years
            assert old_enough == (when >= birthday(born, years)) == (not person.younger_than(years, when))
