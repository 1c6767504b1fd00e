"""Tables keep their columns and rows in every language: two headings that read alike would lose one."""

from __future__ import annotations

from collections.abc import Iterator

import pandas as pd
import pytest

from scheduler.intake import read_scenario
from scheduler.languages import ENGLISH, languages, speaking
from scheduler.views import (
    curve_table,
    difference_table,
    draw_down_tables,
    flow_table,
    freezing_tables,
    trade_tables,
)
from scheduler.views import tables as plan_tables
from scheduler.views.dashboard.scenario import tables_of
from scheduler.views.saving_table import saving_table
from tests.browser.served import ROOT
from tests.unit.views import kilbrack_sample as sample

PLAN, SITUATION = sample.plan(), sample.situation()
OTHERS = [language for language in languages() if language != ENGLISH]
SCENARIO = SITUATION.scenario


def tables() -> Iterator[pd.DataFrame]:
    """The tables of a plan, and those of what was read of a scenario."""
    day = PLAN.batches[0].day
    yield plan_tables.fate_table(PLAN, SCENARIO)
    yield plan_tables.batch_table(PLAN, SCENARIO)
    yield plan_tables.works_table(PLAN, SCENARIO, [day])
    yield plan_tables.load_table(PLAN)
    yield plan_tables.freezer_table(PLAN, SCENARIO)
    yield plan_tables.lot_table(PLAN)
    yield plan_tables.order_table(PLAN, SCENARIO)
    yield plan_tables.recipe_table(PLAN, SCENARIO)
    yield plan_tables.purchase_table(PLAN, SCENARIO)
    yield plan_tables.goal_table(PLAN, SCENARIO)
    yield saving_table(PLAN)
    yield curve_table.curve_table([PLAN], SCENARIO)
    yield difference_table.difference_table((PLAN, SCENARIO), (PLAN, SCENARIO))
    yield draw_down_tables.lot_table(PLAN, SCENARIO)
    yield draw_down_tables.share_table(PLAN)
    yield freezing_tables.day_table(PLAN, SCENARIO)
    yield freezing_tables.hours_table(SCENARIO.fruits, SCENARIO.kitchen)
    yield flow_table.said(
        flow_table.flow_table(PLAN, SCENARIO, [f.name for f in SCENARIO.fruits], SCENARIO.dates())
    )
    yield trade_tables.shop_table(PLAN, SCENARIO)
    for name in ("glut-week", "quiet-week", "winter-draw-down"):
        yield from tables_of(read_scenario(ROOT / "scenarios" / name).scenario).values()


@pytest.mark.parametrize("language", OTHERS)
def test_tables_keep_their_columns_and_rows(language: str) -> None:
    english = [each.shape for each in tables()]
    with speaking(language):
        other = list(tables())
    assert [each.shape for each in other] == english
    assert all(each.columns.is_unique for each in other)


@pytest.mark.parametrize("language", OTHERS)
def test_kinds_of_things_that_were_read_have_names_of_their_own(language: str) -> None:
    with speaking(language):
        said = tables_of(SCENARIO)
    assert len(said) == len(tables_of(SCENARIO))


@pytest.mark.parametrize("language", OTHERS)
def test_numbers_of_cells_are_written_as_the_language_writes_them(language: str) -> None:
    with speaking(language):
        money = plan_tables.goal_table(PLAN, SCENARIO)
    assert any("\u00a0€" in str(cell) and "," in str(cell) for cell in money.to_numpy().ravel())
