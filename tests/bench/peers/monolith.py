"""The monolith: allocation and every day's timetable, people pooled, in one CP-SAT model.

Masses are whole units of 0.1 kg, as CP-SAT knows whole numbers only. It starts from the habit's plan, times
included. What it finds is a plan once real kilograms are filled in for the same batches and people, and its
days are named like the planner's.
"""

from __future__ import annotations

from itertools import zip_longest

from ortools.sat.python import cp_model

from scheduler.domain.kitchen import STEP
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.day import DayTimetable
from scheduler.model.mip import CLOSED, solve
from scheduler.plan_rows import StageKind
from tests.bench.case import Case, Outcome, Start, audited, placed, start
from tests.bench.peers.allocation import (
    FIRST_SECONDS,
    hint_habit,
    in_whole_units,
    solve_noting,
    solver_for,
)
from tests.bench.peers.monolith_day import DaySlots, can_be_stated

COMPLETE_SECONDS = 30.0


def one_model(case: Case) -> Outcome:
    """The first goal of the whole problem in one piece."""
    begun = start(case)
    if not can_be_stated(begun.cards):
        return begun.outcome(False, "the monolith has no words for this kitchen")
    whole = in_whole_units(begun.cards)
    days = [DaySlots(whole, d) for d in range(begun.cards.days)]
    if late := begun.too_late():
        return late
    hint_habit(begun, whole)
    if begun.found is not None:
        for day, timetable in zip(days, begun.found.timetables, strict=True):
            hint_day(day, begun.found.allocation, timetable)
        hint_the_rest(begun, whole.model)
    whole.model.minimize(whole.goals["spoiled"])
    solver, found = solve_noting(begun, whole.model)
    outcome = begun.outcome(False)
    if found:
        _fill_in(begun, whole, solver, outcome)
    return outcome


def _fill_in(begun: Start, whole: AllocationModel, solver: cp_model.CpSolver, outcome: Outcome) -> None:
    """Make a plan of a solution and have it audited."""
    allocation = in_real_kg(begun, whole, solver)
    plan = None if allocation is None else placed(begun, allocation)
    if plan is None:
        outcome.remark = "a day of what was found cannot be given names"
        return
    outcome.whole = True
    begun.note(plan.allocation.spoiled, None)
    outcome.plan, outcome.findings = audited(begun, plan)


def in_real_kg(begun: Start, whole: AllocationModel, solver: cp_model.CpSolver) -> Allocation | None:
    """The allocation of a solution's batches and people that loses least; no more of a lot is frozen."""
    model = AllocationModel(begun.cards)
    fixed = {var.index: float(solver.value(var)) for row in whole.x.count for var in row}
    fixed |= {var.index: float(solver.value(var)) for var in whole.x.staff}
    fixed[model.avoid.index] = 0.0
    within = {var.index: (0.0, float(solver.value(var))) for var in whole.x.freeze.values()}
    model.model.minimize(model.goals["spoiled"])
    answer = solve(
        model.model, model.masses, COMPLETE_SECONDS, 1, begun.case.seed, lambda *_: False, None, CLOSED,
        fixed, within,
    )  # fmt: skip
    return None if answer.values is None else model.read(answer.values)


def hint_day(day: DaySlots, kept: Allocation, timetable: DayTimetable) -> None:
    """Hint a day with the timetable of a plan."""
    model, opening = day.model, day.cards.kitchen.open
    batches = kept.batches(day.day)
    starts: dict[tuple[int, StageKind], list[int]] = {}
    for task in sorted(timetable.tasks, key=lambda task: (task.start - task.end, task.start)):
        starts.setdefault((task.batch, task.kind), []).append((task.start - opening) // STEP)
    begins = [starts[b, StageKind.DISSOLVE][0] for b in range(len(batches))]
    for p, slots in day.slots.items():
        mine = (b for b, m in enumerate(batches) if day.cards.batches[m].pan == p)
        for slot, b in zip_longest(slots, sorted(mine, key=lambda b: begins[b])):
            model.add_hint(slot.present, b is not None)
            for m, var in slot.choice.items():
                model.add_hint(var, b is not None and m == batches[b])
            if b is not None:
                model.add_hint(slot.start, begins[b])
                model.add_hint(slot.wash, starts[b, StageKind.WASH][0])
                model.add_hint(slot.load, starts[b, StageKind.LOAD_JARS][0])
                for piece, at in zip(slot.pieces, starts.get((b, StageKind.PREPARE), []), strict=False):
                    model.add_hint(piece, at)
    for begin, at in zip(day.freezing, starts.get((-1, StageKind.FREEZE), []), strict=False):
        model.add_hint(begin, at)
    rests = dict(timetable.breaks)
    for i, rest in day.breaks.items():
        person = day.cards.staff[i].person
        if i in kept.staff and person in rests:
            model.add_hint(rest, (rests[person] - opening) // STEP)


def hint_the_rest(begun: Start, model: cp_model.CpModel) -> bool:
    """Let what is hinted be completed to a whole solution; whether there is one."""
    solver = solver_for(begun, min(FIRST_SECONDS, begun.clock.left))
    solver.parameters.fix_variables_to_their_hinted_value = True
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return False
    model.proto.clear_solution_hint()
    for index, value in enumerate(solver.response_proto.solution):
        model.add_hint(model.get_int_var_from_proto_index(index), value)
    return True
