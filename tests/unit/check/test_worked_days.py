"""Three plans worked by hand are sound to the auditor: it agrees with paper and pencil."""

from __future__ import annotations

import pytest

from scheduler.check import audit
from scheduler.domain.scenario import Situation
from scheduler.plan import Plan, from_json, to_json

from . import day_of_one_pan, day_of_two_pans, two_days_with_an_order

DAYS = [
    pytest.param(day.SITUATION, day.PLAN, id=day.__name__.rpartition(".")[2])
    for day in (day_of_one_pan, day_of_two_pans, two_days_with_an_order)
]


@pytest.mark.parametrize(("situation", "plan"), DAYS)
def test_a_day_worked_by_hand_has_no_finding(situation: Situation, plan: Plan) -> None:
    assert [str(finding) for finding in audit(situation, plan)] == []


@pytest.mark.parametrize(("situation", "plan"), DAYS)
def test_a_plan_that_was_written_and_read_has_no_finding(situation: Situation, plan: Plan) -> None:
    assert audit(situation, from_json(to_json(plan))) == ()
