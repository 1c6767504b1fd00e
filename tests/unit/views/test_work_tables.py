"""Rules of work in words: only those in force are said, and nobody's age."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scheduler.views.work_tables import care_of_hands, rules_of_work
from tests.unit.auditor import day_of_one_pan as one_pan

FARM = one_pan.SITUATION.scenario
LIMITED = replace(
    FARM,
    work_rules=replace(
        FARM.work_rules,
        least_paid_minutes=180,
        boil_from_age=18,
        longest_stove_minutes=90,
        stove_rest_minutes=20,
    ),
    people=(one_pan.ANN, replace(one_pan.BEN, learner=True, born=date(2010, 3, 1))),
)


def test_the_rules_of_every_farm_are_said() -> None:
    assert dict(rules_of_work(FARM).itertuples(index=False)) == {
        "break where somebody is in for more than 270 min": "15 min",
        "longest work without a break": "270 min",
        "rest from one working day to the next": "11 h",
    }
    assert len(care_of_hands(FARM)) == 1


def test_limits_in_force_are_said_and_no_birthday() -> None:
    figures = dict(rules_of_work(LIMITED).itertuples(index=False))
    assert figures["least that a shift is paid for"] == "180 min"
    assert figures["age for work with hot sugar"] == "18 years"
    assert figures["longest at the stove in a row"] == "90 min"
    assert figures["least time away from it in between"] == "20 min"
    said = " ".join(care_of_hands(LIMITED))
    for words in ("90 minutes in a row", "20 minutes away", "beside one: Ben", "younger than 18"):
        assert words in said
    assert "2010" not in said + str(figures)
