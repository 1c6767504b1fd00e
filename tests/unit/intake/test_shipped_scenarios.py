"""The scenarios that come with the program are sound and what they are said to be."""

from __future__ import annotations

from datetime import timedelta

import pytest

from scheduler.domain.fruit import Place
from scheduler.domain.scenario import Situation
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from tests.unit.intake.spoil import SCENARIOS

NAMES = ("glut-week", "quiet-week", "winter-draw-down")


@pytest.fixture(scope="module", params=NAMES)
def situation(request: pytest.FixtureRequest) -> Situation:
    return read_scenario(SCENARIOS / str(request.param))


def test_every_recipe_pan_and_ring_is_of_use(situation: Situation) -> None:
    cards = make_cards(situation)
    scenario = situation.scenario
    assert {card.recipe for card in cards.batches} == set(range(len(scenario.recipes)))
    pairs = {(card.pan, card.ring) for card in cards.batches}
    fitting = {
        (i, j)
        for i, pan in enumerate(cards.pans)
        for j, ring in enumerate(cards.rings)
        if pan.pan.diameter_cm <= ring.ring.largest_pan_cm
    }
    assert pairs == fitting


def test_it_starts_on_a_monday_of_the_same_kitchen(situation: Situation) -> None:
    assert situation.scenario.start.weekday() == 0
    assert situation.scenario.kitchen_id == "kilbrack"


def test_the_glut_is_a_glut() -> None:
    scenario = read_scenario(SCENARIOS / "glut-week").scenario
    assert (scenario.days, len(scenario.fruits), len(scenario.people)) == (7, 4, 5)
    assert (len(scenario.kitchen.pans), len(scenario.kitchen.rings)) == (3, 4)
    assert len({pan.litres for pan in scenario.kitchen.pans}) >= 2
    assert sorted(len(recipe.fruits) for recipe in scenario.recipes) == [1, 1, 1, 1, 2]
    assert 6 <= len(scenario.orders) <= 8
    picked = {day: sum(lot.kg for lot in scenario.picks if lot.day == day) for day in scenario.dates()}
    sold = {day: sum(row.kg for row in scenario.punnets if row.day == day) for day in scenario.dates()}
    # What cannot be sold on the peak day is far more than a day's freezing and what the pans cook.
    peak = max(picked, key=lambda day: picked[day])
    assert picked[peak] - sold[peak] > 5 * scenario.kitchen.freezer.freeze_kg_per_day


def test_the_quiet_week_picks_little() -> None:
    scenario = read_scenario(SCENARIOS / "quiet-week").scenario
    assert scenario.days == 7
    picked = sum(lot.kg for lot in scenario.picks)
    demand = sum(row.kg for row in scenario.punnets)
    assert picked < 1.3 * demand


def test_the_winter_has_only_the_freezer() -> None:
    scenario = read_scenario(SCENARIOS / "winter-draw-down").scenario
    assert scenario.days == 84
    assert scenario.picks == ()
    assert {lot.place for lot in scenario.lots} == {Place.FREEZER}
    assert all(recipe.frozen_share == 1 for recipe in scenario.recipes)
    last = scenario.start + timedelta(days=scenario.days - 1)
    assert any(lot.use_by is not None and lot.use_by < last for lot in scenario.lots)
    assert max(order.due for order in scenario.orders) > last - timedelta(days=7)
