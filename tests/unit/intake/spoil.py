"""Ways to spoil a copy of a good scenario folder, and what is told then."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from scheduler.errors import Fault, InputFaults
from scheduler.intake import read_scenario

SCENARIOS = Path(__file__).parents[3] / "scenarios"
FARM = Path(__file__).parents[2] / "farm"
K, R = "kitchen.toml", "recipes.toml"

Change = Callable[[Path], object]
Case = tuple[Change, str, str, str]
"""How a folder is spoiled; the file and place of the one fault that this must give, and words of it."""


def assert_told_once(folder: Path, case: Case) -> None:
    """The case's change gives its one fault, in its place, with a way out."""
    change, file, where, word = case
    change(folder)
    faults = faults_of(folder)
    assert len(faults) == 1, faults
    (fault,) = faults
    assert fault.file == file
    assert fault.where == where or (where == "line" and fault.where.startswith("line ")), fault
    assert word in str(fault)
    assert fault.found
    assert fault.allowed
    assert fault.remedy.endswith((".", "?"))


def faults_of(folder: Path) -> tuple[Fault, ...]:
    with pytest.raises(InputFaults) as caught:
        read_scenario(folder)
    assert caught.value.exit_code == 2
    assert str(caught.value) == "\n".join(str(fault) for fault in caught.value.faults)
    return caught.value.faults


def swap(file: str, old: str, new: str) -> Change:
    """Replace the first ``old`` in a file."""

    def change(folder: Path) -> None:
        text = (folder / file).read_text(encoding="utf-8")
        assert old in text, f"{old!r} is not in {file}"
        (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")

    return change


def add(file: str, line: str) -> Change:
    """Write one more line at the end of a file."""

    def change(folder: Path) -> None:
        with (folder / file).open("a", encoding="utf-8") as stream:
            stream.write(line + "\n")

    return change


def columns(file: str, row: int, **cells: str) -> Change:
    """Give a file more columns, empty but in line ``row`` (the first line is 1)."""

    def change(folder: Path) -> None:
        lines = (folder / file).read_text(encoding="utf-8").splitlines()
        more = [list(cells), *([""] * len(cells) for _ in lines[1:])]
        more[row - 1] = list(cells.values())
        text = "\n".join(",".join([line, *new]) for line, new in zip(lines, more, strict=True))
        (folder / file).write_text(text + "\n", encoding="utf-8")

    return change


def again(file: str, opening: str, key: str) -> Change:
    """Repeat the table that holds ``key`` at the end of a file."""

    def change(folder: Path) -> None:
        text = (folder / file).read_text(encoding="utf-8")
        (table,) = [table for table in text.split(opening)[1:] if key in table]
        (folder / file).write_text(text + opening + table, encoding="utf-8")

    return change


def write(file: str, data: bytes) -> Change:
    def change(folder: Path) -> None:
        (folder / file).write_bytes(data)

    return change


def remove(file: str) -> Change:
    return lambda folder: (folder / file).unlink()


def rename(file: str, new: str) -> Change:
    def change(folder: Path) -> None:
        (folder / file).rename(folder / new)

    return change
