"""How long fruit keeps: days at 0 °C turned into days at the chiller's temperature.

Fruit lives on its stores, so its life is taken as inverse to its respiration (Nunes, Emond & Brecht
2003, Acta Horticulturae 628, found that raspberries keep so). Published tables give respiration at a few
temperatures; between them it is interpolated on a logarithmic scale. One Q10 for all would not do:
strawberries and raspberries breathe about four times faster at 10 than at 0 °C, but only twice as fast
again at 20 °C.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable
from functools import cache
from importlib.resources import files

import numpy as np

from scheduler.physics import ranges
from scheduler.physics.quantity import Array, Numbers, Q

Spell = tuple[Numbers, Numbers]
"""Hours (0 to 10 000) at one temperature (°C, within the fruit's table)."""


def known_fruits() -> tuple[str, ...]:
    """Names of the fruits with a published respiration table, in alphabetical order."""
    return tuple(sorted(_tables()))


def known_celsius(fruit: str) -> tuple[float, float]:
    """The lowest and highest temperature (°C) of ``fruit``'s table; ValueError for a fruit without one."""
    temperatures, _ = _table(fruit)
    return float(temperatures[0]), float(temperatures[-1])


def days_at(days_at_0c: Q | float, fruit: str, celsius: Q | float) -> Q | float:
    """Days that fruit lasts at ``celsius`` when it lasts ``days_at_0c`` (0 to 400) at 0 °C.

    ``fruit`` is one of ``known_fruits()``. ``celsius`` must lie within that fruit's table (0 to 20 °C
    or a little more). Raises ValueError for another fruit or out of range.
    """
    ranges.within("days at 0 °C", days_at_0c, 0, 400, "days", "Give the days from picking.")
    return days_at_0c / pace(fruit, celsius)


def pace(fruit: str, celsius: Q | float) -> Q | float:
    """How many times faster than at 0 °C ``fruit`` lives at ``celsius``; errors as for ``days_at``."""
    return respiration(fruit, celsius) / respiration(fruit, 0.0)


def age_days(fruit: str, spells: Iterable[Spell]) -> Numbers:
    """Age of fruit after ``spells`` since picking, in days at 0 °C: what the spells took of its life.

    All lives of a fruit share this counter: it may be sold, frozen at its peak or cooked while its age is
    within its selling, peak or cooking days at 0 °C. Errors as for ``days_at``.
    """
    age: Numbers = 0.0
    for hours, celsius in spells:
        ranges.within("hours of a spell", hours, 0, 10_000, "h", "Give hours, half a day as 12.")
        age = age + hours / 24 * pace(fruit, celsius)
    return age


def life_used(days_at_0c: Numbers, fruit: str, spells: Iterable[Spell]) -> Numbers:
    """Share of a life of ``days_at_0c`` (above 0, at most 400) that ``spells`` used up; above 1 it is over.

    A warm morning in the yard counts: six hours at 20 °C cost strawberries two of their days at 0 °C.
    Errors as for ``days_at``.
    """
    ranges.above("days at 0 °C", days_at_0c, 0, 400, "days", "Give the days from picking.")
    return age_days(fruit, spells) / days_at_0c


def days_left(days_at_0c: Numbers, fruit: str, spells: Iterable[Spell], celsius: Numbers) -> Numbers:
    """Days that are left at ``celsius`` after ``spells``; below nothing where the life ended that long ago.

    Errors as for ``days_at``.
    """
    return days_at(days_at_0c, fruit, celsius) - age_days(fruit, spells) / pace(fruit, celsius)


def respiration(fruit: str, celsius: Q | float) -> Q | float:
    """Respiration (mg CO2 per kg and hour) of ``fruit`` at ``celsius``; errors as for ``days_at``.

    Sources stand beside each value in ``data/respiration.csv``; where a range is published its
    middle is used.
    """
    temperatures, logarithms = _table(fruit)
    remedy = "Keep the fruit within these temperatures, or plan its life by the fruit's own days."
    ranges.within(f"temperature for {fruit}", celsius, temperatures[0], temperatures[-1], "°C", remedy)
    found = np.exp(np.interp(celsius, temperatures, logarithms))
    return found if isinstance(celsius, np.ndarray) else float(found)


def _table(fruit: str) -> tuple[Array, Array]:
    table = _tables().get(fruit)
    if table is None:
        names = ", ".join(known_fruits())
        raise ValueError(
            f"no respiration table for {fruit!r}; allowed: {names}. Name the fruit that keeps most like it."
        )
    return table


@cache
def _tables() -> dict[str, tuple[Array, Array]]:
    """For each fruit the temperatures (°C, rising) and the logarithms of its respiration there."""
    text = files("scheduler.physics").joinpath("data/respiration.csv").read_text(encoding="utf-8")
    points: dict[str, list[tuple[float, float]]] = {}
    for row in csv.DictReader(text.splitlines()):
        point = float(row["celsius"]), math.log(float(row["mg_co2_per_kg_h"]))
        points.setdefault(row["fruit"], []).append(point)
    return {
        fruit: (curve[:, 0], curve[:, 1])
        for fruit, rows in points.items()
        for curve in [np.array(sorted(rows))]
    }
