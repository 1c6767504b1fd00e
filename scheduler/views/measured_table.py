"""Tables of kg, litres and °C in the units that the reader's farm goes by."""

from __future__ import annotations

from typing import Any

import pandas as pd

from scheduler.languages import METRIC, measures, units


def in_units(frame: pd.DataFrame) -> pd.DataFrame:
    """A table whose headings name kg, litres or °C, with its numbers in the units that are shown.

    A heading of text that ends with ``(kg)`` speaks of all numbers of its table.
    """
    if units() == METRIC:
        return frame
    every = next((unit for name in frame.columns if (unit := _of_all(str(name)))), "")
    turned: dict[Any, Any] = {}
    for name in frame.columns:
        unit = measures.named_in(str(name)) or every
        column = frame[name]
        if unit and pd.api.types.is_numeric_dtype(column):
            factor, offset = measures.shown(1.0, unit) - measures.shown(0.0, unit), measures.shown(0.0, unit)
            column = (column.astype("float64") * factor + offset).round(1)
        turned[measures.worded(str(name))] = column
    return pd.DataFrame(turned)


def _of_all(heading: str) -> str:
    return "kg" if heading.endswith("(kg)") else ""
