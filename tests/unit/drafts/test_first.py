"""Ten answers make a valid scenario that can be planned; what is not understood is told."""

from __future__ import annotations

import datetime as dt

import pytest

from scheduler.auditor import audit
from scheduler.domain.scenario import Units
from scheduler.drafts.first import answered, questions
from scheduler.drafts.first_files import texts_of, usual
from scheduler.errors import InputFaults
from scheduler.finished import warnings_of
from scheduler.intake import situation_of
from scheduler.physics.composition import composition
from scheduler.physics.keeping import known_fruits
from scheduler.planner import Settings, make_plan

OFFERED = {question.key: question.offered for question in questions(dt.date(2026, 7, 1))}
SMALL = {"days": "2", "people": "2, 08:00-13:00", "kg": "12 lb, 5", "pans": "12"}


def test_there_are_ten_questions_and_the_plan_starts_on_a_monday() -> None:
    assert len(OFFERED) == 10
    assert OFFERED["start"] == "2026-07-06"


@pytest.mark.parametrize(
    "told",
    [
        {},
        SMALL,
        {"fruits": ", ".join(usual()), "kg": "4", "jars": "0", "days": "1"},
        {"rings": "2 induction", "pans": "5 gal, 9", "freezer": "0", "people": "1, 9:00 to 12:00"},
    ],
)
def test_answers_make_a_valid_scenario(told: dict[str, str]) -> None:
    scenario = situation_of(texts_of(answered(OFFERED | told)), "new").scenario
    asked = OFFERED | told
    assert scenario.farm == asked["farm"]
    assert [fruit.name for fruit in scenario.fruits] == asked["fruits"].split(", ")
    assert len(scenario.kitchen.rings) == int(asked["rings"][0])


def test_a_first_scenario_plans_at_once() -> None:
    situation = situation_of(texts_of(answered(OFFERED | SMALL)), "new")
    assert situation.scenario.picks[0].kg == 5.4  # 12 lb of 0.45359237 kg
    plan = make_plan(situation, Settings(seconds=20, workers=1), lambda _: None, lambda: False)
    assert audit(situation, plan) == ()
    assert plan.batches


@pytest.mark.parametrize(
    ("told", "units"),
    [
        ({}, Units.METRIC),
        ({"farm": "Ten stone farm", "kg": "12 kg, 900 g"}, Units.METRIC),
        ({"kg": "12, 5 lb"}, Units.IMPERIAL),
        ({"pans": "26 pints"}, Units.IMPERIAL),
        ({"freezer": "30 st"}, Units.IMPERIAL),
    ],
)
def test_who_answers_in_pounds_or_pints_reads_the_plan_in_them(told: dict[str, str], units: Units) -> None:
    assert situation_of(texts_of(answered(OFFERED | told)), "new").scenario.units is units


def test_every_fruit_that_is_offered_has_its_published_figures() -> None:
    """Solids and loss lie in the ranges of physics/data/fruits.csv, where their sources stand."""
    assert set(usual()) == set(known_fruits())
    for fruit, row in usual().items():
        known = composition(fruit)
        assert known.solids_low <= float(row["solids"]) <= known.solids_high
        assert known.loss_low <= float(row["preparation_loss"]) <= known.loss_high


def test_no_jam_that_is_offered_is_told_not_to_set() -> None:
    told = {"fruits": ", ".join(usual()), "kg": "4", "jars": "0"}
    scenario = situation_of(texts_of(answered(OFFERED | told)), "new").scenario
    assert all("may need" in warning for warning in warnings_of(scenario))


@pytest.mark.parametrize(
    ("key", "answer", "said"),
    [
        ("farm", " ", "a name"),
        ("start", "Monday", "a date as YYYY-MM-DD"),
        ("days", "0", "a number from 1 to 400"),
        ("fruits", "strawbery", "Did you mean 'strawberry'?"),
        ("fruits", "", "one or more of"),
        ("fruits", "plums", "the one that keeps most like it"),
        ("kg", "1, 2, 3", "2 numbers from 0 to 5000 kg"),
        ("kg", "2 pints", "'pints' is a volume"),
        ("pans", "20 US pints", "US measures are not read"),
        ("rings", "3 coal", "gas, electric or induction"),
        ("people", "3, 13:00-08:00", "1 to 26 people"),
        ("jars", "1.5", "2 numbers from 0 to 10000"),
    ],
)
def test_an_answer_that_is_not_understood_is_told(key: str, answer: str, said: str) -> None:
    with pytest.raises(InputFaults) as caught:
        answered(OFFERED | {key: answer})
    (fault,) = caught.value.faults
    assert fault.where == key
    assert said in str(fault)
