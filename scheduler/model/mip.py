"""A linear model handed to HiGHS, with kilograms as real numbers and only counts whole.

The allocation is stated in CP-SAT's modelling language. Its rules are linear but for a few that hold
only if a literal is true, so a MIP solver can take them; on the shipped kitchens HiGHS proves an
allocation in seconds where CP-SAT, with whole units of 0.1 kg, is left with a gap of a quarter.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any
from weakref import WeakKeyDictionary

import highspy
import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

CLOSED = 1e-4
"""Relative gap at which a goal counts as proved."""

Stopped = Callable[[], bool]
"""Answers whether to stop."""
Watch = Callable[[float | None, float | None], bool]
"""Told incumbent and bound; answers whether to stop."""


@dataclass(frozen=True)
class MipAnswer:
    """``values`` are None without a solution; ``infeasible`` only where that is proved."""

    values: tuple[float, ...] | None
    objective: float | None
    bound: float
    infeasible: bool


Domains = Sequence[tuple[int, ...]]
Numbers = NDArray[np.float64]


@dataclass
class Rows:
    """Rows of a linear model, each scaled to a largest coefficient of 1, and the constraint that each is of;
    of so many constraints so far."""

    low: list[float]
    high: list[float]
    start: list[int]
    index: list[int]
    value: list[float]
    of: list[int] = field(default_factory=list)
    constraints: int = 0

    @classmethod
    def none(cls) -> Rows:
        """No rows yet."""
        return cls([], [], [0], [], [])

    def add(self, terms: dict[int, float], low: float, high: float) -> None:
        terms = {i: a for i, a in terms.items() if a}
        scale = max((abs(a) for a in terms.values()), default=1.0)
        self.low.append(low / scale)
        self.high.append(high / scale)
        self.index += terms
        self.value += [a / scale for a in terms.values()]
        self.start.append(len(self.index))

    def read(self, model: cp_model.CpModel, domains: Domains, first: int = 0) -> None:
        """Add a model's constraints, from the ``first`` on."""
        for n in range(first, len(model.proto.constraints)):
            constraint = model.proto.constraints[n]
            if constraint.has_linear():
                _linear(self, constraint, domains)
            else:
                _clauses(self, constraint)
            self.of += [n] * (len(self.low) - len(self.of))

    def without(self, constraints: Collection[int]) -> Rows:
        """The same rows but those of some constraints, to add others to."""
        rest = Rows.none()
        for row, constraint in enumerate(self.of):
            if constraint not in constraints:
                terms = slice(self.start[row], self.start[row + 1])
                rest.low.append(self.low[row])
                rest.high.append(self.high[row])
                rest.index += self.index[terms]
                rest.value += self.value[terms]
                rest.start.append(len(rest.index))
        return rest


_READ: WeakKeyDictionary[cp_model.CpModel, tuple[Rows, list[tuple[int, ...]]]] = WeakKeyDictionary()
"""Rows and domains that were read of models that are still in use."""


def solve(
    model: cp_model.CpModel,
    continuous: set[int],
    seconds: float,
    workers: int,
    seed: int,
    watch: Watch,
    hint: Sequence[float] | None = None,
    gap: float = CLOSED,
    fixed: Mapping[int, float] = MappingProxyType({}),
    within: Mapping[int, tuple[float, float]] = MappingProxyType({}),
    beside: cp_model.CpModel | None = None,
    implied: Collection[int] = (),
) -> MipAnswer:
    """Minimise the model's objective; variables in ``continuous`` may take any real value.

    ``hint`` gives values of the first variables; ``fixed`` holds variables at a value, ``within``
    between two. Constraints of ``beside`` over the same variables hold in this solve only; those of the model
    that they imply need not be stated.
    """
    offset = model.proto.objective.offset if model.has_objective() else 0.0
    solver = _loaded(model, continuous, offset, beside, implied)
    for option, value in (
        ("time_limit", max(0.1, seconds)),
        ("threads", workers),
        ("random_seed", seed),
        ("mip_rel_gap", gap),
        ("mip_feasibility_tolerance", 1e-7),
    ):
        solver.setOptionValue(option, value)
    if hint is not None:
        known = np.arange(len(hint), dtype=np.int32)
        solver.setSolution(len(hint), known, np.array(hint, dtype=float))
    for index, (least, most) in within.items():
        solver.changeColBounds(index, least, most)
    for index, value in fixed.items():
        solver.changeColBounds(index, value, value)
    watched(solver, watch)
    solver.run()
    status = solver.getModelStatus()
    info = solver.getInfo()
    if status == highspy.HighsModelStatus.kInfeasible:
        return MipAnswer(None, None, float("inf"), True)
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    values = tuple(solver.getSolution().col_value) if found else None
    return MipAnswer(values, info.objective_function_value if found else None, info.mip_dual_bound, False)


def watched(solver: highspy.Highs, watch: Watch) -> None:
    """Let a solver of whole numbers be looked at, and stopped."""
    last = [0.0]

    def look(event: Any) -> None:
        if time.monotonic() - last[0] < 0.2:
            return
        last[0] = time.monotonic()
        best, bound = event.data_out.mip_primal_bound, event.data_out.mip_dual_bound
        known = [None if abs(number) > 1e20 else number for number in (best, bound)]
        if watch(known[0], known[1]):
            event.interrupt()

    solver.cbMipInterrupt.subscribe(look)


def _loaded(
    model: cp_model.CpModel,
    continuous: set[int],
    offset: float,
    beside: cp_model.CpModel | None,
    implied: Collection[int],
) -> highspy.Highs:
    domains = domains_of(model)
    rows = rows_of(model)
    if beside is not None:
        rows = rows.without(implied)
        rows.read(beside, domains)
    return loaded(
        rows, costs_of(model), offset,
        np.array([float(domain[0]) for domain in domains]),
        np.array([float(domain[-1]) for domain in domains]),
        [i not in continuous for i in range(len(domains))],
    )  # fmt: skip


def loaded(
    rows: Rows,
    cost: Numbers,
    offset: float,
    low: Numbers,
    high: Numbers,
    whole: Sequence[bool],
) -> highspy.Highs:
    """HiGHS, silent, with a linear model of so many columns as there are costs; ``whole`` are integers."""
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(cost), len(rows.low)
    lp.col_cost_, lp.offset_ = cost, offset
    lp.col_lower_, lp.col_upper_ = low, high
    lp.row_lower_, lp.row_upper_ = np.array(rows.low), np.array(rows.high)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(rows.start, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(rows.index, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(rows.value)
    kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
    lp.integrality_ = [kinds[bool(each)] for each in whole]
    # HiGHS keeps its threads for the whole process and refuses to run with another number of them.
    highspy.Highs.resetGlobalScheduler(True)
    with _no_banner():
        solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    solver.passModel(lp)
    return solver


def domains_of(model: cp_model.CpModel) -> Domains:
    """Least and most of each variable, with what lies between. Read once: a model only gets more of them."""
    _, known = _READ.setdefault(model, (Rows.none(), []))
    variables = model.proto.variables
    known += [tuple(variables[n].domain) for n in range(len(known), len(variables))]
    return known


def costs_of(model: cp_model.CpModel) -> Numbers:
    """What the model's objective makes of one more of each variable."""
    cost = np.zeros(len(model.proto.variables))
    objective = model.proto.objective
    for index, weight in zip(objective.vars, objective.coeffs, strict=True):
        cost[index] += weight
    return cost


def rows_of(model: cp_model.CpModel) -> Rows:
    """The rows of a model: a search solves one a hundred times and only ever adds to its constraints."""
    domains = domains_of(model)
    rows, _ = _READ[model]
    rows.read(model, domains, rows.constraints)
    rows.constraints = len(model.proto.constraints)
    return rows


@contextmanager
def _no_banner() -> Iterator[None]:
    """HiGHS greets on standard output before it can be told to be quiet; that stream may hold JSON."""
    sys.stdout.flush()
    kept = os.dup(1)
    with open(os.devnull, "w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        try:
            yield
        finally:
            os.dup2(kept, 1)
            os.close(kept)


def _literal(index: int) -> tuple[int, float, float]:
    """A literal as variable, coefficient and constant."""
    return (index, 1.0, 0.0) if index >= 0 else (-index - 1, -1.0, 1.0)


def _limits(domain: Sequence[int]) -> tuple[float, float]:
    low, high = float(domain[0]), float(domain[-1])
    return (low if low > -(2**62) else -highspy.kHighsInf), (high if high < 2**62 else highspy.kHighsInf)


def _linear(rows: Rows, constraint: Any, domains: Domains) -> None:
    terms: dict[int, float] = {}
    for index, weight in zip(constraint.linear.vars, constraint.linear.coeffs, strict=True):
        terms[index] = terms.get(index, 0.0) + weight
    low, high = _limits(tuple(constraint.linear.domain))
    enforced = list(constraint.enforcement_literal)
    if not enforced:
        rows.add(terms, low, high)
        return
    index, sign, constant = _literal(enforced[0])
    most = sum(max(a * domains[i][0], a * domains[i][-1]) for i, a in terms.items())
    least = sum(min(a * domains[i][0], a * domains[i][-1]) for i, a in terms.items())
    if high < highspy.kHighsInf:
        room = max(0.0, most - high)
        switched = {**terms, index: terms.get(index, 0.0) + room * sign}
        rows.add(switched, -highspy.kHighsInf, high + room * (1 - constant))
    if low > -highspy.kHighsInf:
        room = max(0.0, low - least)
        switched = {**terms, index: terms.get(index, 0.0) - room * sign}
        rows.add(switched, low - room * (1 - constant), highspy.kHighsInf)


def _clauses(rows: Rows, constraint: Any) -> None:
    enforced = [-index - 1 for index in constraint.enforcement_literal]
    if constraint.has_at_most_one():
        _count(rows, list(constraint.at_most_one.literals), -highspy.kHighsInf, 1.0)
    elif constraint.has_bool_or():
        _count(rows, [*constraint.bool_or.literals, *enforced], 1.0, highspy.kHighsInf)
    elif constraint.has_bool_and():
        for literal in constraint.bool_and.literals:
            _count(rows, [literal, *enforced], 1.0, highspy.kHighsInf)
    else:
        raise TypeError(f"a rule that is not linear: {constraint}")


def _count(rows: Rows, literals: list[int], low: float, high: float) -> None:
    terms: dict[int, float] = {}
    shift = 0.0
    for literal in literals:
        index, sign, constant = _literal(literal)
        terms[index] = terms.get(index, 0.0) + sign
        shift += constant
    rows.add(terms, low - shift, high - shift)
