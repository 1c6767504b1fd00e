"""Dates of goods, late deliveries, grading and stains on screens."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from io import StringIO

import kilbrack_sample as sample
import pytest
from rich.console import Console

from scheduler.domain.fruit import Grade, Lot, Place
from scheduler.domain.recipes import OtherIngredient
from scheduler.domain.scenario import Situation
from scheduler.domain.trade import Delivery, Good
from scheduler.plan_rows import Part
from scheduler.views import grading_tables, recipe_tables, trade_tables, words
from scheduler.views.dashboard.scenario import tables_of
from scheduler.views.summary import summary

PLAN, SITUATION = sample.plan(), sample.situation()
SCENARIO = SITUATION.scenario
MONDAY = SCENARIO.start
SUNDAY = SCENARIO.dates()[-1]
SUGAR = next(good for good in SCENARIO.goods if good.name == "sugar")
USED = sum(batch.sugar_kg for batch in PLAN.batches if batch.day == MONDAY)


def farm(good: Good, *deliveries: Delivery) -> Situation:
    return replace(SITUATION, scenario=replace(SCENARIO, goods=(good,), deliveries=deliveries))


def printed(situation: Situation) -> str:
    console = Console(file=StringIO(), width=110, record=True)
    console.print(summary(replace(PLAN, purchases=()), situation))
    return console.export_text()


def test_goods_that_pass_their_date_have_a_row_that_says_what_is_lost() -> None:
    assert USED > 0
    good = replace(SUGAR, on_hand=USED + 7.5, best_before=MONDAY)
    (row,) = trade_tables.past_their_date(PLAN, farm(good)).to_dict("records")
    assert row == {
        "good": "sugar",
        "last day of use": "Mon 6 Jul",
        "on hand": words.quantity(USED + 7.5, "kg"),
        "used by then": words.quantity(USED, "kg"),
        "lost": "7.5 kg",
    }
    assert trade_tables.PAST_THEIR_DATE in printed(farm(good))


def test_what_is_used_in_time_or_outlasts_the_plan_has_no_row() -> None:
    for good in (SUGAR, replace(SUGAR, on_hand=USED, best_before=MONDAY), replace(SUGAR, best_before=SUNDAY)):
        assert trade_tables.past_their_date(PLAN, farm(good)).empty
        assert trade_tables.PAST_THEIR_DATE not in printed(farm(good))


def test_what_is_opened_is_used_first() -> None:
    good = replace(SUGAR, on_hand=USED + 20.0, best_before=SUNDAY, opened=USED + 3.0, opened_use_by=MONDAY)
    assert list(trade_tables.past_their_date(PLAN, farm(good))["lost"]) == ["3 kg"]


def test_the_scenario_shows_dates_of_goods_and_when_deliveries_count() -> None:
    good = replace(SUGAR, best_before=SUNDAY, opened=2.5, opened_use_by=MONDAY)
    opens = SCENARIO.kitchen.open
    rows = (
        Delivery(MONDAY, "sugar", 5.0),
        Delivery(MONDAY, "sugar", 5.0, opens),
        Delivery(MONDAY, "sugar", 5.0, opens + 5),
        Delivery(SUNDAY, "sugar", 5.0, 24 * 60),
    )
    shown = tables_of(farm(good, *rows).scenario)
    assert shown["Dry store"].iloc[0][["best before", "of it opened"]].tolist() == [
        words.day_name(SUNDAY), "2.5 kg, use by Mon 6 Jul",
    ]  # fmt: skip
    assert list(shown["Deliveries"]["usable from"]) == [
        "Mon 6 Jul",
        "Mon 6 Jul",
        "Tue 7 Jul",
        "after the plan",
    ]
    assert shown["Deliveries"]["at"].iloc[0] == ""
    assert list(tables_of(farm(SUGAR).scenario)["Dry store"]["of it opened"]) == [""]


def test_grading_is_told_fruit_by_fruit_and_only_where_there_is_any() -> None:
    def lot(grade: Grade, kg: float, day: int = 0, fruit: str = "strawberry") -> Lot:
        when = MONDAY + timedelta(days=day)
        return Lot(f"{fruit} {grade} {when}", fruit, grade, kg, Place.CHILLER, when)

    picked = (lot(Grade.TABLE, 60.0), lot(Grade.TABLE, 40.0, 1), lot(Grade.TABLE, 9.0, fruit="raspberry"))
    graded = (
        lot(Grade.TABLE, 48.0), lot(Grade.TABLE, 32.0, 1),
        lot(Grade.KITCHEN, 9.0), lot(Grade.KITCHEN, 6.0, 1),
        lot(Grade.TABLE, 9.0, fruit="raspberry"),
    )  # fmt: skip
    scenario = replace(SCENARIO, picked=picked, picks=graded)
    told = "Picked 100.0 kg: 80.0 kg table, 15.0 kg kitchen, 5.0 kg lost in grading."
    assert grading_tables.graded(scenario, "strawberry") == told
    assert grading_tables.graded(scenario, "raspberry") == ""
    assert grading_tables.graded(SCENARIO, "strawberry") == ""
    assert f"strawberry: {told}" in printed(replace(SITUATION, scenario=scenario))
    assert "in grading" not in printed(SITUATION)


ALMONDS = (OtherIngredient("almonds", 5.0, allergen=True),)


@pytest.mark.parametrize(
    ("stains", "others", "why"),
    [
        (True, (), "as its fruit stains."),
        (False, ALMONDS, "as it holds an allergen."),
        (True, ALMONDS, "as it holds an allergen and its fruit stains."),
    ],
)
def test_the_batch_sheet_says_why_a_pan_is_washed_in_full(
    stains: bool, others: tuple[OtherIngredient, ...], why: str
) -> None:
    recipe = replace(SCENARIO.recipes[0], stains=stains, others=others)
    alike = replace(SCENARIO.kitchen, full_wash_minutes=None)
    in_full = replace(SCENARIO.kitchen, full_wash_minutes=30)
    assert recipe_tables.minutes_read(recipe, Part.WHOLE, in_full).endswith(f"before the next batch, {why}")
    assert "washed" not in recipe_tables.minutes_read(recipe, Part.WHOLE, alike)
    plain = replace(recipe, stains=False, others=())
    assert "washed" not in recipe_tables.minutes_read(plain, Part.WHOLE, in_full)
