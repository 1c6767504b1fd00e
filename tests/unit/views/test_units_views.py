"""A farm that reads pounds: no table, chart or text of its plan has kg left, and none of its files has lb."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from scheduler.crates import Act, Crate
from scheduler.domain.scenario import Units
from scheduler.languages import ENGLISH, IMPERIAL, METRIC, measures, speaking
from scheduler.panful import Refusal, Rule
from scheduler.views import (
    batch_text,
    charts,
    crate_rows,
    difference_table,
    draw_down_tables,
    files,
    freezing_tables,
    morning_rows,
    saving_table,
    season_table,
    tables,
)
from scheduler.views.flow_table import flow_table, said
from scheduler.views.look import LIGHT
from scheduler.views.measured_table import in_units
from tests.unit.views.kilbrack_sample import START, plan, situation

SITUATION = situation()
SCENARIO = replace(SITUATION.scenario, units=Units.IMPERIAL)
FRUIT = SCENARIO.fruits[0].name
PLAN = replace(
    plan(),
    crates=(
        Crate(START, "early", FRUIT, Act.SELL, 7.0, 1.5),
        Crate(START, "early", FRUIT, Act.MORE, 7.0, 1.0),
        Crate(START, "early", FRUIT, Act.LESS, 7.0, 2.0),
    ),
)
LANGUAGES = pytest.mark.parametrize("language", [ENGLISH, "de"])
LEFT = re.compile(r"(?<!\w)(kg|°C|litres|Liter)(?!\w)")
DAYS = SCENARIO.dates()

TABLES: dict[str, Callable[[], pd.DataFrame]] = {
    "fates": lambda: tables.fate_table(PLAN, SCENARIO).reset_index(),
    "batches": lambda: tables.batch_table(PLAN, SCENARIO),
    "load": lambda: tables.load_table(PLAN),
    "freezer": lambda: tables.freezer_table(PLAN, SCENARIO),
    "lots": lambda: tables.lot_table(PLAN),
    "season": lambda: season_table.season_table(season_table.season(PLAN, SCENARIO)),
    "saving": lambda: saving_table.saving_table(PLAN),
    "difference": lambda: difference_table.difference_table((PLAN, SCENARIO), (PLAN, SCENARIO)),
    "draw-down": lambda: draw_down_tables.lot_table(PLAN, SCENARIO),
    "litres": lambda: freezing_tables.litres_table(PLAN, SCENARIO),
    "electricity": lambda: freezing_tables.day_table(PLAN, SCENARIO),
    "way": lambda: said(flow_table(PLAN, SCENARIO, [f.name for f in SCENARIO.fruits], DAYS)),
    "crates": lambda: crate_rows.crate_table(PLAN, SCENARIO, START),
    "worth": lambda: crate_rows.worth_of_fruit(PLAN, SCENARIO, START),
}
FIGURES: dict[str, Callable[[], Any]] = {
    "level": lambda: charts.freezer_level(PLAN, SCENARIO, LIGHT),
    "litres": lambda: charts.freezer_litres(PLAN, SCENARIO, LIGHT),
    "each day": lambda: charts.freezing_per_day(PLAN, SCENARIO, LIGHT),
    "fates": lambda: charts.fates_by_fruit(PLAN, SCENARIO, LIGHT),
    "days": lambda: charts.fruit_by_day(PLAN, SCENARIO, FRUIT, LIGHT),
    "weeks": lambda: charts.fates_by_week(season_table.season(PLAN, SCENARIO), LIGHT),
    "flow": lambda: charts.fruit_flow(
        flow_table(PLAN, SCENARIO, [f.name for f in SCENARIO.fruits], DAYS), SCENARIO, LIGHT
    ),
    "worth": lambda: charts.worth_by_fruit(crate_rows.worth_of_fruit(PLAN, SCENARIO, START), SCENARIO, LIGHT),
    "calendar": lambda: charts.week_by_ring(PLAN, SCENARIO, DAYS, LIGHT),
}


def _texts(found: object) -> Iterator[str]:
    """Every text in a figure, however deep."""
    if isinstance(found, str):
        yield found
    elif isinstance(found, dict):
        for each in found.values():
            yield from _texts(each)
    elif isinstance(found, list | tuple):
        for each in found:
            yield from _texts(each)


@LANGUAGES
@pytest.mark.parametrize("name", TABLES)
def test_no_table_has_metric_units_left(name: str, language: str) -> None:
    with speaking(language, IMPERIAL):
        shown = in_units(TABLES[name]())
    cells = [*shown.columns, *(cell for column in shown for cell in shown[column])]
    assert [cell for cell in cells if isinstance(cell, str) and LEFT.search(cell)] == []


@LANGUAGES
@pytest.mark.parametrize("name", FIGURES)
def test_no_chart_has_metric_units_left(name: str, language: str) -> None:
    with speaking(language, IMPERIAL):
        drawn = FIGURES[name]().to_dict()
    assert [text for text in _texts(drawn) if LEFT.search(text)] == []


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_as_it_was_where_the_farm_goes_by_kg(name: str) -> None:
    with speaking(ENGLISH, METRIC):
        pd.testing.assert_frame_equal(in_units(TABLES[name]()), TABLES[name]())


def test_numbers_of_a_table_are_those_of_its_heading() -> None:
    metric = TABLES["fates"]()
    with speaking(ENGLISH, IMPERIAL):
        shown = in_units(TABLES["fates"]())
    assert next(iter(shown)) == "fruit (lb)"
    assert shown["sold"].tolist() == pytest.approx((metric["sold"] / 0.45359237).tolist(), abs=0.05)
    with speaking(ENGLISH, IMPERIAL):
        batches = in_units(TABLES["batches"]())
    assert batches["jars"].tolist() == TABLES["batches"]()["jars"].tolist()
    (first, *_), (hot, *_) = batches["boiled to °F"], TABLES["batches"]()["boiled to °C"]
    assert first == pytest.approx(1.8 * hot + 32, abs=0.05)


def test_what_is_missing_stays_missing() -> None:
    frame = pd.DataFrame({"sugar kg": [1.0, None], "jars": [3, 4]})
    with speaking(ENGLISH, IMPERIAL):
        shown = in_units(frame)
    assert shown["sugar lb"].isna().tolist() == [False, True]
    assert shown["jars"].tolist() == [3, 4]


def _bars(figure: Any) -> float:
    return sum(abs(value) for trace in figure.data if trace.type == "bar" for value in trace.y)


@pytest.mark.parametrize("name", ["level", "each day", "days", "weeks"])
def test_bars_are_as_long_as_their_axis_says(name: str) -> None:
    metric = _bars(FIGURES[name]())
    with speaking(ENGLISH, IMPERIAL):
        figure = FIGURES[name]()
    assert metric > 0
    assert _bars(figure) == pytest.approx(metric / 0.45359237)
    assert figure.layout.yaxis.ticksuffix == " lb"


def test_what_a_kg_is_worth_is_told_for_a_pound() -> None:
    with speaking(ENGLISH, IMPERIAL):
        assert crate_rows.worth_of_fruit(PLAN, SCENARIO, START)["worth a lb"].tolist() == [0.91]
        ((_, what, otherwise),) = crate_rows.rows_of_day(PLAN, SCENARIO, START)
    assert what == "15.4 lb: sell 15.4 lb"
    assert otherwise == "Another 11 lb: sell loses €0.68 a lb."


@LANGUAGES
def test_no_text_of_a_batch_or_a_morning_has_metric_units_left(language: str) -> None:
    with speaking(language, IMPERIAL):
        told = [
            *(line for batch in PLAN.batches for line in batch_text.goes_in(batch, PLAN, SCENARIO)),
            *(batch_text.boiled_to(batch, SCENARIO) for batch in PLAN.batches),
            *_texts(asdict(morning_rows.morning(PLAN, SCENARIO, START))),
            *map(str, (Refusal(Rule.TOO_LITTLE, 0.4, 1.0), Refusal(Rule.LAST_JAR_COLD, 81.2, 85))),
        ]
    assert any("lb" in line for line in told)
    assert [line for line in told if LEFT.search(line)] == []


def test_files_of_the_plan_are_the_same_for_every_reader(tmp_path: Path) -> None:
    own = replace(SITUATION, scenario=SCENARIO)
    files.write_plan(PLAN, SITUATION, tmp_path / "metric")
    with speaking("de", IMPERIAL):
        files.write_plan(PLAN, own, tmp_path / "imperial")
    written = {path.name: path.read_bytes() for path in (tmp_path / "metric").iterdir()}
    assert written == {path.name: path.read_bytes() for path in (tmp_path / "imperial").iterdir()}
    assert measures.units() == METRIC
