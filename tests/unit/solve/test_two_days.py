"""Jelly over two days: softened and strained on one, dripping overnight, boiled on the next."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Literal

import pytest

from scheduler.domain.kitchen import DripStands
from scheduler.domain.scenario import Situation
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.plan_rows import Part, Plan
from scheduler.planner import Settings, make_plan

QUIET = Path(__file__).parents[3] / "scenarios" / "quiet-week"
ORDERED = 10
"""Jars of jelly that the shipped quiet week has an order for."""


@cache
def jelly_week(stands: int = 2, orders: int = 1, **days: date) -> Situation:
    """The shipped quiet week with so many drip stands, its jelly ordered so many times over."""
    situation = read_scenario(QUIET)
    scenario = situation.scenario
    kitchen = replace(scenario.kitchen, drip_stands=DripStands(stands, 12.0))
    jelly = next(order for order in scenario.orders if order.recipe == "blackberry jelly")
    more = tuple(replace(jelly, name=f"{jelly.name} {n}") for n in range(1, orders))
    shifts = tuple(shift for shift in scenario.shifts if not days or shift.day in days.values())
    changed = replace(scenario, kitchen=kitchen, orders=(*scenario.orders, *more), shifts=shifts)
    return replace(situation, scenario=changed)


@cache
def planned(situation: Situation, method: Literal["exact", "habit"] = "exact") -> Plan:
    return make_plan(situation, Settings(seconds=60.0, workers=1, method=method))


def short_of_jelly(plan: Plan) -> int:
    return sum(line.jars - line.filled for line in plan.orders if line.recipe == "blackberry jelly")


@pytest.mark.parametrize("method", ["exact", "habit"])
def test_juice_is_boiled_the_day_after_its_fruit_was_softened(method: Literal["exact", "habit"]) -> None:
    plan = planned(jelly_week(), method)
    softened = {batch.id: batch for batch in plan.batches if batch.part is Part.SOFTEN}
    boiled = [batch for batch in plan.batches if batch.part is Part.BOIL]
    assert softened
    assert sorted(batch.juice_of for batch in boiled) == sorted(softened)
    for batch in boiled:
        before = softened[batch.juice_of]
        assert (before.day, before.kg) == (batch.day - timedelta(days=1), batch.kg)
    assert short_of_jelly(plan) == 0


def test_fruit_counts_on_the_first_day_and_jars_on_the_second() -> None:
    plan = planned(jelly_week())
    softened = [batch for batch in plan.batches if batch.part is Part.SOFTEN]
    mixed = sum(mix.fresh_kg + mix.frozen_kg for mix in plan.mixes if mix.recipe == "blackberry jelly")
    assert mixed == pytest.approx(sum(batch.kg for batch in softened), abs=1e-3)
    assert all(batch.jars == batch.sugar_kg == 0 for batch in softened)


def test_without_a_drip_stand_there_is_no_jelly() -> None:
    plan = planned(jelly_week(stands=0))
    assert all(batch.recipe != "blackberry jelly" for batch in plan.batches)
    assert short_of_jelly(plan) == ORDERED


@pytest.mark.parametrize("stands", [1, 2])
def test_no_more_drips_overnight_than_there_are_stands(stands: int) -> None:
    plan = planned(jelly_week(stands=stands, orders=4))
    held = Counter(batch.day for batch in plan.batches if batch.part is not Part.WHOLE)
    assert max(held.values()) <= stands


def test_a_day_alone_makes_no_jelly() -> None:
    first = min(shift.day for shift in read_scenario(QUIET).scenario.shifts)
    plan = planned(jelly_week(first=first))
    assert all(batch.part is Part.WHOLE for batch in plan.batches)
    assert short_of_jelly(plan) == ORDERED


def test_a_part_without_its_other_day_has_no_card() -> None:
    """A jar oven too small for any batch of juice leaves nothing to soften either."""
    situation = jelly_week()
    kitchen = situation.scenario.kitchen
    oven = replace(kitchen.oven, jars=5)
    small = replace(situation, scenario=replace(situation.scenario, kitchen=replace(kitchen, oven=oven)))
    assert any(card.part is Part.SOFTEN for card in make_cards(situation).batches)
    assert all(card.part is Part.WHOLE for card in make_cards(small).batches)
