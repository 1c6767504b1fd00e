"""A first plan of a long season: week after week, with what lies beyond a week at its worth."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import numpy as np

from scheduler.cards import Cards
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.mip import Numbers, solve
from scheduler.model.pieces import Pieces
from scheduler.solve.days import Days, Found
from scheduler.solve.kept import Within
from scheduler.solve.margins import JAR, STEP, SURE
from scheduler.solve.settings import Clock
from scheduler.solve.staffing import nearest
from scheduler.solve.windows import fixed_outside

LONG = 20
"""Days of picking."""
WEEK = 7
"""Days that are decided together."""
AHEAD = 7
"""Days after them that are looked at with parts of batches, before prices take over."""
MOST_MARGIN = 96
"""Per cent of a day's time kept free when a week is given up: it has no other week to lean on."""
GAP = 0.02
"""Of the whole relaxation's value, a piece having its share by days: prices alone may add up to nothing."""
TIGHT = 1e-7
"""Of a row: a tenth of what a piece forgives the days before it."""
SHARE_OF_TIME = 0.5
LEAST_SECONDS = 8.0
"""Of the time left, what all weeks to come may use, and what one may at least; as a rule two are enough."""
HAIR = 0.01
"""Card units, a gram: what freezing may be moved by when weeks are put together."""
INSIDE = 1e-6
"""Of a relaxation: how far from its corner a value may be that is found from inside."""


def is_long(cards: Cards) -> bool:
    """Whether fruit comes on so many days that no exact search of all of them can be hoped for."""
    return len({lot.arrives for lot in cards.lots if lot.arrives > 0}) > LONG


def sweep(
    model: AllocationModel, days: Days, clock: Clock, within: Within, say: Callable[[str], None]
) -> Found | None:
    """A plan for the first goal with everybody in; None where there was no time for it."""
    cards = model.cards
    goal = model.goals["spoiled"] + JAR * model.goals["short"]
    pieces = Pieces(model, goal, {model.avoid.index: 0.0}, within)
    margins = dict.fromkeys(range(cards.days), SURE)
    say("what fruit is worth, day by day")
    if not pieces.price(margins, clock.left, clock.stop):
        return None
    staff, values = nearest(model.x, list(pieces.relaxed), within), np.zeros(len(pieces.cost))
    hands = {var.index: float(i in staff) for i, var in enumerate(model.x.staff)}
    for first in range(0, cards.days, WEEK):
        week = range(first, min(cards.days, first + WEEK))
        say(f"week {first // WEEK + 1} of {-(-cards.days // WEEK)}")
        placed = _week(pieces, days, clock, week, values, margins, hands)
        if placed is None:
            return None
        values = placed
    return _completed(model, days, model.read(tuple(values)), within, clock)


def least(model: AllocationModel, name: str, within: Within, clock: Clock) -> float:
    """A bound on a goal, by the relaxation of the whole; minus infinity where there was no time for it."""
    pieces = Pieces(model, model.goals[name], {model.avoid.index: 0.0}, within)
    if not pieces.price({}, clock.left, clock.stop):
        return float("-inf")
    return pieces.value - INSIDE * abs(pieces.value)


def _week(
    pieces: Pieces,
    days: Days,
    clock: Clock,
    week: range,
    before: Numbers,
    margins: dict[int, int],
    hands: dict[int, float],
) -> Numbers | None:
    """Values up to the end of a week, all of whose days are placed."""
    model, ahead = pieces.model, min(pieces.model.cards.days, week.stop + AHEAD)
    weeks = -(-(model.cards.days - week.start) // WEEK)
    others: dict[int, float] = {}
    while not clock.over:
        options = {
            "time_limit": max(LEAST_SECONDS, SHARE_OF_TIME * clock.left / weeks),
            "mip_rel_gap": 0.0, "mip_abs_gap": GAP * abs(pieces.value) * len(week) / model.cards.days,
            "threads": days.workers, "random_seed": days.seed,
            "mip_feasibility_tolerance": TIGHT, "primal_feasibility_tolerance": TIGHT,
        }  # fmt: skip
        values = pieces.solve(week, ahead, before, margins, options, clock.stop, hands | others)
        if values is None and others:
            others = {}
            continue
        if values is None:
            return None
        allocation = model.read(tuple(values))
        failed = _failed(days, allocation, week)
        if not failed:
            return values
        if max(margins[day] for day in failed) >= MOST_MARGIN:
            return None
        for day in failed:
            margins[day] = min(MOST_MARGIN, margins[day] + STEP)
        kept = fixed_outside(model, allocation, tuple(failed), everybody=True)
        others = {index: value for index, value in kept.items() if pieces.day[index] in week}
    return None


def _failed(days: Days, allocation: Allocation, week: range) -> list[int]:
    """The days of a week that have no timetable."""
    works = [days.work(allocation, day) for day in week]
    with ThreadPoolExecutor(days.workers) as pool:
        placed = list(pool.map(days.placed, works))
    return [day for day, good in zip(week, placed, strict=True) if not good]


def _completed(
    model: AllocationModel, days: Days, allocation: Allocation, within: Within, clock: Clock
) -> Found | None:
    """The weeks put together as one allocation of the whole model, and its timetables."""
    model.model.minimize(model.goals["spoiled"] + JAR * model.goals["short"])
    fixed = fixed_outside(model, allocation, (), everybody=True) | {model.avoid.index: 0.0}
    # A week is solved to a hair, and the next one starts from there: to the gram the whole may not be.
    freezing = [(var.index, fixed[var.index]) for var in model.x.freeze.values()]
    nearly = {index: (max(0.0, units - HAIR), units + HAIR) for index, units in freezing}
    within = nearly | dict(within)
    fixed = {index: value for index, value in fixed.items() if index not in within}
    answer = solve(
        model.model, model.masses, max(5.0, clock.left), days.workers, days.seed,
        lambda *_: False, fixed=fixed, within=within,
    )  # fmt: skip
    if answer.values is None:
        return None
    whole = model.read(answer.values)
    timetables = [days.answer(days.work(whole, day)).timetable for day in range(model.cards.days)]
    placed = tuple(timetable for timetable in timetables if timetable is not None)
    return Found(whole, placed) if len(placed) == model.cards.days else None
