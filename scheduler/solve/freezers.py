"""Which freezer each lot lies in, and whether what is frozen by habit will have room."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from ortools.sat.python import cp_model

from scheduler.cards import SCALE, Cards, rounded_down
from scheduler.domain.kitchen import Freezer
from scheduler.model.decisions import Linear, total, weighted
from scheduler.model.freezer_boxes import box_units
from scheduler.model.freezers import freezers_in_use, most_left
from scheduler.model.mip import solve
from scheduler.plan_rows import FreezerDay

MG = 1_000_000
"""Units of a kg here: whole milligrams, as a plan writes kg."""
FORGIVEN_MG = 500
"""What a MIP solver may have put above a limit."""
SECONDS = 10.0  # far more than a linear program of one day takes


@dataclass(frozen=True)
class _Part:
    """Fruit in the freezers at the end of a day: mg, ``new`` if it was frozen that day, room of a boxed kg.

    ``lay`` is what lay in each of the two freezers the night before; None for new fruit, or if not known.
    """

    left: int
    new: bool
    ml_per_kg: int
    lay: tuple[int, int] | None = None


def in_each_freezer(cards: Cards, rows: Sequence[FreezerDay]) -> tuple[FreezerDay, ...]:
    """Rows, in order of days, with what lies in the second freezer, if there is one.

    Day by day as little as can be is carried from one freezer to the other; else the first is filled first.
    """
    if cards.kitchen.second_freezer is None:
        return tuple(rows)
    found: list[FreezerDay] = []
    lay: dict[str, tuple[int, int]] = {}
    for day, some in groupby(rows, key=lambda row: row.day):
        todays = list(some)
        parts = [
            _Part(round(row.left * MG), row.frozen > 0, _box_ml(cards, row.fruit), lay.get(row.lot))
            for row in todays
        ]
        apart, _ = _divided(cards, cards.dates.index(day), parts)
        lay = {row.lot: (p.left - mg, mg) for row, p, mg in zip(todays, parts, apart, strict=True)}
        found += [replace(row, in_second=mg / MG) for row, mg in zip(todays, apart, strict=True)]
    return tuple(found)


def room(cards: Cards, day: int) -> float:
    """Card units that the freezers in use may hold at the end of a day, by their kg."""
    return min(sum(freezer.kg * SCALE for freezer in freezers_in_use(cards, day)), most_left(cards, day))


def must_leave_by(cards: Cards, day: int, level: Iterable[float]) -> int | None:
    """The first day from ``day`` on by whose end some of ``level`` (card units) must be cooked, if any."""
    units = sum(level)
    return next((d for d in range(day, cards.days) if units > room(cards, d) + 1e-6), None)


def free_space(cards: Cards, day: int, level: Mapping[int, float]) -> tuple[float, float, float, float]:
    """What may be frozen on a day beside ``level`` (card units by fruit), and stay whatever is cooked later.

    Units by the freezing rate and by the room in kg, thousandths of a litre free, and those that a unit
    takes on trays. Of two freezers these are sums: ``has_room`` tells whether it can be divided.
    """
    in_use = freezers_in_use(cards, day)
    rate = sum(rounded_down(freezer.freeze_kg_per_day, 1 / SCALE) for freezer in in_use)
    least = min(room(cards, later) for later in range(day, cards.days))
    boxed = sum(units * cards.fruits[f].box_volume / 1000 for f, units in level.items())
    litres = sum(freezer.litres for freezer in in_use) * 1000 - boxed
    tray = max((freezer.tray_litres_per_kg for freezer in in_use), default=1.0) * 1000 / SCALE
    return float(rate), least - sum(level.values()), litres, tray


def free_in_boxes(cards: Cards, level: Mapping[int, float], fruit: int) -> float:
    """Units of a fruit that its boxes still take beside ``level`` (card units by fruit)."""
    own = cards.fruits[fruit].box
    if own is None:
        return math.inf
    box = cards.kitchen.freezer_boxes[own]
    others = (f for f, card in enumerate(cards.fruits) if card.box == own and f != fruit)
    used = sum(box.needed(level.get(f, 0.0) / SCALE) for f in others)
    return (box.count - used) * box_units(box) - level.get(fruit, 0.0)


def has_room(cards: Cards, day: int, level: Mapping[int, float], frozen: Mapping[int, float]) -> bool:
    """Whether ``level`` and ``frozen`` that day (card units by fruit) fit the freezers on a day and all later
    ones, if nothing is cooked. One that stays in use holds them: ``free_space`` said so."""
    kitchen = cards.kitchen
    in_use = [freezers_in_use(cards, d) for d in range(day, cards.days)]
    if kitchen.second_freezer is None and set(in_use) == {kitchen.freezers}:
        return True
    first_of = {state: day + n for n, state in reversed(list(enumerate(in_use))) if n and state != in_use[0]}
    return all(_fits(cards, d, level, frozen, d == day) for d in (day, *first_of.values()))


def _fits(
    cards: Cards, day: int, level: Mapping[int, float], frozen: Mapping[int, float], on_trays: bool
) -> bool:
    parts = []
    for f, units in level.items():
        box = _box_ml(cards, cards.fruits[f].name)
        parts += [_Part(_mg(units), False, box), _Part(_mg(frozen.get(f, 0.0)), on_trays, box)]
    return _divided(cards, day, parts)[1]


def what_is_saved(cards: Cards, day: int, level: Mapping[int, float]) -> dict[int, float]:
    """``level`` (card units by fruit) less what has no room on a day, of all fruits alike."""
    shares = (tenths / 10 for tenths in range(10, 0, -1))
    some = ({f: units * share for f, units in level.items()} for share in shares)
    return next((kept for kept in some if _fits(cards, day, kept, {}, False)), dict.fromkeys(level, 0.0))


def _mg(units: float) -> int:
    return round(units / SCALE * MG)


def _box_ml(cards: Cards, fruit: str) -> int:
    return cards.fruits[cards.fruit_index[fruit]].box_volume * SCALE // 1000


def _divided(cards: Cards, day: int, parts: Sequence[_Part]) -> tuple[list[int], bool]:
    """The mg of each part in the second freezer (0 where there is none), and whether all have room."""
    model = cp_model.CpModel()
    two = cards.kitchen.second_freezer is not None
    apart = [model.new_int_var(0, part.left if two else 0, "apart") for part in parts]
    carried = [model.new_int_var(0, part.left, "carried") for part in parts]
    for part, there, moved in zip(parts, apart, carried, strict=True):
        if part.lay is not None:
            model.add(moved >= there - part.lay[1])
            model.add(moved >= part.left - there - part.lay[0])
    over = []
    for n, freezer in enumerate(cards.kitchen.freezers):
        lies: list[Linear] = [a + 0 if n else part.left - a for part, a in zip(parts, apart, strict=True)]
        for load, most in _loads(freezer, freezer in freezers_in_use(cards, day), parts, lies):
            over.append(model.new_int_var(0, 2**50, "over"))
            model.add(load <= most + over[-1])
    model.minimize(1000 * total(over) + 10 * total(carried) + total(apart))
    answer = solve(model, set(range(len(model.proto.variables))), SECONDS, 1, 0, lambda *_: False)
    assert answer.values is not None, "being over is dear, never impossible"
    fits = all(answer.values[var.index] < FORGIVEN_MG for var in over)
    return [round(answer.values[var.index]) for var in apart], fits


def _loads(
    freezer: Freezer, in_use: bool, parts: Sequence[_Part], lies: Sequence[Linear]
) -> list[tuple[Linear, int]]:
    """What a freezer holds and freezes (mg) and the room of it (mg × ml/kg), each with the most it can."""
    tray = round(freezer.tray_litres_per_kg * 1000)
    kg, rate, litres = (
        int(size * in_use * MG) + FORGIVEN_MG
        for size in (freezer.kg, freezer.freeze_kg_per_day, freezer.litres)
    )
    return [
        (total(lies), kg),
        (total(load for load, part in zip(lies, parts, strict=True) if part.new), rate),
        (weighted(lies, [tray if part.new else part.ml_per_kg for part in parts]), litres * 1000),
    ]
