"""How long sealed jars keep, by class, and the months until then."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.law.acts import table
from scheduler.law.composition import Composition


@dataclass(frozen=True, slots=True)
class Life:
    """Months from potting that jars of a class ``name`` keep: usually, and at most."""

    name: str
    usual: int
    most: int
    source: str
    verified: bool


def life_of(composition: Composition) -> Life:
    """The life of the class of a preserve, by its soluble solids; sources in ``data/lives.csv``."""
    name = "lower sugar" if composition.lower_sugar else "full sugar"
    (row,) = (row for row in table("lives") if row["life"] == name)
    months = int(row["usual_months"]), int(row["most_months"])
    return Life(name, *months, row["source"], row["provenance"] == "read")


def months_after(day: date, months: int) -> date:
    """The same day of a later month, or that month's last day where it is shorter."""
    years, month = divmod(day.month - 1 + months, 12)
    first = date(day.year + years, month + 1, 1)
    next_month = (first + timedelta(days=31)).replace(day=1)
    return first.replace(day=min(day.day, (next_month - first).days))
