"""The page on scenario folders says every file, key and column that is read, with its default."""

from __future__ import annotations

import re

import pytest
from pydantic import BaseModel

from scheduler.intake import keys, rows
from scheduler.intake.files import OPTIONAL, REQUIRED
from scheduler.intake.gathered import TABLES, USUAL_BREAKS
from scheduler.physics.keeping import known_fruits
from tests.unit.intake.spoil import SCENARIOS

PAGE = (SCENARIOS / "README.md").read_text(encoding="utf-8")
SECTIONS: dict[str, type[BaseModel]] = {
    "Keys of the first lines": keys.FarmTable,
    **{f"`[{name}]`": model for name, model in TABLES.items()},
    "`[[pan]]`": keys.PanTable,
    "`[[ring]]`": keys.RingTable,
    "`[work]`": keys.WorkTable,
    "`[[recipe]]`": keys.RecipeTable,
    "`[[recipe.fruit]]`": keys.ShareTable,
    "## `fruits.csv`": rows.FruitRow,
    "## `picks.csv`": rows.PickRow,
    "## `lots.csv`": rows.LotRow,
    "## `punnets.csv`": rows.PunnetRow,
    "## `people.csv`": rows.PersonRow,
    "## `shifts.csv`": rows.ShiftRow,
    "## `orders.csv`": rows.OrderRow,
    "## `store.csv`": rows.GoodRow,
    "## `deliveries.csv`": rows.DeliveryRow,
}
TOLD_IN_WORDS = {"efficiency", "freeze_kg_per_day", "potting_process", "heat_step", "use_by"}
"""Defaults that follow from another value, or are empty."""


def told(heading: str) -> dict[str, str]:
    """Default of each key or column in the table below the line that starts with ``heading``."""
    (start,) = re.findall(rf"^{re.escape(heading)}.*$", PAGE, re.MULTILINE)
    lines = PAGE.partition(start)[2].splitlines()
    first = next(number for number, line in enumerate(lines) if line.startswith("|---"))
    defaults = {}
    for line in lines[first + 1 :]:
        if not line.startswith("|"):
            break
        cells = [cell.strip() for cell in line.split("|")[1:-1]]
        for key in re.findall(r"`([a-z_]+)`", cells[0]):
            defaults[key] = cells[-2].strip("`")
    return defaults


@pytest.mark.parametrize("heading", SECTIONS)
def test_the_page_says_just_what_is_read(heading: str) -> None:
    page = told(heading)
    if heading.startswith("Keys"):
        assert page.pop("schema") == "–"
    if heading == "`[work]`":
        assert page.pop("after_minutes") == " and ".join(str(rule.after_minutes) for rule in USUAL_BREAKS)
        assert page.pop("minutes") == " and ".join(str(rule.minutes) for rule in USUAL_BREAKS)
    fields = SECTIONS[heading].model_fields
    assert set(page) == set(fields)
    for key, field in fields.items():
        if field.is_required():
            assert page[key] == "–", key
        elif key == "fill_steps":
            assert page[key] == str(list(field.default))
        elif key in TOLD_IN_WORDS:
            assert page[key] not in ("", "–")
        else:
            assert float(page[key]) == field.default, key


def test_the_page_says_every_file_and_every_fruit_that_fruit_may_keep_like() -> None:
    for name in (*REQUIRED, *OPTIONAL):
        assert f"## `{name}`" in PAGE
    (named,) = re.findall(r"Known are\s([^;]+);", PAGE)
    assert set(re.findall(r"`([a-z]+)`", named)) == set(known_fruits())
