"""A table of text cells, as a page or a workbook shows it, and what of a file it stands for."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from scheduler.intake.columns import LISTS, OF_RECIPE, ONCE, RECIPE, SHEETS, Column, columns_of
from scheduler.intake.gathered import KITCHEN, RECIPES
from scheduler.languages import message

Cells = tuple[str, ...]

TITLES = {
    "": message("the farm"),
    "kitchen": message("the kitchen"),
    "jar_oven": message("jar oven"),
    "supply": message("power and gas"),
    "second_freezer": message("second freezer"),
    "drip_stands": message("drip stands"),
    "labels": message("labelling"),
    "habits": message("habits of work"),
    "prices": message("price of energy"),
    "slack": message("what a goal may give up"),
    "work": message("rules of work"),
    "pan": message("pans"),
    "ring": message("rings"),
    "freezer_box": message("freezer boxes"),
    "work.break": message("breaks"),
    "recipe": message("recipes"),
    "fruit": message("fruit"),
    "other": message("spices, acids and the like"),
    "size": message("further sizes"),
}
"""How tables are called on pages, where not by their own name."""


@dataclass(frozen=True)
class Grid:
    """Rows of text cells under ``columns``.

    ``numbers`` says where each row stands in its file, as faults count rows; None for a row that is new.
    """

    columns: tuple[Column, ...]
    rows: tuple[Cells, ...]
    numbers: tuple[int | None, ...]

    @property
    def names(self) -> Cells:
        return tuple(column.name for column in self.columns)

    def with_rows(self, rows: Sequence[Cells], numbers: Sequence[int | None]) -> Grid:
        """The same columns over other rows; rows without a single filled cell are left out."""
        kept = [(row, number) for row, number in zip(rows, numbers, strict=True) if any(map(str.strip, row))]
        return Grid(self.columns, tuple(row for row, _ in kept), tuple(number for _, number in kept))


@dataclass(frozen=True)
class Section:
    """One table of a file: a CSV file whole (``path`` empty), or tables of a TOML file.

    ``path`` are the keys that lead to it, ``recipe`` counts from 0; ``once`` tells a table that stands there
    once at most from a list of tables.
    """

    file: str
    title: str
    columns: tuple[Column, ...]
    path: tuple[str, ...] = ()
    once: bool = False
    recipe: int | None = None

    @property
    def is_csv(self) -> bool:
        return self.file.endswith(".csv")

    def owns(self, where: str) -> bool:
        """Whether a fault of this file at ``where`` is one of this table."""
        if self.is_csv:
            return True
        name = self.path[-1] if self.path else ""
        if self.recipe is not None:
            mine = rf"recipe {self.recipe + 1}, (key )?{name}\b"
        elif self.file == RECIPES:
            mine = r"recipe \d+\b(?!, (key )?(fruit|other|size)\b)|\[\[recipe\]\]"
        elif self.once:
            mine = (
                rf"\[{name}\](?!, key break\b)"
                if name
                else r"key (?!pan\b|ring\b|freezer_box\b)|$|line |table "
            )
        else:
            mine = rf"{name} \d+|\[\[{'.'.join(self.path)}\]\]|(\[work\], )?key {name}\b"
        return re.match(mine, where) is not None


def csv_section(file: str) -> Section:
    """The one table of a CSV file."""
    return Section(file, file.removesuffix(".csv"), columns_of(SHEETS[file]))


def kitchen_sections() -> tuple[Section, ...]:
    """The tables of kitchen.toml, those that hang together side by side."""
    once = {
        name: Section(KITCHEN, TITLES.get(name, name), columns_of(model), (name,) if name else (), once=True)
        for name, model in ONCE.items()
    }
    lists = {
        name: Section(KITCHEN, TITLES[name], columns_of(model), tuple(name.split(".")))
        for name, model in LISTS.items()
    }
    first = [once.pop(""), once.pop("kitchen"), lists.pop("pan"), lists.pop("ring")]
    return (*first, *once.values(), *lists.values())


def recipe_sections(names: Sequence[str]) -> tuple[Section, ...]:
    """The tables of recipes.toml: of all recipes, and those within each of them."""
    within = (
        Section(
            RECIPES,
            f"{name if name and names.count(name) == 1 else f'recipe {number + 1}'}: {TITLES[key]}",
            columns_of(model),
            (key,),
            recipe=number,
        )
        for number, name in enumerate(names)
        for key, model in OF_RECIPE.items()
    )
    return (Section(RECIPES, TITLES["recipe"], columns_of(RECIPE), ("recipe",)), *within)
