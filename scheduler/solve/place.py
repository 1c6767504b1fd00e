"""Placing a day: people pooled first, named afterwards, the full model only where that fails."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from ortools.sat.python import cp_model

from scheduler.cards import Cards
from scheduler.domain.kitchen import STEP
from scheduler.model.day import DayTimetable, DayWork, Task
from scheduler.model.limits import Work
from scheduler.model.timetable import WORK_OF, DayModel

EFFORT = 0.1
"""Deterministic seconds for each model of a day before it is left undecided."""


NEAR = 2
"""Steps by which cooking may begin earlier or later than with people pooled, where people cannot be named
with all times as they are: of eleven full days of a large farm nine were named so, sooner than eight with
eight steps, and eight with one."""
NEAR_SHARE = 0.3
"""Of the effort, what naming near those times may take: on three farms all that can be named so were within
it, and days that cannot cost a second in place of two and a half."""
HINT_CONFLICTS = 200
"""Conflicts for which a search follows the times with people pooled before it forgets them: of fourteen full
days of a large farm eleven were named in half the time in which eight were with the usual ten."""
MOST_SECONDS = 60.0
"""Wall seconds after which a model of a day is left undecided; the effort ends long before on any machine
that is not overloaded, so that a seed repeats its plan."""


Times = tuple[int, ...]
"""When all that a day does starts, in steps from opening, in the order of ``_times``."""


class Verdict(StrEnum):
    PLACED = "placed"
    REFUTED = "refuted"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class Answer:
    """What is known of a day; a timetable only if it is placed."""

    verdict: Verdict
    timetable: DayTimetable | None = None


def place(
    cards: Cards, work: DayWork, effort: float = EFFORT, seed: int = 0, times: Times | None = None
) -> Answer:
    """Find a timetable for a day's work, prove that there is none, or leave it undecided; ``times`` found
    with people pooled need not be found again."""
    verdict = Verdict.PLACED
    if times is None:
        verdict, times = pooled_times(cards, work, effort, seed)
    return Answer(verdict) if times is None else name_people(cards, work, times, effort, seed)


def pooled_times(
    cards: Cards, work: DayWork, effort: float = EFFORT, seed: int = 0
) -> tuple[Verdict, Times | None]:
    """A timetable of a day with its people pooled, not yet named."""
    model = DayModel(cards, work)
    model.pool()
    solver, status = _solve(model.model, effort, seed)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Verdict.PLACED, _values(model, solver)
    return (Verdict.REFUTED if status == cp_model.INFEASIBLE else Verdict.UNDECIDED), None


def refuted(cards: Cards, work: DayWork, effort: float = EFFORT, seed: int = 0) -> bool:
    """Whether a day's work is proved impossible with people pooled."""
    return pooled_times(cards, work, effort, seed)[0] is Verdict.REFUTED


def name_people(
    cards: Cards, work: DayWork, times: Times, effort: float, seed: int, tidy: bool = False
) -> Answer:
    """Give names to a pooled timetable, moving as little of it as it takes; if ``tidy``, with few pans handed
    from cook to cook, which takes all of the effort on a full day."""
    for held in ("all", "near", "none"):
        named = DayModel(cards, work)
        chosen = named.name()
        pairs = list(zip(_times(named), times, strict=True))
        for mine, theirs in pairs[: len(pairs) - len(named.breaks)] if held == "all" else ():
            named.model.add(mine == theirs)
        for mine, theirs in pairs[: len(named.start)] if held == "near" else ():
            named.model.add_linear_constraint(mine, theirs - NEAR, theirs + NEAR)
        for mine, theirs in pairs if held != "all" else ():
            named.model.add_hint(mine, theirs)
        if held == "all" and tidy:
            named.model.minimize(_cooks_per_batch(named, chosen))
        solver, status = _solve(named.model, NEAR_SHARE * effort if held == "near" else effort, seed)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Answer(Verdict.PLACED, _read(named, chosen, solver))
        if held == "none" and status == cp_model.INFEASIBLE:
            return Answer(Verdict.REFUTED)
    return Answer(Verdict.UNDECIDED)


def polish(cards: Cards, work: DayWork, placed: DayTimetable, effort: float, seed: int) -> DayTimetable:
    """The same work with the earliest end that can be found, and the bound proved for it."""
    model = DayModel(cards, work)
    model.pool()
    ends = model.model.new_int_var(0, (placed.ends - cards.kitchen.open) // STEP, "ends")
    for item in model.items:
        model.model.add(item.start + item.steps <= ends)
    model.model.minimize(ends)
    solver, status = _solve(model.model, effort, seed)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return placed
    bound = cards.kitchen.open + STEP * round(solver.best_objective_bound)
    best = round(solver.objective_value)
    model.model.add(ends <= best)
    model.model.minimize(
        cp_model.LinearExpr.sum([item.start for item in model.items])
        + 3 * cp_model.LinearExpr.sum(model.start)
    )
    for var in _times(model):
        model.model.add_hint(var, solver.value(var))
    closer, status = _solve(model.model, effort, seed)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return replace(placed, bound=bound)
    answer = name_people(cards, work, _values(model, closer), effort, seed, tidy=True)
    found = answer.timetable
    if found is None or found.ends > placed.ends:
        return replace(placed, bound=bound)
    return replace(found, bound=bound)


def _values(model: DayModel, solver: cp_model.CpSolver) -> Times:
    return tuple(int(solver.value(var)) for var in _times(model))


def _times(model: DayModel) -> list[cp_model.IntVar]:
    """Every start time of a day, those of cooking first."""
    started = [*model.start, *model.wash, *model.load.values(), *model.pieces, *model.clean]
    return [*started, *model.breaks.values()]


def _cooks_per_batch(model: DayModel, chosen: list[dict[int, cp_model.IntVar]]) -> cp_model.LinearExpr:
    """How many people cook at each batch, added up: fewer means fewer pans handed over."""
    at: dict[tuple[int, int], cp_model.IntVar] = {}
    for item, options in zip(model.items, chosen, strict=True):
        if WORK_OF[item.kind] is Work.COOK:
            for person, does in options.items():
                key = (item.batch, person)
                if key not in at:
                    at[key] = model.model.new_bool_var(f"cooks {key}")
                model.model.add_implication(does, at[key])
    return cp_model.LinearExpr.sum(list(at.values()))


def _solve(model: cp_model.CpModel, effort: float, seed: int) -> tuple[cp_model.CpSolver, int]:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    # Else it takes Ctrl-C for itself and leaves the process without a handler.
    solver.parameters.catch_sigint_signal = False
    # Days are small and solved by the thousand: building relaxations and probing costs more than it saves.
    solver.parameters.linearization_level = 0
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.hint_conflict_limit = HINT_CONFLICTS
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = effort
    solver.parameters.max_time_in_seconds = MOST_SECONDS
    return solver, int(solver.solve(model))


def _read(
    model: DayModel, chosen: list[dict[int, cp_model.IntVar]], solver: cp_model.CpSolver
) -> DayTimetable:
    opening = model.cards.kitchen.open
    tasks = []
    for item, options in zip(model.items, chosen, strict=True):
        start = opening + STEP * solver.value(item.start)
        people = tuple(person for person, does in options.items() if solver.boolean_value(does))
        tasks.append(Task(item.batch, item.kind, start, start + STEP * item.steps, people))
    starts = [solver.value(var) for var in model.start]
    held = [
        (s, solver.value(w) + c.wash // STEP)
        for s, w, c in zip(starts, model.wash, model.batches, strict=True)
    ]
    on = [(s, s + model.cards.hold(c) // STEP) for s, c in zip(starts, model.batches, strict=True)]
    told = {
        place: max(range(len(numbers)), key=lambda i: solver.value(numbers[i]))
        for place, numbers in model.numbers.items()
    }
    pans = _numbered(held, [card.pan for card in model.batches])
    rings = _numbered(on, [card.ring for card in model.batches])
    return DayTimetable(
        tasks=tuple(sorted(tasks, key=lambda task: (task.start, task.batch, task.end))),
        pans=tuple(told.get(("pan", b), number) for b, number in enumerate(pans)),
        rings=tuple(told.get(("ring", b), number) for b, number in enumerate(rings)),
        breaks=tuple((p, opening + STEP * solver.value(var)) for p, var in model.breaks.items()),
        ends=max((task.end for task in tasks), default=opening),
        bound=opening,
    )


def _numbered(spans: list[tuple[int, int]], classes: list[int]) -> tuple[int, ...]:
    """Give each span a place of its class that is free (first come, first served never needs more)."""
    numbers = [0] * len(spans)
    free_from: dict[int, list[int]] = {}
    for n in sorted(range(len(spans)), key=lambda n: spans[n]):
        places = free_from.setdefault(classes[n], [])
        for i, free in enumerate(places):
            if free <= spans[n][0]:
                places[i], numbers[n] = spans[n][1], i
                break
        else:
            numbers[n] = len(places)
            places.append(spans[n][1])
    return tuple(numbers)
