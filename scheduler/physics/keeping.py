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
from functools import cache, lru_cache
from importlib.resources import files
from itertools import pairwise

from scheduler.physics import ranges


def known_fruits() -> tuple[str, ...]:
    """Names of the fruits with a published respiration table, in alphabetical order."""
    return tuple(sorted(_tables()))


@lru_cache(maxsize=4096)
def days_at(days_at_0c: float, fruit: str, celsius: float) -> float:
    """Days that fruit lasts at ``celsius`` when it lasts ``days_at_0c`` (0 to 400) at 0 °C.

    ``fruit`` is one of ``known_fruits()``. ``celsius`` must lie within that fruit's table (0 to 20 °C
    or a little more). Raises ValueError for another fruit or out of range.
    """
    ranges.within("days at 0 °C", days_at_0c, 0, 400, "days", "Give the days from picking.")
    return days_at_0c * respiration(fruit, 0.0) / respiration(fruit, celsius)


def respiration(fruit: str, celsius: float) -> float:
    """Respiration (mg CO2 per kg and hour) of ``fruit`` at ``celsius``; errors as for ``days_at``.

    Sources stand beside each value in ``data/respiration.csv``; where a range is published its
    middle is used.
    """
    table = _tables().get(fruit)
    if table is None:
        names = ", ".join(known_fruits())
        raise ValueError(
            f"no respiration table for {fruit!r}; allowed: {names}. Name the fruit that keeps most like it."
        )
    lowest, highest = table[0][0], table[-1][0]
    remedy = "Keep the fruit within these temperatures, or plan its life by the fruit's own days."
    ranges.within(f"temperature for {fruit}", celsius, lowest, highest, "°C", remedy)
    (cool, slow), (warm, fast) = next(pair for pair in pairwise(table) if celsius <= pair[1][0])
    return slow * math.exp(math.log(fast / slow) * (celsius - cool) / (warm - cool))


@cache
def _tables() -> dict[str, list[tuple[float, float]]]:
    text = files("scheduler.physics").joinpath("data/respiration.csv").read_text(encoding="utf-8")
    tables: dict[str, list[tuple[float, float]]] = {}
    for row in csv.DictReader(text.splitlines()):
        tables.setdefault(row["fruit"], []).append((float(row["celsius"]), float(row["mg_co2_per_kg_h"])))
    return {fruit: sorted(points) for fruit, points in tables.items()}
