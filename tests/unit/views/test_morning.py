"""What one day of a plan says to whoever opens it in the morning."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.views.morning_rows import Morning, morning
from tests.unit.views.kilbrack_sample import START, plan, situation

SCENARIO = situation().scenario


def of(day: int) -> Morning:
    return morning(plan(), SCENARIO, START + timedelta(days=day))


def test_every_batch_of_the_day_stands_once_in_the_order_it_goes_on() -> None:
    for n, day in enumerate(SCENARIO.dates()):
        rows = of(n).pans
        assert len(rows) == sum(batch.day == day for batch in plan().batches)
        assert [row[0] for row in rows] == sorted(row[0] for row in rows)


def test_everybody_in_stands_once_with_their_hours() -> None:
    day = next(shift.day for shift in plan().shifts)
    rows = of((day - START).days).hands
    names = sorted(shift.person for shift in plan().shifts if shift.day == day)
    assert sorted(row[1].split(":")[0] for row in rows) == names


def test_the_numbers_are_those_of_the_day() -> None:
    day = next(batch.day for batch in plan().batches)
    numbers = {what: number for number, what in of((day - START).days).numbers}
    mine = [batch for batch in plan().batches if batch.day == day]
    assert numbers["jars filled"] == f"{sum(batch.jars for batch in mine):,}"
    assert numbers["batch" if len(mine) == 1 else "batches"] == str(len(mine))


def test_the_last_day_to_order_is_urgent_on_that_day_alone() -> None:
    bought = plan().purchases[0]
    moved = replace(plan(), purchases=(replace(bought, order_by=START),))
    assert any(bought.good in line for line in morning(moved, SCENARIO, START).urgent)
    assert not any(bought.good in line for line in morning(moved, SCENARIO, START + timedelta(days=1)).urgent)


@pytest.mark.parametrize(("filled", "urgent"), [(0, True), (None, False)])
def test_an_order_that_leaves_with_jars_missing_is_urgent(filled: int | None, urgent: bool) -> None:
    line = plan().orders[0]
    shipped = replace(line, filled=line.jars if filled is None else filled)
    found = morning(replace(plan(), orders=(shipped,)), SCENARIO, line.due)
    assert any("missing" in said for said in found.urgent) is urgent
    assert any(row[0] == "Goes out" for row in found.goods)


def test_fruit_lost_today_is_said_and_less_than_a_trace_is_not() -> None:
    row = plan().lots[0]
    lost = replace(row, day=START, given_up=3.0)
    trace = replace(row, day=START, given_up=0.01)
    assert any("3.0 kg" in line for line in morning(replace(plan(), lots=(lost,)), SCENARIO, START).urgent)
    assert not morning(replace(plan(), lots=(trace,), purchases=(), orders=()), SCENARIO, START).urgent


def test_what_is_cooked_tomorrow_is_taken_out_tonight_or_today() -> None:
    thawed = next(row.day for row in plan().freezer if row.thawed > 0)
    said = [day for day in range(SCENARIO.days) if any(row[0] == "Take out" for row in of(day).goods)]
    assert said in ([(thawed - START).days], [(thawed - START).days - 1])


def test_a_day_of_nothing_has_no_rows() -> None:
    empty = replace(plan(), batches=(), stages=(), shifts=(), lots=(), freezer=(), orders=(), purchases=())
    bare = replace(SCENARIO, deliveries=(), closures=(), picks=(), picked=())
    found = morning(empty, bare, START)
    assert found.urgent == found.pans == found.hands == found.fruit == found.goods == ()
