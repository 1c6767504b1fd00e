"""A plan by week adds up to the plan, and the freezer in litres to what its rule says."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from scheduler.domain.kitchen import Freezer
from scheduler.plan_rows import totals
from scheduler.views import charts
from scheduler.views.freezing_tables import litres_table, litres_taken
from scheduler.views.look import DARK, LIGHT, Look
from scheduler.views.season_table import season, season_table, weeks_of
from tests.unit.views.kilbrack_sample import plan, situation

SCENARIO = situation().scenario
DAYS = SCENARIO.dates()
PLAN = plan()


def test_weeks_begin_on_monday_across_new_year_and_leave_no_day_out() -> None:
    days = [date(2026, 12, 31), date(2027, 1, 1), date(2027, 1, 3), date(2027, 1, 4)]
    assert weeks_of(days) == [tuple(days[:3]), (days[3],)]


def test_weeks_add_up_to_the_plan() -> None:
    weeks, whole = season(PLAN, SCENARIO), totals(PLAN)
    assert sum(week.picked for week in weeks) == pytest.approx(whole.picked, abs=0.01)
    assert sum(week.fates["sold"] for week in weeks) == pytest.approx(whole.sold, abs=0.01)
    assert sum(week.fates["cooked"] for week in weeks) == pytest.approx(whole.cooked, abs=0.01)
    assert sum(week.fates["frozen"] for week in weeks) == pytest.approx(whole.frozen, abs=0.01)
    lost = whole.given_up + whole.spoiled + whole.discarded
    assert sum(week.lost for week in weeks) == pytest.approx(lost, abs=0.01)
    assert sum(week.jars for week in weeks) == whole.made
    assert sum(week.batches for week in weeks) == len(PLAN.batches)
    assert sum(week.missing for week in weeks) == sum(line.jars - line.filled for line in PLAN.orders)
    evening = sum(row.left for row in PLAN.freezer if row.day == DAYS[-1])
    assert weeks[-1].level == pytest.approx(evening)


def test_the_table_has_a_row_a_week_and_hours_as_they_are_read() -> None:
    weeks = season(PLAN, SCENARIO)
    table = season_table(weeks)
    assert len(table) == len(weeks)
    assert table["hours present"].tolist() == [f"{w.minutes // 60}h{w.minutes % 60:02d}" for w in weeks]


@pytest.mark.parametrize("look", [LIGHT, DARK])
def test_the_pictures_have_a_bar_for_each_week(look: Look) -> None:
    weeks = season(PLAN, SCENARIO)
    fates = charts.fates_by_week(weeks, look)
    assert fates.data
    assert all(len(bars.x) == len(weeks) for bars in fates.data)
    assert list(charts.hours_by_week(weeks, look).data[0].y) == [round(w.minutes / 60, 2) for w in weeks]


@pytest.mark.parametrize(("many", "room"), [(1, 4), (3, 4), (4, 4), (5, 5)])
def test_few_weeks_stand_in_the_middle_with_room_for_four(many: int, room: int) -> None:
    left, right = charts.hours_by_week([season(PLAN, SCENARIO)[0]] * many, LIGHT).layout.xaxis.range
    assert right - left == room
    assert (left + right) / 2 == (many - 1) / 2


def by_the_rule(fruit: str, freezer: Freezer) -> list[float]:
    """Rule 8 of RULES.md: what is boxed at its density, and on trays what was frozen that day."""
    boxed = 1 / SCENARIO.fruit(fruit).frozen_kg_per_litre
    return [
        sum(
            row.left * boxed + row.frozen * (freezer.tray_litres_per_kg - boxed)
            for row in PLAN.freezer
            if (row.fruit, row.day) == (fruit, day)
        )
        for day in DAYS
    ]


def test_litres_are_those_of_the_rule() -> None:
    kitchen = SCENARIO.kitchen
    for fruit in SCENARIO.fruits:
        expected = by_the_rule(fruit.name, kitchen.freezer)
        assert litres_taken(PLAN, SCENARIO, fruit.name, DAYS) == pytest.approx(expected, abs=0.01)
    table = litres_table(PLAN, SCENARIO)
    each = table.drop(columns=["day", "litres in all"]).sum(axis=1)
    assert table["litres in all"].tolist() == pytest.approx(each.tolist(), abs=0.3)


def test_the_line_of_litres_falls_while_a_freezer_is_out() -> None:
    kitchen = SCENARIO.kitchen
    second = replace(kitchen.freezer, name="second", litres=50.0, defrost_on=DAYS[3])
    farm = replace(SCENARIO, kitchen=replace(kitchen, second_freezer=second))
    (line,) = (trace for trace in charts.freezer_litres(PLAN, farm, LIGHT).data if trace.type == "scatter")
    assert max(line.y) == kitchen.freezer.litres + 50.0
    assert line.y[3] == kitchen.freezer.litres
