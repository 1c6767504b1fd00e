"""All checks, and the file they are kept in."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import asdict, fields
from pathlib import Path

from tests.outside import balances, freezing_and_keeping, heat, set_points
from tests.outside.check import Check

FILE = Path(__file__).parents[1] / "outside_checks.csv"
COLUMNS = tuple(field.name for field in fields(Check))
DIGITS = 6
"""Significant digits of a figure in the file."""

CHECKS: tuple[Check, ...] = (
    *set_points.checks(),
    *heat.checks(),
    *balances.checks(),
    *freezing_and_keeping.checks(),
)


def rows(checks: Sequence[Check]) -> list[dict[str, str]]:
    """The checks as they stand in the file, figures to ``DIGITS`` significant digits."""
    return [
        {key: f"{value:.{DIGITS}g}" if isinstance(value, float) else str(value) for key, value in row.items()}
        for row in (asdict(check) for check in checks)
    ]


def write(checks: Sequence[Check], path: Path) -> None:
    """Write the checks to ``path`` as CSV."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows(checks))
