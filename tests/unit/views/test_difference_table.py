"""The two plans of a try side by side: each row told from the plans' own rows, and the difference signed."""

from __future__ import annotations

from dataclasses import replace

import kilbrack_sample as sample
import pytest

from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import ShopDemand
from scheduler.plan_rows import Plan, ShopStock
from scheduler.views.difference_table import difference_table, frozen_at_the_end, minutes_paid

PLAN, SCENARIO = sample.plan(), sample.situation().scenario
DAY = SCENARIO.dates()[-1]


def table(other: Plan, scenario: Scenario = SCENARIO) -> dict[str, tuple[str, str, str]]:
    frame = difference_table((PLAN, SCENARIO), (other, scenario))
    return {row[0]: tuple(row[1:]) for row in frame.itertuples(index=False)}


def with_goal(name: str, value: float) -> Plan:
    goals = tuple(replace(goal, value=value) if goal.name == name else goal for goal in PLAN.goals)
    return replace(PLAN, goals=goals)


def test_a_plan_beside_itself_differs_in_nothing() -> None:
    assert {told[2] for told in table(PLAN).values()} == {"0.0", "€0.00", "0", "0h00"}
    assert all(told[0] == told[1] for told in table(PLAN).values())


def test_kg_jars_and_batches_are_the_plans_own() -> None:
    first = next(row for row in PLAN.jars if row.made)
    jars = tuple(replace(row, made=row.made - 5) if row is first else row for row in PLAN.jars)
    orders = tuple(replace(line, filled=line.filled - 2) for line in PLAN.orders)
    lots = tuple(replace(row, spoiled=row.spoiled + 1.5) for row in PLAN.lots[:2]) + PLAN.lots[2:]
    told = table(replace(PLAN, jars=jars, orders=orders, lots=lots, batches=PLAN.batches[1:]))
    made = sum(row.made for row in PLAN.jars)
    assert told["jars made"] == (f"{made:,}", f"{made - 5:,}", "−5")
    assert told["jars missing from orders"][2] == f"+{2 * len(PLAN.orders)}"
    assert told["fruit lost, kg"][2] == "+3.0"
    assert told["batches cooked"][2] == "−1"


def test_money_earned_has_a_minus_and_less_spent_has_one_too() -> None:
    now = next(goal.value for goal in PLAN.goals if goal.name == "money")
    told = table(with_goal("money", now - 1234.5))["money spent less orders paid"]
    assert told[2] == "−€1,234.50"
    earned = table(with_goal("money", -3.25))["money spent less orders paid"]
    assert earned[1] == "−€3.25"
    assert table(with_goal("money", 0.004))["money spent less orders paid"][1] == "€0.00"


def test_hours_paid_hold_overtime_and_the_least_of_a_shift() -> None:
    """Two shifts of 4 h and 2 h with 30 min overtime, at least 3 h paid: 4 h + 3 h, worked out by hand."""
    one, two = PLAN.shifts[:2]
    shifts = (
        replace(one, start=480, end=720, overtime_minutes=0),
        replace(two, start=480, end=600, overtime_minutes=30),
    )
    plan = replace(PLAN, shifts=shifts)
    assert minutes_paid(plan, SCENARIO) == 240 + 150
    rules = replace(SCENARIO.work_rules, least_paid_minutes=180)
    assert minutes_paid(plan, replace(SCENARIO, work_rules=rules)) == 240 + 180
    assert table(plan)["hours paid"][1] == "6h30"
    assert table(replace(PLAN, shifts=()))["hours paid"][1] == "0h00"
    assert table(replace(PLAN, shifts=()))["hours paid"][2].startswith("−")


def test_the_freezer_is_that_of_the_last_planned_evening() -> None:
    left = sum(row.left for row in PLAN.freezer if row.day == DAY)
    assert frozen_at_the_end(PLAN, SCENARIO) == pytest.approx(left)
    emptied = tuple(replace(row, left=0.0) if row.day == DAY else row for row in PLAN.freezer)
    assert table(replace(PLAN, freezer=emptied))["in the freezer at the end, kg"][2] == f"−{left:,.1f}"


def test_the_shop_has_a_row_where_it_asks_for_jars() -> None:
    assert "jars missing in the shop" not in table(PLAN)
    recipe = SCENARIO.recipes[0]
    row = ShopStock(DAY, recipe.name, recipe.sizes[0].jar, 12, 5)
    asked = with_shop(SCENARIO)
    assert table(replace(PLAN, shop=(row,)), asked)["jars missing in the shop"] == ("0", "7", "+7")


def with_shop(scenario: Scenario) -> Scenario:
    recipe = scenario.recipes[0]
    return replace(scenario, shop=(ShopDemand(DAY, recipe.name, recipe.sizes[0].jar, 12),))
