"""Plans worked by hand are sound to the auditor: it agrees with paper and pencil."""

from __future__ import annotations

import pytest

from scheduler.auditor import audit
from scheduler.auditor.day import even_pieces
from scheduler.domain.scenario import Situation
from scheduler.plan_json import from_json, to_json
from scheduler.plan_rows import Plan

from . import (
    day_of_fruit_butter,
    day_of_one_pan,
    day_of_two_pans,
    three_days_of_cordial,
    three_days_of_jelly,
    two_days_with_an_order,
)

DAYS = [
    pytest.param(day.SITUATION, day.PLAN, id=day.__name__.rpartition(".")[2])
    for day in (
        day_of_one_pan,
        day_of_two_pans,
        two_days_with_an_order,
        three_days_of_jelly,
        three_days_of_cordial,
        day_of_fruit_butter,
    )
]


@pytest.mark.parametrize(("situation", "plan"), DAYS)
def test_a_day_worked_by_hand_has_no_finding(situation: Situation, plan: Plan) -> None:
    assert [str(finding) for finding in audit(situation, plan)] == []


@pytest.mark.parametrize(("situation", "plan"), DAYS)
def test_a_plan_that_was_written_and_read_has_no_finding(situation: Situation, plan: Plan) -> None:
    assert audit(situation, from_json(to_json(plan))) == ()


@pytest.mark.parametrize(
    ("minutes", "pieces"),
    [(0, []), (5, [5]), (30, [30]), (35, [15, 20]), (70, [20, 25, 25]), (100, [25, 25, 25, 25])],
)
def test_preparing_is_cut_into_the_fewest_and_most_even_pieces(minutes: int, pieces: list[int]) -> None:
    # 70 min: ⌈70 ÷ 30⌉ = 3 pieces of 14 steps of 5 min: 4 + 5 + 5
    assert even_pieces(minutes) == pieces
