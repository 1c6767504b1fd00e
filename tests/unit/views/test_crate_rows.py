"""What a cook reads at the chiller door."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.crates import Act, Crate
from scheduler.plan_json import from_json, to_json
from scheduler.views.charts import worth_by_fruit
from scheduler.views.crate_rows import days_known, rows_of_day, worth_of_fruit
from scheduler.views.look import DARK, LIGHT, Look
from tests.unit.views.kilbrack_sample import START, plan, situation

SCENARIO = situation().scenario
FRUIT = SCENARIO.fruits[0].name
LOT = "early"


def crate(act: Act, kg: float, loses: float | None, lot: str = LOT) -> Crate:
    return Crate(START, lot, FRUIT, act, kg, loses)


CRATES = (
    crate(Act.SELL, 7.0, None),
    crate(Act.FREEZE, 3.0, 0.0),
    crate(Act.HOLD, 0.0, 0.25),
    crate(Act.GIVE_UP, 0.0, 2.9),
    crate(Act.MORE, 10.0, -0.1),
    crate(Act.LESS, 10.0, 2.9),
)
WITH = replace(plan(), crates=CRATES)


def test_a_row_says_what_the_plan_does_and_what_each_other_way_costs() -> None:
    ((head, what, small),) = rows_of_day(WITH, SCENARIO, START)
    assert LOT in head
    assert what == "10.0 kg: sell 7.0 kg, freeze 3.0 kg"
    assert "freeze at no loss" in small
    assert small.index("0.25") < small.index("2.90")
    assert small.endswith("not possible: sell.")


def test_the_worth_of_a_fruit_is_that_of_its_dearest_lot() -> None:
    more = (*CRATES, crate(Act.LESS, 4.0, 0.5, "late"))
    table = worth_of_fruit(replace(WITH, crates=more), SCENARIO, START)
    assert table.to_dict("records") == [{"fruit": FRUIT, "kg there": 14.0, "worth a kg": 2.9}]


def test_a_plan_without_crates_knows_no_day() -> None:
    assert days_known(plan()) == []
    assert days_known(WITH) == [START]


def test_crates_are_written_with_the_plan_and_read_back() -> None:
    assert from_json(to_json(WITH)) == WITH


@pytest.mark.parametrize("look", [LIGHT, DARK])
def test_the_picture_has_a_bar_for_each_fruit_as_long_as_its_worth(look: Look) -> None:
    table = worth_of_fruit(WITH, SCENARIO, START)
    figure = worth_by_fruit(table, SCENARIO, look)
    assert [bar.x[0] for bar in figure.data] == [2.9]
    assert FRUIT in figure.layout.annotations[0].text
