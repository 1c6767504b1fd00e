"""Pans and rings out of use, batches held and ruled out: both levels agree with the oracles."""

from __future__ import annotations

from collections import Counter
from contextlib import suppress
from dataclasses import replace
from functools import cache
from random import Random

import pytest

from scheduler.auditor import audit
from scheduler.cards import Cards
from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanInTime, NoPlanPossible
from scheduler.making import make_cards
from scheduler.model import mip
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayWork
from scheduler.model.given import day_work
from scheduler.planner import make_plan
from scheduler.solve.cuts import covers, reduce
from scheduler.solve.place import Verdict, place
from scheduler.solve.settings import Clock, Settings
from tests.kitchens import random_kitchen
from tests.kitchens_held import name_of, with_given, with_twins
from tests.kitchens_of_kinds import kitchen_of_kinds
from tests.oracle.allocation_highs import Allocation
from tests.oracle.brute_force import least_spoiled
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind
from tests.oracle.day_limits import can_meet, head, modes, stands, turns
from tests.oracle.day_pyjobshop import DrawnDays, KitchenDay
from tests.oracle.test_allocation import assert_agree
from tests.oracle.test_brute_force import one_cook
from tests.oracle.test_day import as_work, index_of
from tests.supplies import with_hands_enough

# ---- the allocation ----

SMALL = {"fruits": (1, 2), "picks_kg": 16.0}
SEEDS = range(40)


def farm(seed: int, kinds: bool = False) -> Situation:
    kitchen_of, days = (kitchen_of_kinds, (3, 3)) if kinds else (random_kitchen, (2, 3))
    return with_given(seed, with_twins(seed, kitchen_of(seed, days=days, **SMALL)))


@cache
def possible(seed: int, kinds: bool = False) -> bool:
    return Allocation(farm(seed, kinds).scenario).possible()


@pytest.mark.parametrize(("seed", "kinds"), [(seed, kinds) for kinds in (False, True) for seed in SEEDS])
def test_spoiled_and_short_are_those_of_the_oracle_or_both_find_nothing(seed: int, kinds: bool) -> None:
    if possible(seed, kinds):
        assert_agree(farm(seed, kinds))
        return
    model = AllocationModel(make_cards(farm(seed, kinds)))
    assert mip.solve(model.model, model.masses, 60.0, 1, 0, lambda *_: False).infeasible


def test_the_farms_are_a_fair_mixture_and_what_is_given_costs_something_in_some() -> None:
    both = [(seed, possible(seed, kinds)) for kinds in (False, True) for seed in SEEDS]
    assert sum(not able for _, able in both) >= 10
    held = [seed for seed in SEEDS if possible(seed) and any(row.hold for row in farm(seed).scenario.held)]
    assert len(held) >= 8
    dearer = 0
    for seed in (seed for seed in SEEDS if possible(seed)):
        scenario = farm(seed).scenario
        free = Allocation(replace(scenario, out=(), held=())).least("spoiled", {})[0]
        dearer += Allocation(scenario).least("spoiled", {})[0] > free + 1
    assert dearer >= 5


# ---- the timetable of a day ----


def held_day(seed: int) -> KitchenDay | None:
    """A day of two to four batches, the first of them held, in a kitchen of equal pans and rings.

    Something may be out, but never the last of its kind, and a recipe ruled out of a pan or a ring.
    """
    rng = Random(f"held day {seed}")
    sizes = {"days": (1, 1), "people": (2, 3), "pans": (2, 3), "rings": (2, 3), "hours": (4, 6)}
    situation = with_twins(seed, with_hands_enough(random_kitchen(seed, **sizes)))
    scenario = situation.scenario
    cards = modes(scenario)
    people = [(scenario.person(turn.shift.person), turn) for turn in turns(scenario) if not turn.overtime]
    if not cards:
        return None
    batches = tuple(rng.choice(cards) for _ in range(rng.randint(2, 4)))
    rows = [_row(rng, scenario.start, card, situation) for card in batches[: rng.randint(1, 3)]]
    out = _one_of_several(rng, situation, batches)
    if rng.random() < 0.5:
        names = [pan.name for pan in scenario.kitchen.pans], [ring.name for ring in scenario.kitchen.rings]
        pan = rng.choice(("", rng.choice(names[0])))
        ring = "" if pan else rng.choice(names[1])
        rows.append(HeldBatch(scenario.start, batches[-1].recipe, pan, ring, hold=False))
    given = replace(scenario, held=tuple(rows), out=out)
    once = {person.name: (person, turn) for person, turn in people}
    return KitchenDay(replace(situation, scenario=given), batches, 0, tuple(once.values()))


def _row(rng: Random, day: object, card: BookCard, situation: Situation) -> HeldBatch:
    kitchen = situation.scenario.kitchen
    pans = [pan.name for pan in kitchen.pans if pan_kind(pan) == pan_kind(card.pan)]
    rings = [ring.name for ring in kitchen.rings if ring_kind(ring) == ring_kind(card.ring)]
    start = kitchen.open + head(card, kitchen) + 5 * rng.randint(0, 12) if rng.random() < 0.6 else None
    return HeldBatch(
        situation.scenario.start, card.recipe, name_of(rng, pans, 0.5), name_of(rng, rings, 0.5), start
    )


def _one_of_several(rng: Random, situation: Situation, batches: tuple[BookCard, ...]) -> tuple[OutOfUse, ...]:
    """Now and then a pan that is not the only one of its kind."""
    scenario = situation.scenario
    kinds = Counter(map(pan_kind, scenario.kitchen.pans))
    spare = [pan.name for pan in scenario.kitchen.pans if kinds[pan_kind(pan)] > 1]
    chosen = name_of(rng, spare, 0.3) if spare else ""
    return (OutOfUse(scenario.start, chosen, "", ""),) if chosen else ()


DRAWN = DrawnDays(held_day, 80)
DAYS, drawn, answer = DRAWN.seeds, DRAWN.day, DRAWN.answer


def work_of(day: KitchenDay) -> tuple[Cards, DayWork]:
    """The day in the program's own terms, each of its first batches pinned as its row says."""
    cards, bare = as_work(day)
    rows = day.situation.scenario.held
    held = {h: index_of(cards, day.batches[h]) for h, row in enumerate(rows) if row.hold}
    return cards, day_work(cards, 0, bare.batches, 0, bare.people, held)


def stands_where_it_may(day: KitchenDay) -> bool:
    """Whether each batch may have a pan and a ring, and one that is held those of its row; the allocation
    refuses all others."""
    scenario = day.situation.scenario
    held = [row for row in scenario.held if row.hold]
    return all(stands(scenario, scenario.start, card) for card in day.batches) and all(
        can_meet(scenario, row, card) for row, card in zip(held, day.batches, strict=False)
    )


@pytest.mark.parametrize("seed", DAYS)
def test_a_day_is_placed_exactly_if_the_oracle_places_it(seed: int) -> None:
    if not stands_where_it_may(drawn(seed)):
        assert not answer(seed)
        return
    cards, work = work_of(drawn(seed))
    found = place(cards, work, effort=1.0)
    assert found.verdict is (Verdict.PLACED if answer(seed) else Verdict.REFUTED)


def test_the_days_are_a_fair_mixture_and_what_is_given_decides_many() -> None:
    refused = [seed for seed in DAYS if not answer(seed) and stands_where_it_may(drawn(seed))]
    assert 20 <= sum(map(answer, DAYS)) <= 60
    decided = 0
    for seed in refused:
        cards, work = work_of(drawn(seed))
        decided += place(cards, DayWork(work.batches, 0, work.people)).verdict is Verdict.PLACED
    assert decided >= 8
    able = [seed for seed in DAYS if stands_where_it_may(drawn(seed))]
    assert sum(bool(work_of(drawn(seed))[1].barred) for seed in able) >= 10


@pytest.mark.parametrize("seed", DAYS)
def test_nothing_that_a_cut_forbids_can_be_placed(seed: int) -> None:
    if answer(seed) or not stands_where_it_may(drawn(seed)):
        return
    cards, work = work_of(drawn(seed))
    cut = reduce(cards, work, Clock(60.0, lambda: False))
    assert cut.proved
    assert covers(cut, work)
    rng = Random(seed)
    for _ in range(6):
        pinned = Counter(each.card for each in cut.pins)
        batches: list[int] = list(pinned.elements())
        for members, least in cut.batches:
            own = sum(pinned[m] for m in members)
            batches += [rng.choice(sorted(members)) for _ in range(least - own)]
        forbidden = replace(
            work, batches=tuple(sorted(batches)), people=cut.people, closed=cut.closed, out=cut.out,
            pins=cut.pins, barred=cut.barred,
        )  # fmt: skip
        assert covers(cut, forbidden)
        assert place(cards, forbidden).verdict is not Verdict.PLACED


# ---- both levels ----


def one_held_cook(seed: int) -> Situation:
    """One person, one pan and one ring; a batch held, mostly at a time, or ruled out, or the pan is out."""
    rng, situation = Random(f"one held cook {seed}"), one_cook(seed)
    scenario = situation.scenario
    day, cards = rng.choice(scenario.dates()), modes(scenario)
    if rng.random() < 0.2 or not cards:
        return replace(
            situation,
            scenario=replace(scenario, out=(OutOfUse(day, scenario.kitchen.pans[0].name, "", ""),)),
        )
    card = rng.choice(cards)
    latest = scenario.kitchen.close - card.chain - card.wash
    first = scenario.kitchen.open + head(card, scenario.kitchen)
    start = rng.choice((None, *range(first, latest + 1, 5)))
    row = HeldBatch(day, card.recipe, "", "", start, rng.choice((None, card.units / 10)))
    if rng.random() < 0.3:
        row = HeldBatch(day, card.recipe, hold=False)
    return replace(situation, scenario=replace(scenario, held=(row,)))


@pytest.mark.parametrize("seed", [4, 9, 10, 18, 19, 20, 22, 25, 35, 41, 42, 44, 45, 47, 53, 55])
def test_the_joined_optimum_is_that_of_trying_every_plan(seed: int) -> None:
    situation = one_held_cook(seed)
    least = least_spoiled(situation) / 1000
    if least == float("inf"):
        with pytest.raises(NoPlanPossible, match="held: ") as refused:
            make_plan(situation)
        assert len(refused.value.rules) == 1
        return
    spoiled = make_plan(situation).goals[0]
    assert spoiled.best == pytest.approx(spoiled.bound, abs=0.011)
    assert spoiled.best == pytest.approx(least, abs=0.011)


@pytest.mark.parametrize("method", ["habit", "exact"])
@pytest.mark.parametrize("seed", range(12))
def test_a_plan_of_what_is_given_has_no_finding(seed: int, method: str) -> None:
    situation = farm(seed)
    settings = Settings(seconds=20.0, workers=1, method="habit" if method == "habit" else "exact")
    with suppress(NoPlanPossible, NoPlanInTime):
        assert audit(situation, make_plan(situation, settings)) == ()
