"""Faults of files, columns, keys and tables."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.intake.spoil import Case, K, R, add, assert_told_once, remove, rename, swap, write

FILES: dict[str, Case] = {
    "missing file": (remove("picks.csv"), "picks.csv", "", "no such file"),
    "misnamed file": (rename("picks.csv", "pick.csv"), "picks.csv", "", "Rename pick.csv to picks.csv"),
    "ending hidden by the system": (
        rename("picks.csv", "picks.csv.txt"),
        "picks.csv",
        "",
        "Rename picks.csv.txt to picks.csv",
    ),
    "misnamed optional file": (
        add("delivery.csv", "date,good,quantity"),
        "deliveries.csv",
        "",
        "Rename delivery.csv",
    ),
    "empty file": (write("picks.csv", b""), "picks.csv", "", "an empty file"),
    "blank file": (write(K, b"\r\n \r\n"), K, "", "an empty file"),
    "not UTF-8": (write("orders.csv", b"order\nb\xe4cker\n"), "orders.csv", "line 2", "not UTF-8"),
    "UTF-16": (write("orders.csv", "order".encode("utf-16")), "orders.csv", "line 1", "UTF-16"),
    "too large": (write("picks.csv", b"x" * 5_000_001), "picks.csv", "", "at most 5 MB"),
    "folder for a file": (
        lambda folder: ((folder / "lots.csv").unlink(), (folder / "lots.csv").mkdir()),
        "lots.csv",
        "",
        "not a file",
    ),
}


def tabbed(folder: Path) -> None:
    file = folder / "picks.csv"
    file.write_text(file.read_text(encoding="utf-8").replace(",", "\t"), encoding="utf-8")


LAYOUT: dict[str, Case] = {
    "cells separated by tabs": (tabbed, "picks.csv", "row 1", "Save it again as CSV"),
    "one table beside several": (swap(K, "[[pan]]", "[pan]"), K, "line", "as in [[pan]]"),
    "unknown column": (
        swap("picks.csv", "grade", "grad"),
        "picks.csv",
        "column 'grad'",
        "Did you mean 'grade'?",
    ),
    "missing column": (swap("picks.csv", ",kg", ""), "picks.csv", "column kg", "no such column"),
    "column twice": (swap("picks.csv", "grade,", "grade,grade,"), "picks.csv", "column grade", "twice"),
    "too few cells": (add("picks.csv", "2026-08-29,strawberry"), "picks.csv", "row 21", "2 cells"),
    "decimal comma in a comma file": (
        add("picks.csv", "2026-08-29,strawberry,table,12,5"),
        "picks.csv",
        "row 21",
        "write 12.5, not 12,5",
    ),
    "open quote": (
        add("picks.csv", '2026-08-29,"strawberry,table,12'),
        "picks.csv",
        "row 21",
        "Mend the quotes",
    ),
    "unknown key": (
        swap(K, "celsius = 3", "celsius = 3\ncelcius = 3"),
        K,
        "[chiller], key 'celcius'",
        "'celsius'?",
    ),
    "unknown top key": (swap(K, 'farm = "', 'frm = 1\nfarm = "'), K, "key 'frm'", "Did you mean 'farm'?"),
    "unknown table": (swap(K, "[habits]", "[habbits]"), K, "table 'habbits'", "Did you mean 'habits'?"),
    "unknown table of recipes": (add(R, "[[recipes]]"), R, "key 'recipes'", "Did you mean 'recipe'?"),
    "missing key": (swap(K, "celsius = 3", ""), K, "[chiller], key celsius", "nothing"),
    "missing table": (
        swap(K, "[prices]\ngas_price_kwh = 0.12\nelectricity_price_kwh = 0.31", ""),
        K,
        "[prices]",
        "Add",
    ),
    "key twice": (swap(K, "celsius = 3", "celsius = 3\ncelsius = 4"), K, "line", "twice: remove one"),
    "no schema": (swap(K, "schema = 1", ""), K, "key schema", "nothing"),
    "other schema": (swap(K, "schema = 1", "schema = 2"), K, "key schema", "'2'"),
    "decimal comma in TOML": (swap(K, "celsius = 3", "celsius = 3,5"), K, "line", "12.5, not 12,5"),
    "not TOML": (swap(K, "[chiller]", "[chiller"), K, "line", "Mend this line"),
    "single bracket": (
        swap(R, "[[recipe.fruit]]", "[recipe.fruit]"),
        R,
        "recipe 1, key fruit",
        "double brackets",
    ),
    "single bracket around another ingredient": (
        swap(R, "[[recipe.other]]", "[recipe.other]"),
        R,
        "recipe 3, key other",
        "double brackets",
    ),
    "a number for a table": (
        swap(K, "days = 7", "days = 7\nslack = 2"),
        K,
        "key slack",
        "[slack]",
    ),
    "nested too deep": (write(R, b"a = " + b"[" * 20_000), R, "", "nested too deep"),
}


@pytest.mark.parametrize("name", FILES)
def test_a_fault_of_a_file_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, FILES[name])


@pytest.mark.parametrize("name", LAYOUT)
def test_a_fault_of_layout_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, LAYOUT[name])
