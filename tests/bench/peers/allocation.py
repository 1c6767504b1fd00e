"""The allocation alone, without timetables: by HiGHS with real kilograms, by CP-SAT in whole units.

What they reach is no plan: days may not be placeable. The bound of HiGHS holds for plans, too. That of
CP-SAT is of masses in whole units of 0.1 kg, where fruit prepared is rounded down to one and the rest counts
as lost: it is a little higher, and holds for such plans only.
"""

from __future__ import annotations

from unittest.mock import patch

from ortools.sat.python import cp_model

from scheduler.cards import SHARE, Cards
from scheduler.model import rules
from scheduler.model.allocation import AllocationModel
from scheduler.model.decisions import Decisions, Linear, total
from scheduler.model.mip import CLOSED, solve
from tests.bench.case import Case, Outcome, Start, start

FIRST_SECONDS = 10.0
"""For a first solution in whole units with the batches of the habit."""


def allocation_by_highs(case: Case) -> Outcome:
    """The planner's own backend on the first goal, with the habit's plan as a hint."""
    begun = start(case)
    if late := begun.too_late():
        return late

    def watch(best: float | None, bound: float | None) -> bool:
        begun.note(best, bound)
        return begun.clock.over

    model = begun.model
    model.model.minimize(model.goals["spoiled"])
    hint = None if begun.found is None else begun.found.allocation.values
    answer = solve(
        model.model, model.masses, begun.clock.left, case.workers, case.seed, watch, hint, CLOSED,
        {model.avoid.index: 0.0},
    )  # fmt: skip
    begun.note(answer.objective, answer.bound)
    return begun.outcome(False)


def allocation_by_cp_sat(case: Case) -> Outcome:
    """The same model, masses whole, on the first goal."""
    begun = start(case)
    whole = in_whole_units(begun.cards)
    if late := begun.too_late():
        return late
    hint_habit(begun, whole)
    whole.model.minimize(whole.goals["spoiled"])
    solve_noting(begun, whole.model)
    return begun.outcome(False)


def in_whole_units(cards: Cards) -> AllocationModel:
    """The allocation for a solver that knows whole numbers only.

    Stated as it is a preparation loss of 3 % would ask for draws of 10 kg at a time, as these leave 97 whole
    units; so what is prepared is rounded down, and what is drawn in vain counts as lost.
    """
    in_vain: list[Linear] = []

    def rounded_down(x: Decisions, drawn: Linear, prepared: cp_model.IntVar, keep: int) -> None:
        x.model.add_linear_constraint(keep * drawn - SHARE * prepared, 0, SHARE - 1)
        value = max(fruit.kitchen_value for fruit in cards.fruits if fruit.keep == keep)
        in_vain.append(value * drawn - value * SHARE // keep * prepared)

    with patch.object(rules, "_keep_share", rounded_down):
        model = AllocationModel(cards)
    model.model.add(model.avoid == 0)
    model.goals["spoiled"] += total(in_vain)
    return model


def hint_habit(begun: Start, whole: AllocationModel) -> list[int] | None:
    """Hint a solution in whole units with the habit's batches and people, and answer it if there is one."""
    if begun.found is None:
        return None
    kept, model = begun.found.allocation, in_whole_units(begun.cards)
    for d, row in enumerate(model.x.count):
        for m, var in enumerate(row):
            model.model.add(var == kept.count[d][m])
    for i, var in enumerate(model.x.staff):
        model.model.add(var == int(i in kept.staff))
    for key, var in model.x.freeze.items():
        model.model.add(var <= int(kept.freeze.get(key, 0.0)))
    model.model.minimize(model.goals["spoiled"])
    solver = solver_for(begun, min(FIRST_SECONDS, begun.clock.left))
    if solver.solve(model.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    values = list(solver.response_proto.solution)
    for index, value in enumerate(values):
        whole.model.add_hint(whole.model.get_int_var_from_proto_index(index), value)
    return values


def solve_noting(begun: Start, model: cp_model.CpModel) -> tuple[cp_model.CpSolver, bool]:
    """Solve to proof or until time is over, taking down values and bounds; whether there is a solution."""

    class Note(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            begun.note(self.objective_value, self.best_objective_bound)

    solver = solver_for(begun, begun.clock.left)
    solver.best_bound_callback = lambda bound: begun.note(None, bound)
    found = solver.solve(model, Note()) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    begun.note(solver.objective_value if found else None, solver.best_objective_bound)
    return solver, found


def solver_for(begun: Start, seconds: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = begun.case.workers
    solver.parameters.random_seed = begun.case.seed
    solver.parameters.max_time_in_seconds = max(0.1, seconds)
    solver.parameters.relative_gap_limit = CLOSED
    # Else it takes Ctrl-C for itself and leaves the process without a handler.
    solver.parameters.catch_sigint_signal = False
    return solver
