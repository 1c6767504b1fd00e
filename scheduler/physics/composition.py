"""What fruit is made of, and whether its pectin sets: facts with their sources in ``data/fruits.csv``.

They are ranges that fruit falls in: a farm's own refractometer and pH meter count for more.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

from scheduler.physics import ranges

PARTNER_SHARE = 0.25
"""Share of high-pectin fruit from which on it sets a mix; common practice, no source."""


class Pectin(StrEnum):
    """How much pectin ripe fruit has to set with. Source: So Easy to Preserve, pectin groups I to III."""

    HIGH = "high"  # sets with sugar alone if not overripe
    MEDIUM = "medium"  # may need acid or pectin
    LOW = "low"  # needs acid, pectin or both


@dataclass(frozen=True, slots=True)
class Composition:
    """One fruit: water, soluble solids (low and high) and preparation loss as fractions of mass, pH."""

    water: float
    solids_low: float
    solids_high: float
    ph_low: float
    ph_high: float
    loss_low: float
    loss_high: float
    pectin: Pectin


def known_fruits() -> tuple[str, ...]:
    """Names of the fruits with a composition, in alphabetical order."""
    return tuple(sorted(_compositions()))


def composition(fruit: str) -> Composition:
    """Composition of ``fruit``, one of ``known_fruits()``. Raises ValueError for another."""
    found = _compositions().get(fruit)
    if found is None:
        names = ", ".join(known_fruits())
        raise ValueError(
            f"no composition for {fruit!r}; allowed: {names}. Name the fruit most like it, or measure yours."
        )
    return found


def weak_in_pectin(
    shares: Mapping[str, float], lemons_per_kg: float = 0.0, pectin_g_per_kg: float = 0.0
) -> tuple[Pectin, tuple[str, ...]] | None:
    """The fruits of a mix (shares from 0 to 1) that keep it from setting, and how much pectin they have.

    None where nothing is missing.

    Lemon juice or pectin helps any mix, and so does a quarter or more of high-pectin fruit. Without them
    low-pectin fruit needs help and medium may need it. Says nothing about overripe fruit, which has lost its
    pectin. Raises ValueError for an unknown fruit or out of range.
    """
    ranges.within("lemons", lemons_per_kg, 0, 20, "for a kg of fruit", "Give lemons a kg of fruit.")
    ranges.within("pectin", pectin_g_per_kg, 0, 200, "g for a kg of fruit", "Give grams a kg of fruit.")
    of_class: dict[Pectin, list[str]] = {pectin: [] for pectin in Pectin}
    high = 0.0
    for fruit, share in shares.items():
        ranges.within(f"share of {fruit}", share, 0, 1, "", "Give 40 % as 0.4.")
        pectin = composition(fruit).pectin
        if share > 0:
            of_class[pectin].append(fruit)
        high += share if pectin is Pectin.HIGH else 0.0
    if lemons_per_kg > 0 or pectin_g_per_kg > 0 or high >= PARTNER_SHARE:
        return None
    if low := of_class[Pectin.LOW]:
        return Pectin.LOW, tuple(low)
    if medium := of_class[Pectin.MEDIUM]:
        return Pectin.MEDIUM, tuple(medium)
    return None


@cache
def _compositions() -> dict[str, Composition]:
    text = files("scheduler.physics").joinpath("data/fruits.csv").read_text(encoding="utf-8")
    facts: dict[str, dict[str, str]] = {}
    for row in csv.DictReader(text.splitlines()):
        facts.setdefault(row["fruit"], {})[row["property"]] = row["value"]
    return {
        fruit: Composition(
            pectin=Pectin(own.pop("pectin")), **{name: float(value) for name, value in own.items()}
        )
        for fruit, own in facts.items()
    }
