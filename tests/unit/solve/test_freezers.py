"""Which freezer each lot lies in, and what is said and done where a freezer must be left."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from scheduler.auditor import audit
from scheduler.cards import Cards
from scheduler.domain.kitchen import Freezer
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanPossible
from scheduler.making import make_cards
from scheduler.plan_rows import FreezerDay, Plan
from scheduler.planner import make_plan
from scheduler.solve.freezers import in_each_freezer
from scheduler.solve.settings import Settings
from tests.kitchens import random_kitchen

MONDAY = date(2026, 7, 6)
LARGE = Freezer(kg=10.0, litres=40.0, freeze_kg_per_day=2.0, tray_litres_per_kg=4.0, name="large")
SMALL = Freezer(kg=4.0, litres=10.0, freeze_kg_per_day=1.0, tray_litres_per_kg=4.0, name="small")
GRAM = 1e-3
BY_HABIT = Settings(method="habit", workers=1)


def cards(**kitchen: Any) -> Cards:
    """A kitchen of one fruit (2 litres a kg boxed) from Monday on."""
    situation = random_kitchen(3, days=(4, 4), fruits=(1, 1))
    scenario = situation.scenario
    fruit = replace(scenario.fruits[0], name="berry", frozen_kg_per_litre=0.5)
    kitchen = {"freezer": LARGE, "second_freezer": SMALL} | kitchen
    scenario = replace(scenario, start=MONDAY, kitchen=replace(scenario.kitchen, **kitchen))
    scenario = replace(
        scenario,
        fruits=(fruit,),
        recipes=(),
        lots=(),
        picks=(),
        punnets=(),
        shifts=(),
        orders=(),
        deliveries=(),
    )
    return make_cards(replace(situation, scenario=scenario))


def row(day: int, lot: str, left: float, frozen: float = 0.0) -> FreezerDay:
    when = MONDAY + timedelta(days=day)
    return FreezerDay(when, lot, "berry", date(2027, 1, 1), left - frozen, frozen, 0.0, 0.0, left)


def apart(cards: Cards, *rows: FreezerDay) -> list[float]:
    return [each.in_second for each in in_each_freezer(cards, rows)]


def test_the_first_freezer_is_filled_first() -> None:
    assert sum(apart(cards(), row(0, "A", 6.0), row(0, "B", 7.0))) == pytest.approx(3.0, abs=GRAM)


def test_what_is_frozen_lies_where_it_was_frozen() -> None:
    """2 kg a day in the large one, so that the third kg is frozen by the small one."""
    assert apart(cards(), row(0, "A", 3.0, frozen=3.0)) == pytest.approx([1.0], abs=GRAM)


def test_what_is_cooked_is_taken_from_the_second_freezer_first() -> None:
    assert apart(cards(), row(0, "A", 13.0), row(1, "A", 11.5), row(2, "A", 9.0)) == pytest.approx(
        [3.0, 1.5, 0.0], abs=GRAM
    )


def test_all_is_carried_over_for_defrosting_and_stays_there() -> None:
    """The large one is empty on Tuesday evening and on Wednesday; nothing says that it must go back."""
    defrosted = cards(freezer=replace(LARGE, defrost_on=MONDAY + timedelta(days=2)))
    rows = [row(day, "A", 4.0) for day in range(4)]
    assert apart(defrosted, *rows) == pytest.approx([0.0, 4.0, 4.0, 4.0], abs=GRAM)


def test_litres_bind_as_kg_do() -> None:
    """A kg takes 2 litres boxed: of 10 kg a large one of 12 litres holds 6."""
    small = cards(freezer=replace(LARGE, litres=12.0))
    assert apart(small, row(0, "A", 10.0)) == pytest.approx([4.0], abs=GRAM)


def test_one_freezer_has_no_second_part() -> None:
    assert apart(cards(second_freezer=None), row(0, "A", 6.0)) == [0.0]


def with_freezer(seed: int, **freezer: Any) -> Situation:
    situation = random_kitchen(seed, days=(3, 3), fruits=(1, 1), picks_kg=10.0)
    kitchen = situation.scenario.kitchen
    kitchen = replace(kitchen, freezer=replace(kitchen.freezer, **freezer))
    return replace(situation, scenario=replace(situation.scenario, kitchen=kitchen))


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("event", ["defrost_on", "fails_on"])
def test_the_habit_obeys_a_freezer_that_must_be_emptied(seed: int, event: str) -> None:
    situation = with_freezer(seed)
    last = situation.scenario.dates()[-1]
    situation = with_freezer(seed, **{event: last})
    plan = make_plan(situation, BY_HABIT)
    assert left(plan, last) == pytest.approx(0.0, abs=GRAM)
    assert list(audit(situation, plan)) == []


def left(plan: Plan, day: date) -> float:
    return sum(each.left for each in plan.freezer if each.day == day)


def test_room_that_cannot_be_kept_free_is_named() -> None:
    situation = next(
        each for each in map(with_freezer, range(40)) if any(lot.use_by for lot in each.scenario.lots)
    )
    scenario = situation.scenario
    kitchen = replace(
        scenario.kitchen, room_free_kg=scenario.kitchen.freezer.kg, room_free_from=scenario.start
    )
    nobody = replace(scenario, kitchen=kitchen, shifts=())
    with pytest.raises(NoPlanPossible, match=r"room-kept-free: .* kg lie in the freezer"):
        make_plan(replace(situation, scenario=nobody))
