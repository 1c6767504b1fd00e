"""What page "Scenario" says of a farm: figures as they are in the files, rows by names."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from scheduler.drafts.draft import Draft
from scheduler.views.dashboard.cells import row_name
from scheduler.views.dashboard.scenario import tables_of
from tests.commands import FARM
from tests.unit.views.kilbrack_sample import situation

SCENARIO = situation().scenario


def test_sugar_is_said_with_every_decimal_of_the_recipe() -> None:
    first, *others = SCENARIO.recipes
    told = tables_of(replace(SCENARIO, recipes=(replace(first, sugar_per_kg=0.95), *others)))["Recipes"]
    assert told["sugar kg per kg of fruit"][0] == "0.95"


@pytest.mark.parametrize(("file", "told"), [("recipes.toml", "name"), ("orders.csv", "order")])
def test_a_row_is_named_by_words_and_not_by_figures(file: str, told: str) -> None:
    draft = Draft(Path(FARM))
    grid = draft.grid(draft.sections(file)[0])
    assert grid is not None
    name, row = row_name(grid, 0), grid.rows[0]
    assert name.startswith(f"{grid.numbers[0]}: {row[grid.names.index(told)]}")
    figures = [cell for column, cell in zip(grid.columns, row, strict=True) if column.number and cell]
    assert not set(figures) & set(name.partition(": ")[2].split(", "))
