"""Picks as they are graded: what stays table grade, what turns out kitchen grade, what is lost."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

from scheduler.domain.fruit import Fruit, Grade, Lot

_FORGIVEN = 1e-6


def pick_name(fruit: str, grade: str, day: dt.date) -> str:
    """The name of the fresh lot that a pick becomes."""
    return f"{fruit} {grade} {day.isoformat()}"


def graded_down_name(fruit: str, day: dt.date) -> str:
    """The name of what is graded down, beside a kitchen pick that stood warm for another time."""
    return f"{pick_name(fruit, Grade.KITCHEN, day)} graded down"


def graded(picks: Iterable[Lot], fruits: Mapping[str, Fruit]) -> tuple[Lot, ...]:
    """The lots that picks become when they are graded, each part rounded down to 0.1 kg.

    A table pick keeps what is neither graded down nor lost; what is graded down joins the kitchen pick of
    its fruit and day, or is a lot of its own where there is none or it stood warm for another time.
    """
    lots: dict[str, Lot] = {}
    down: list[Lot] = []
    for pick in picks:
        fruit = fruits[pick.fruit]
        share = fruit.grade_down_share if pick.grade is Grade.TABLE else 0.0
        lots[pick.name] = replace(pick, kg=_part(pick.kg, 1 - share - fruit.grading_loss))
        if share:
            down.append(replace(pick, grade=Grade.KITCHEN, kg=_part(pick.kg, share)))
    for lot in down:
        name = pick_name(lot.fruit, Grade.KITCHEN, lot.day)
        beside = lots.get(name)
        if beside is None:
            lots[name] = replace(lot, name=name)
        elif _warmth(beside) == _warmth(lot):
            lots[name] = replace(beside, kg=round(beside.kg + lot.kg, 1))
        else:
            name = graded_down_name(lot.fruit, lot.day)
            lots[name] = replace(lot, name=name)
    return tuple(lot for lot in lots.values() if lot.kg > 0)


def _part(kg: float, share: float) -> float:
    return math.floor(10 * kg * share + _FORGIVEN) / 10


def _warmth(lot: Lot) -> tuple[float, float]:
    return lot.warm_hours, lot.warm_celsius
