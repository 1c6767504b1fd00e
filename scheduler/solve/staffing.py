"""Choosing staff cards outside the solver: everybody in, or the cheapest addition to one day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from copy import copy
from itertools import pairwise
from types import MappingProxyType

from ortools.sat.python import cp_model

from scheduler.cards import Cards, StaffCard
from scheduler.model.decisions import Decisions
from scheduler.model.rules import one_shift_a_day_within_the_week

Staff = tuple[int, ...]

ANYWAY, SHARES = 1000, 300
"""What a minute counts, and how much more on a day on which the relaxation has that person in."""
EFFORT = 1.0
"""Deterministic seconds; as a rule a tenth proves the choice."""


def allowed(cards: Cards, staff: Staff) -> bool:
    """Whether shifts, weekly hours and rest between days allow these staff cards together."""
    rest = cards.scenario.work_rules.rest_minutes
    by_person: dict[int, list[StaffCard]] = {}
    for i in staff:
        by_person.setdefault(cards.staff[i].person, []).append(cards.staff[i])
    for person, mine in by_person.items():
        mine.sort(key=lambda card: card.day)
        for card, after in pairwise(mine):
            if card.day == after.day:
                return False
            if after.day == card.day + 1 and after.start + 1440 - card.leave < rest:
                return False
        weeks: dict[tuple[int, int], int] = {}
        for card in mine:
            week = cards.dates[card.day].isocalendar()[:2]
            weeks[week] = weeks.get(week, 0) + card.present
        if max(weeks.values()) > round(cards.scenario.people[person].hours_week * 60):
            return False
    return True


def with_all_hands(cards: Cards, staff: Staff, days: tuple[int, ...]) -> Staff:
    """Give every person on ``days``, in that order, the longest presence that is still allowed."""
    for day in days:
        for i in sorted(on_day(cards, day), key=lambda i: -cards.staff[i].present):
            mine = [j for j in staff if cards.staff[j].person == cards.staff[i].person]
            same = [j for j in mine if cards.staff[j].day == day]
            if all(_covers(cards.staff[i], cards.staff[j]) for j in same):
                tried = [j for j in mine if j not in same] + [i]
                if allowed(cards, tuple(tried)):
                    staff = (*(j for j in staff if j not in same), i)
    return tuple(sorted(staff))


def nearest(
    x: Decisions,
    relaxed: Sequence[float],
    within: Mapping[int, tuple[float, float]] = MappingProxyType({}),
) -> Staff:
    """The staff that shifts and hours allow with the most minutes in; those of a day on which a relaxation
    has somebody in count more. ``relaxed`` has the values of all variables, ``within`` limits some."""
    free = copy(x)
    program = free.model = cp_model.CpModel()
    free.staff = [program.new_bool_var(f"staff {i}") for i in range(len(x.staff))]
    one_shift_a_day_within_the_week(free)
    for var, mine in zip(x.staff, free.staff, strict=True):
        least, most = within.get(var.index, (0.0, 1.0))
        program.add_linear_constraint(mine, round(least), round(most))
    used: dict[tuple[int, int], float] = {}
    for var, card in zip(x.staff, x.cards.staff, strict=True):
        used[card.person, card.day] = used.get((card.person, card.day), 0.0) + relaxed[var.index]
    minutes = [
        card.present * (ANYWAY + round(SHARES * used[card.person, card.day])) for card in x.cards.staff
    ]
    program.maximize(cp_model.LinearExpr.weighted_sum(free.staff, minutes))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.catch_sigint_signal = False
    solver.parameters.max_deterministic_time = EFFORT
    solver.solve(program)
    return tuple(i for i, mine in enumerate(free.staff) if solver.boolean_value(mine))


def on_day(cards: Cards, day: int) -> list[int]:
    """Indices of the staff cards offered on a day."""
    return [i for i, card in enumerate(cards.staff) if card.day == day]


def _covers(more: StaffCard, less: StaffCard) -> bool:
    return more.start <= less.start and more.leave >= less.leave and more.present > less.present


def additions(cards: Cards, staff: Staff, day: int) -> Iterator[Staff]:
    """Staff with one person more, or longer, on a day: cheapest first; at last everybody."""
    tries = []
    for i in on_day(cards, day):
        person = cards.staff[i].person
        same = [j for j in staff if (cards.staff[j].day, cards.staff[j].person) == (day, person)]
        if all(_covers(cards.staff[i], cards.staff[j]) for j in same) and i not in staff:
            changed = (*(j for j in staff if j not in same), i)
            if allowed(cards, changed):
                extra = cards.staff[i].pay - sum(cards.staff[j].pay for j in same)
                tries.append((extra, tuple(sorted(changed))))
    yield from (changed for _, changed in sorted(tries))
    everybody = with_all_hands(cards, staff, (day,))
    if everybody != staff:
        yield everybody
