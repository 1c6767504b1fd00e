"""The page on scenario folders says every file, key and column that is read, with its default."""

from __future__ import annotations

import re

import pytest
from pydantic import BaseModel

from scheduler.intake import keys, rows
from scheduler.intake.columns import LISTS, OF_RECIPE, ONCE, RECIPE, SHEETS, columns_of
from scheduler.intake.files import OPTIONAL, REQUIRED
from scheduler.intake.gathered import TABLES, USUAL_BREAKS
from scheduler.law.acts import table
from scheduler.law.composition import LOWER_SUGAR
from scheduler.law.safety import PLAN_PH
from scheduler.physics.keeping import known_fruits
from tests.unit.intake.spoil import SCENARIOS

PAGE = (SCENARIOS / "README.md").read_text(encoding="utf-8")
SECTIONS: dict[str, type[BaseModel]] = {
    "Keys of the first lines": keys.FarmTable,
    **{f"`[{name}]`": model for name, model in TABLES.items()},
    "`[[pan]]`": keys.PanTable,
    "`[[ring]]`": keys.RingTable,
    "`[[freezer_box]]`": keys.FreezerBoxTable,
    "`[work]`": keys.WorkTable,
    "`[[recipe]]`": keys.RecipeTable,
    "`[[recipe.fruit]]`": keys.ShareTable,
    "`[[recipe.other]]`": keys.OtherTable,
    "`[[recipe.size]]`": keys.SizeTable,
    "## `fruits.csv`": rows.FruitRow,
    "## `picks.csv`": rows.PickRow,
    "## `lots.csv`": rows.LotRow,
    "## `punnets.csv`": rows.PunnetRow,
    "## `people.csv`": rows.PersonRow,
    "## `shifts.csv`": rows.ShiftRow,
    "## `orders.csv`": rows.OrderRow,
    "## `store.csv`": rows.GoodRow,
    "## `deliveries.csv`": rows.DeliveryRow,
    "## `days.csv`": rows.DayRow,
    "## `busy.csv`": rows.BusyRow,
    "## `shop.csv`": rows.ShopRow,
    "## `readings.csv`": rows.ReadingRow,
    "## `boils.csv`": rows.BoilRow,
    "## `out.csv`": rows.OutRow,
    "## `held.csv`": rows.HeldRow,
}
TOLD_IN_WORDS = {
    "approver",
    "best_before",
    "best_before_months",
    "close",
    "delivery_days",
    "born",
    "efficiency",
    "email",
    "electric_kw",
    "defrost_on",
    "fails_on",
    "freeze_kg_per_day",
    "gas_kg",
    "gas_kw",
    "fill_shares",
    "freezer_box",
    "full_wash_minutes",
    "heat_step",
    "jar",
    "kg",
    "open",
    "opened_use_by",
    "pack",
    "pan",
    "longest_stove_minutes",
    "potting_process",
    "rack_jars",
    "ring",
    "room_free_from",
    "shelf_jars",
    "start",
    "strained_share",
    "time",
    "use_by",
    "wash_jars_per_hour",
    "why",
}
WARM = {"warm_hours", "warm_celsius"}
"""Defaults that follow from another value, or are empty; so are those of ``WARM`` but in ``[chiller]``."""


def told(heading: str) -> dict[str, str]:
    """Default of each key or column in the table below the line that starts with ``heading``."""
    return {key: cells[-2].strip("`") for cells in rows_below(heading) for key in named(cells)}


def named(cells: list[str]) -> list[str]:
    return re.findall(r"`([a-z_]+)`", cells[0])


def rows_below(heading: str) -> list[list[str]]:
    """Cells of each row of the table below the line that starts with ``heading``."""
    (start,) = re.findall(rf"^{re.escape(heading)}.*$", PAGE, re.MULTILINE)
    lines = PAGE.partition(start)[2].splitlines()
    first = next(number for number, line in enumerate(lines) if line.startswith("|---"))
    found = []
    for line in lines[first + 1 :]:
        if not line.startswith("|"):
            break
        found.append([cell.strip() for cell in line.split("|")[1:-1]])
    return found


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
        elif key in TOLD_IN_WORDS or (key in WARM and heading.endswith(".csv`")):
            assert page[key] not in ("", "–")
        elif isinstance(field.default, bool) and heading.endswith(".csv`"):
            assert page[key] == ("yes" if field.default else "no"), key
        elif isinstance(field.default, bool):
            assert page[key] == str(field.default).lower(), key
        elif isinstance(field.default, str):
            assert page[key] == str(field.default), key
        else:
            assert float(page[key]) == field.default, key


@pytest.mark.parametrize("heading", SECTIONS)
def test_columns_are_described_as_on_the_page(heading: str) -> None:
    """Where a row of the page is about one key alone and says of itself what that is."""
    described = {column.name: column.what for column in columns_of(SECTIONS[heading])}
    assert all(described.values())
    for cells in rows_below(heading):
        meaning, keys_named = cells[-1], named(cells)
        alone = len(keys_named) == 1 and keys_named[0] in described
        if alone and meaning not in ("", "–") and "…" not in meaning and not meaning.startswith("as "):
            assert described[keys_named[0]] == meaning, keys_named[0]


def test_all_that_is_read_can_be_edited() -> None:
    recipes = {f"`[[recipe.{key}]]`": model for key, model in OF_RECIPE.items()} | {"`[[recipe]]`": RECIPE}
    once = {f"`[{key}]`": model for key, model in ONCE.items() if key} | {"Keys of the first lines": ONCE[""]}
    lists = {f"`[[{key}]]`": model for key, model in LISTS.items() if key != "work.break"}
    files = {f"## `{file}`": model for file, model in SHEETS.items()}
    assert recipes | once | lists | files == SECTIONS
    assert LISTS["work.break"] is keys.BreakTable


def test_the_page_says_every_file_and_every_fruit_that_fruit_may_keep_like() -> None:
    for name in (*REQUIRED, *OPTIONAL):
        assert f"## `{name}`" in PAGE
    (named,) = re.findall(r"Known are\s([^;]+);", PAGE)
    assert set(re.findall(r"`([a-z]+)`", named)) == set(known_fruits())


def test_the_page_draws_the_lines_of_food_safety_where_the_guards_do() -> None:
    lives = {row["life"]: row for row in table("lives")}
    full, lower = lives["full sugar"], lives["lower sugar"]
    under = f"below {LOWER_SUGAR:.2f} solids"
    assert f"| `ph` | 2–{PLAN_PH:g} |" in PAGE
    allowed = f"1–{full['most_months']}, {under} 1–{lower['most_months']}"
    usual = f"{full['usual_months']}, {under} {lower['usual_months']}"
    assert f"| `best_before_months` | {allowed} | {usual} |" in PAGE
    assert f"| `heat_step` | text, up to 300 | none | needed {under}:" in PAGE
