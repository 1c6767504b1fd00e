"""Closed times and the clean down where a cook looks for them: calendar, notes, who does what, tables."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import kilbrack_sample as sample

from scheduler.domain.days import Closure
from scheduler.plan_rows import Stage, StageKind
from scheduler.views import charts, tables
from scheduler.views.dashboard.calendar import days_around, kitchen_of
from scheduler.views.dashboard.scenario import tables_of
from scheduler.views.look import DARK, LIGHT

THURSDAY, SUNDAY = date(2026, 7, 9), date(2026, 7, 12)
MARKET = Closure(THURSDAY, 720, 780, "market")
CLEAN = Stage(THURSDAY, "", StageKind.CLEAN_DOWN, 960, 980, ("Maeve",))
PLAN = replace(sample.plan(), stages=(*sample.plan().stages, CLEAN))
SCENARIO = replace(sample.situation().scenario, closures=(MARKET, Closure(SUNDAY, 480, 1020, "")))


def test_a_closed_time_is_drawn_on_every_ring_of_its_day_and_on_no_other() -> None:
    for look in (LIGHT, DARK):
        figure = charts.day_by_ring(PLAN, SCENARIO, THURSDAY, look)
        shut = [
            (base, base + length)
            for trace in figure.data if trace.type == "bar"
            for data, base, length in zip(trace.customdata, trace.base, trace.x, strict=True)
            if "closed 12:00–13:00: market" in data[1]
        ]  # fmt: skip
        assert shut == [(720, 780)] * len(SCENARIO.kitchen.rings)
        wednesday = charts.day_by_ring(PLAN, SCENARIO, THURSDAY - timedelta(days=1), look)
        assert "closed" not in str(wednesday)


def test_the_notes_of_a_week_tell_closed_days_and_who_cleans_down() -> None:
    assert kitchen_of(PLAN, SCENARIO, days_around(SCENARIO, THURSDAY)) == [
        "Thu 9 Jul: closed 12:00–13:00: market.",
        "Thu 9 Jul: clean down 16:00–16:20, Maeve.",
        "Sun 12 Jul: closed 08:00–17:00.",
    ]
    assert kitchen_of(PLAN, SCENARIO, (THURSDAY - timedelta(days=1),)) == []


def test_the_week_around_a_day_ends_with_its_sunday_and_with_the_plan() -> None:
    season = replace(SCENARIO, days=10)
    assert days_around(season, THURSDAY)[-1] == SUNDAY
    monday = SUNDAY + timedelta(days=1)
    assert days_around(season, monday) == tuple(monday + timedelta(days=i) for i in range(3))


def test_who_cleans_down_sees_it_in_the_list_and_on_the_chart() -> None:
    work = tables.work_table(PLAN, SCENARIO, THURSDAY, "Maeve")
    assert ("16:00", "16:20", "clean down", "") in list(
        work[["from", "to", "work", "on"]].itertuples(index=False, name=None)
    )
    figure = charts.day_by_person(PLAN, SCENARIO, THURSDAY, LIGHT)
    hovers = [data[1] for trace in figure.data if trace.type == "bar" for data in trace.customdata]
    assert any("clean down" in hover and "the day's last work" in hover for hover in hovers)


def test_a_clean_down_is_no_batch_in_any_table() -> None:
    assert "" not in tables.clock_times(PLAN)
    before, after = tables.load_table(sample.plan()), tables.load_table(PLAN)
    assert (before["batches"] == after["batches"]).all()


def test_the_scenario_page_lists_closed_times() -> None:
    rows = tables_of(SCENARIO)["Kitchen closed"].to_dict("records")
    assert rows == [
        {"day": "Thu 9 Jul", "from": "12:00", "to": "13:00", "why": "market"},
        {"day": "Sun 12 Jul", "from": "08:00", "to": "17:00", "why": ""},
    ]
