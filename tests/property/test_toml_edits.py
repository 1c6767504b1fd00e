"""Whatever is typed into tables of a TOML file is what is read back, and nothing else of the file changes."""

from __future__ import annotations

from random import Random

import pytest

from scheduler.drafts import toml_text
from scheduler.drafts.grid import Grid, Section, kitchen_sections, recipe_sections
from tests.unit.intake.spoil import SCENARIOS

TYPED = ("", "7", "2.5", "x y", "true", "2026-01-02", "[0.5, 1]", '"', "# no comment", "12 lb")


def sections_of(text: str, file: str) -> tuple[Section, ...]:
    if file == "kitchen.toml":
        return kitchen_sections()
    plain = toml_text.loaded(text)
    assert plain is not None
    return recipe_sections([str(table.get("name", "")) for table in plain.get("recipe", [])])


def filled(grid: Grid | None) -> list[dict[str, str]]:
    assert grid is not None
    return [{name: cell for name, cell in zip(grid.names, row, strict=True) if cell} for row in grid.rows]


def edited(rng: Random, section: Section, grid: Grid) -> Grid:
    """Cells typed into, a row added or removed."""
    rows, numbers = [list(row) for row in grid.rows], list(grid.numbers)
    if section.once:
        rows, numbers = rows or [[""] * len(grid.columns)], [1]
    elif rows and rng.random() < 0.3:
        at = rng.randrange(len(rows))
        del rows[at], numbers[at]
    elif rng.random() < 0.4:
        rows.append([rng.choice(TYPED) for _ in grid.columns])
        numbers.append(None)
    for row in rows[:1] if section.once else rng.sample(rows, min(1, len(rows))):
        for _ in range(3):
            row[rng.randrange(len(row))] = rng.choice(TYPED)
    return grid.with_rows([tuple(row) for row in rows], numbers)


@pytest.mark.parametrize("file", ["kitchen.toml", "recipes.toml"])
@pytest.mark.parametrize("seed", range(20))
def test_edits_come_back_and_all_else_stays(file: str, seed: int) -> None:
    rng = Random(f"{file} {seed}")
    text = (SCENARIOS / "glut-week" / file).read_text(encoding="utf-8")
    comments = [line for line in text.splitlines() if line.startswith("#")]
    for _ in range(6):
        sections = sections_of(text, file)
        section = rng.choice(sections)
        before = toml_text.read(text, section)
        assert before is not None
        grid = edited(rng, section, before)
        new = toml_text.write(text, section, grid)
        assert filled(toml_text.read(new, section)) == filled(grid)
        if section.path != ("recipe",):
            for other in sections:
                assert other == section or toml_text.read(new, other) == toml_text.read(text, other)
        text = new
    assert comments[0] in text
