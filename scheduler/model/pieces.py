"""A long allocation in pieces of some days: beyond a piece, what it hands on has the worth of the relaxation.

One linear relaxation of all days says what a unit of each row is worth: a kilogram that lies in the freezer
on an evening, a lot in the chiller, a jar in store. A piece is then solved by itself. Days before it are
given; rows that reach beyond it are left out, and their worth is charged to its own variables instead. So a
piece is as large as its days, however long the season is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model
from scipy import sparse

from scheduler.model.allocation import AllocationModel
from scheduler.model.decisions import Decisions, Linear
from scheduler.model.mip import Numbers, Rows, Stopped, costs_of, domains_of, loaded, rows_of, watched

Margins = Mapping[int, int]
WHOLE = 1e-6
"""How far from a whole number a value may be that counts as one."""
FORGIVEN = 1e-6
"""Of a row, relative to its size: what the days before may be off by."""


class _Block:
    """Rows as a matrix, with the last day that each one speaks of."""

    def __init__(self, rows: Rows, day: NDArray[np.int64]) -> None:
        used = np.diff(rows.start) > 0
        shape = (len(rows.low), len(day))
        self.matrix = sparse.csr_array((rows.value, rows.index, rows.start), shape=shape)[used]
        self.low, self.high = np.array(rows.low)[used], np.array(rows.high)[used]
        self.of = np.array(rows.of)[used]
        starts = self.matrix.indptr[:-1]
        self.last = np.maximum.reduceat(day[self.matrix.indices], starts) if len(starts) else starts


class Pieces:
    """The pieces of one model for one goal. ``fixed`` and ``within`` limit variables as in ``mip.solve``."""

    def __init__(
        self,
        model: AllocationModel,
        goal: Linear,
        fixed: Mapping[int, float],
        within: Mapping[int, tuple[float, float]],
    ) -> None:
        self.model = model
        model.model.minimize(goal)
        self.cost = costs_of(model.model)
        self.domains = domains = domains_of(model.model)
        self.low = np.array([float(domain[0]) for domain in domains])
        self.high = np.array([float(domain[-1]) for domain in domains])
        for index, (least, most) in [*within.items(), *((i, (v, v)) for i, v in fixed.items())]:
            self.low[index], self.high[index] = least, most
        self.whole = np.array([i not in model.masses for i in range(len(domains))])
        self.day = np.array(days_of(model))
        self.counted = np.zeros(len(domains), bool)
        self.counted[[var.index for row in model.x.count for var in row]] = True
        self.block = _Block(rows_of(model.model), self.day)
        self.of_time = np.isin(self.block.of, list(model.of_time))
        self.worth: Numbers = np.zeros(len(self.block.low))
        self.value, self.relaxed = 0.0, np.zeros(len(self.cost))
        """Of the whole relaxation, once priced, and of each variable; without margins no plan is better."""

    def price(self, margins: Margins, seconds: float, stop: Stopped) -> bool:
        """Find what the rows are worth, with ``margins`` kept free by day; whether there was time for it."""
        beside = _Block(self._beside(margins), self.day)
        kept = self._kept(margins)
        matrix = sparse.vstack([self.block.matrix[kept], beside.matrix]).tocsr()
        low = np.append(self.block.low[kept], beside.low)
        rows = _rows(matrix, low, np.append(self.block.high[kept], beside.high))
        offset = self.model.model.proto.objective.offset
        solver = loaded(rows, self.cost, offset, self.low, self.high, [False] * len(self.cost))
        # Prices inside the optimal face do as well as those of a corner, for half the time.
        _set(solver, {"solver": "ipm", "run_crossover": "off", "time_limit": max(0.1, seconds)})
        solver.cbIpmInterrupt.subscribe(lambda event: event.interrupt() if stop() else None)
        solver.run()
        if solver.getModelStatus() == highspy.HighsModelStatus.kUnknown:
            # Where nothing is lost at all, no step from inside is small enough beside it.
            _set(solver, {"solver": "simplex"})
            solver.run()
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return False
        self.value = solver.getInfo().objective_function_value
        self.relaxed = np.array(solver.getSolution().col_value)
        self.worth[kept] = np.array(solver.getSolution().row_dual)[: kept.sum()]
        return True

    def solve(
        self,
        days: range,
        ahead: int,
        before: Numbers,
        margins: Margins,
        options: Mapping[str, Any],
        stop: Stopped,
        fixed: Mapping[int, float] = MappingProxyType({}),
    ) -> Numbers | None:
        """Values of all variables: whole ones on ``days``, relaxed ones for the days up to ``ahead``, those
        of ``before`` on earlier days, ``fixed`` ones as given; None where the time ran out first, somebody
        stopped before any were found, or there are none."""
        mine = np.flatnonzero((self.day >= days.start) & (self.day < ahead))
        earlier = np.flatnonzero(self.day < days.start)
        mine_margins = {d: margins[d] for d in range(days.start, ahead)}
        beside = _Block(self._beside(mine_margins), self.day)
        beyond = np.flatnonzero(self.day >= ahead)
        block, later = self.block, self.block.last >= ahead
        cost = self.cost[mine] - block.matrix[later][:, mine].T @ self.worth[later]
        here = (block.last >= days.start) & self._kept(mine_margins)
        there = beside.last < ahead
        matrix = sparse.vstack([block.matrix[here], beside.matrix[there]]).tocsr()
        given = matrix[:, earlier] @ before[earlier]
        # A row that reaches beyond still holds with the best that the days there can do for it.
        least, most = _range(matrix[:, beyond], self.low[beyond], self.high[beyond])
        forgiven = FORGIVEN * (1 + abs(given))
        low = np.append(block.low[here], beside.low[there]) - given - most - forgiven
        high = np.append(block.high[here], beside.high[there]) - given - least + forgiven
        whole = self.whole[mine] & (self.day[mine] < days.stop)
        lowest, highest = self.low.copy(), self.high.copy()
        for index, value in fixed.items():
            lowest[index] = highest[index] = value
        rows = _rows(matrix[:, mine].tocsr(), low, high)
        solver = loaded(rows, cost, 0.0, lowest[mine], highest[mine], list(whole))
        watched(solver, lambda *_: stop())
        found = _whole_first(solver, whole, self.counted[mine], options)
        if found is None:
            return None
        values = before.copy()
        values[mine] = found
        values[self.day >= days.stop] = 0.0
        return values

    def _kept(self, margins: Margins) -> NDArray[np.bool_]:
        """The rows of the model that those with margins do not imply."""
        return ~self.of_time if all(margins.values()) and margins else np.ones(len(self.of_time), bool)

    def _beside(self, margins: Margins) -> Rows:
        rows = Rows.none()
        rows.read(self.model.keeping_free(margins), self.domains)
        return rows


def _range(matrix: Any, low: Numbers, high: Numbers) -> tuple[Numbers, Numbers]:
    """Least and most that each row of a matrix comes to, with each variable between its own."""
    up, down = matrix.maximum(0), matrix.minimum(0)
    return up @ low + down @ high, up @ high + down @ low


def _whole_first(
    solver: highspy.Highs, whole: NDArray[np.bool_], near: NDArray[np.bool_], options: Mapping[str, Any]
) -> Numbers | None:
    """Solve, those ``near`` next to what the relaxation has of them; then fix the whole variables and solve
    the others once more to agree with them.

    The relaxation of a piece is within a few per cent of its best; what takes the time is to round it, and
    of the rounded neighbours of a few dozen parts that are not whole the best is found at once.
    """
    _set(solver, options)
    integer, real = highspy.HighsVarType.kInteger, highspy.HighsVarType.kContinuous
    for n in np.flatnonzero(whole):
        solver.changeColIntegrality(int(n), real)
    relaxed = _found(solver)
    if relaxed is None:
        return None
    bounds = solver.getLp()
    low, high = np.array(bounds.col_lower_), np.array(bounds.col_upper_)
    for n in np.flatnonzero(whole):
        solver.changeColIntegrality(int(n), integer)
    beside = whole & near
    _bounded(
        solver, beside,
        np.maximum(low, np.floor(relaxed + WHOLE)), np.minimum(high, np.ceil(relaxed - WHOLE)),
    )  # fmt: skip
    found = _found(solver)
    if found is None:
        _bounded(solver, beside, low, high)
        found = _found(solver)
    if found is None:
        return None
    _bounded(solver, whole, found.round(), found.round())
    return _found(solver)


def _found(solver: highspy.Highs) -> Numbers | None:
    """What a solver finds, if anything."""
    solver.run()
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    return np.array(solver.getSolution().col_value)


def _bounded(solver: highspy.Highs, some: NDArray[np.bool_], low: Numbers, high: Numbers) -> None:
    """Hold some variables between bounds."""
    for n in np.flatnonzero(some):
        solver.changeColBounds(int(n), low[n], high[n])


def _set(solver: highspy.Highs, options: Mapping[str, Any]) -> None:
    for option, value in options.items():
        solver.setOptionValue(option, value)


def _rows(matrix: Any, low: Numbers, high: Numbers) -> Rows:
    return Rows(list(low), list(high), list(matrix.indptr), list(matrix.indices), list(matrix.data))


def days_of(model: AllocationModel) -> list[int]:
    """The day of each variable, by its index; what concerns all days is of the last one."""
    days = [model.cards.days - 1] * len(model.model.proto.variables)
    for var, day in _dated(model.x):
        days[var.index] = min(day, model.cards.days - 1)
    days[model.avoid.index] = 0
    return days


def _dated(x: Decisions) -> Iterator[tuple[cp_model.IntVar, int]]:
    cards = x.cards
    by_something_and_day: tuple[Mapping[Any, cp_model.IntVar], ...] = (
        x.sold, x.freeze, x.given_up, x.left, x.cooked, x.frozen, x.level, x.discarded, x.second_frozen,
        x.second_level, x.boxes, x.bought, x.in_store, x.labelled, x.unlabelled,
    )  # fmt: skip
    for by_second in by_something_and_day:
        yield from ((var, key[1]) for key, var in by_second.items())
    by_day_and_something: tuple[Mapping[Any, cp_model.IntVar], ...] = (x.fresh, x.thaw, x.started)
    for by_first in by_day_and_something:
        yield from ((var, key[0]) for key, var in by_first.items())
    for each_day in (x.cooking_day, x.potting_day, x.label_steps, x.takes_out):
        yield from ((var, d) for d, var in enumerate(each_day))
    for d, row in enumerate(x.count):
        yield from ((var, d) for var in row)
        yield from ((var, d) for _, var in x.heat[d])
    yield from ((var, cards.staff[i].day) for i, var in enumerate(x.staff))
    yield from ((var, cards.orders[i].due) for i, var in [*enumerate(x.filled), *x.whole.items()])
    yield from ((var, cards.shop[i].day) for i, var in enumerate(x.shop_missing))
    held = cards.scenario.held
    yield from ((var, cards.dates.index(held[h].day)) for (h, _), var in x.meets.items())
