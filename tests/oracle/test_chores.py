"""Labels and fruit taken out: days, cuts and allocations of kitchens with them agree with what was written a
second time from the rule book."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import count, islice
from random import Random
from typing import Any

import pytest

from scheduler.cards import MONEY, freeze_pieces
from scheduler.domain.scenario import Scenario, Situation
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.solve.cuts import covers, reduce
from scheduler.solve.place import Verdict, place
from scheduler.solve.settings import Clock
from tests.kitchens import random_kitchen
from tests.kitchens_by_day import closed_now_and_then
from tests.kitchens_of_chores import drawing_down, with_chores
from tests.kitchens_of_kinds import kitchen_of_kinds, trading_kitchen
from tests.oracle.day_limits import modes, on_the_day, turns
from tests.oracle.day_pyjobshop import DrawnDays, KitchenDay, can_be_placed, random_day
from tests.oracle.exhaustive_day import TinyDay
from tests.oracle.test_allocation import assert_agree, assert_agree_in_money_too, least
from tests.oracle.test_cuts import assert_cut_holds
from tests.oracle.test_day import as_work

SMALL = {"fruits": (1, 2), "picks_kg": 16.0}


def day_of_chores(seed: int) -> KitchenDay | None:
    """Three batches of a random day at most, with jars to label and now and then fruit to take out."""
    day, rng = random_day(seed), Random(f"day of chores {seed}")
    if day is None:
        return None
    chores = {"labelling": 5 * rng.randint(12, 36), "taking_out": rng.choice((0, 10, 45))}
    return replace(day, batches=day.batches[: rng.randint(1, 3)], people=day.people[:2], **chores)


DRAWN = DrawnDays(day_of_chores, 40, but=(6,))
"""Without one that takes the library half a minute."""
DAYS, drawn, answer = DRAWN.seeds, DRAWN.day, DRAWN.answer


@pytest.mark.parametrize("seed", DAYS)
def test_a_day_is_placed_exactly_if_the_oracle_places_it(seed: int) -> None:
    found = place(*as_work(drawn(seed)))
    assert found.verdict is (Verdict.PLACED if answer(seed) else Verdict.REFUTED)


def test_the_days_are_a_fair_mixture_decided_now_and_then_by_labels_and_by_taking_out() -> None:
    refused = [seed for seed in DAYS if not answer(seed)]
    assert 8 <= len(refused) <= 32
    assert sum(can_be_placed(replace(drawn(seed), labelling=0)) for seed in refused) >= 3
    assert sum(can_be_placed(replace(drawn(seed), taking_out=0)) for seed in refused) >= 1


@pytest.mark.parametrize("seed", DAYS)
def test_nothing_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    if not answer(seed):
        assert_cut_holds(*as_work(drawn(seed)), seed)


def test_a_cut_that_needs_its_labels_forbids_no_day_that_labels_less() -> None:
    narrow = 0
    for seed in (seed for seed in DAYS if not answer(seed)):
        cards, work = as_work(drawn(seed))
        cut = reduce(cards, work, Clock(60.0, lambda: False))
        narrow += bool(cut.labelling)
        assert covers(cut, replace(work, labelling=work.labelling + 5))
        assert covers(cut, replace(work, labelling=0)) is not bool(cut.labelling)
        assert covers(cut, replace(work, taking_out=0)) is not bool(cut.taking_out)
    assert narrow >= 3


@pytest.mark.parametrize("seed", [seed for seed in DAYS if seed % 2])
def test_less_beside_the_batches_never_makes_a_day_harder(seed: int) -> None:
    day = drawn(seed)
    cards, work = as_work(day)
    if answer(seed):
        for minutes in range(0, day.labelling, 5):
            assert place(cards, replace(work, labelling=minutes)).verdict is Verdict.PLACED
        assert place(cards, replace(work, taking_out=0)).verdict is Verdict.PLACED


def tiny_day(seed: int) -> KitchenDay | None:
    """One batch at most, somebody to stand by for it, jars to label and fruit to take out."""
    rng, one = Random(f"tiny day of chores {seed}"), (1, 1)
    sizes = {"days": one, "fruits": one, "pans": one, "rings": one, "people": (1, 2), "hours": (2, 3)}
    situation = random_kitchen(seed, **sizes, picks_kg=7.0, warm=False)
    cards = modes(situation.scenario)
    offered = {turn.shift.person: turn for turn in turns(situation.scenario)}
    twice = len(set(situation.scenario.shifts)) < len(situation.scenario.shifts)
    if not cards or not offered or twice:
        return None
    people = tuple((on_the_day(situation.scenario, turn), turn) for turn in offered.values())
    batches = tuple(rng.choice(cards) for _ in range(rng.randint(0, 1)))
    return KitchenDay(situation, batches, 0, people, 5 * rng.randint(2, 24), rng.choice((0, 10, 45)))


TINY = list(islice((seed for seed in count() if tiny_day(seed) is not None), 30))


@cache
def tiny_can_be_placed(seed: int) -> bool:
    day = tiny_day(seed)
    assert day is not None
    chores = [*freeze_pieces(day.labelling), *([day.taking_out] if day.taking_out else [])]
    rules = day.situation.scenario.work_rules
    return TinyDay(day.kitchen, day.batches, 0, day.people, rules, chores=chores).can_be_placed()


@pytest.mark.parametrize("seed", TINY)
def test_a_day_is_placed_exactly_if_some_course_of_it_obeys_the_rules(seed: int) -> None:
    day = tiny_day(seed)
    assert day is not None
    found = place(*as_work(day), effort=2.0)
    assert found.verdict is (Verdict.PLACED if tiny_can_be_placed(seed) else Verdict.REFUTED)


def test_the_tiny_days_are_a_fair_mixture() -> None:
    assert len(TINY) // 4 <= sum(map(tiny_can_be_placed, TINY)) <= 3 * len(TINY) // 4


DRAWN_DOWN = (0, 1, 2, *range(5, 16))
"""Of the first sixteen those that both programs solve within seconds."""


def kitchen(seed: int) -> Situation:
    return with_chores(seed, random_kitchen(seed, days=(3, 3), **SMALL))


@pytest.mark.parametrize("seed", range(24))
def test_spoiled_and_short_are_those_of_the_oracle(seed: int) -> None:
    assert_agree(kitchen(seed))


@pytest.mark.parametrize("seed", [5, 6, 13, 19, 22, 43])
def test_kitchens_that_make_more_than_jam_agree_with_the_oracle(seed: int) -> None:
    situation = kitchen_of_kinds(seed, days=(3, 3), **SMALL)
    assert_agree(with_chores(seed, closed_now_and_then(seed, situation)))


@pytest.mark.parametrize("seed", range(14))
def test_kitchens_that_trade_agree_with_the_oracle_in_money_too(seed: int) -> None:
    """Orders and the shop's stock take labelled jars only, which people must come in for."""
    situation = with_chores(
        seed, trading_kitchen(seed, days=(3, 3), fruits=(1, 2), pans=(1, 1), picks_kg=12.0)
    )
    assert_agree_in_money_too(situation)


@pytest.mark.parametrize("seed", DRAWN_DOWN)
def test_kitchens_that_cook_from_the_freezer_alone_agree_with_the_oracle(seed: int) -> None:
    assert_agree(drawing_down(seed, days=(3, 3), fruits=(1, 2)))


def test_labels_and_taking_out_bind_several_of_these_kitchens() -> None:
    by_labels = by_taking_out = 0
    for seed in DRAWN_DOWN:
        scenario = drawing_down(seed, days=(3, 3), fruits=(1, 2)).scenario
        bound, *freely = (
            least(AllocationModel(make_cards(changed(scenario, **other))), "spoiled")
            for other in ({}, {"labels": None}, {"take_out_minutes": 0})
        )
        by_labels += bound > freely[0] + MONEY
        by_taking_out += bound > freely[1] + MONEY
    assert by_labels >= 2
    assert by_taking_out >= 5


def changed(scenario: Scenario, **kitchen: Any) -> Situation:
    changed = replace(scenario, kitchen=replace(scenario.kitchen, **kitchen))
    return Situation(changed, scenario.start, "changed")
