"""Better plans where no exact search ends: with time kept free on every day, and near the best so far."""

from __future__ import annotations

from scheduler.solve.incumbent import Incumbent
from scheduler.solve.margins import FIRST, MOST, STEP, less, more
from scheduler.solve.ranks import value_of
from scheduler.solve.windows import fixed_outside, windows

GUIDED = 0.05
"""Relative gap at which an allocation with margins is good enough: looks near it do the rest sooner."""
MOST_GUIDES = 16
"""Allocations with margins that are tried in a rank: counted, so that a seed repeats its plan."""
SHARE = 0.4
"""Of the time given, what plans with margins may take where there is a plan already: looks near it find
more."""
MEND = 4.0
"""Seconds to deal out anew the batches of days that failed; as a rule one is enough."""
LOOK = 1.5
"""Seconds for one look near the best plan, of up to ``LONG`` days; in proportion beyond."""
LONG = 14
"""Days from which on a whole allocation seldom has all its days placed: looks begin with time kept free."""
PASSES = 2
"""How often every few days are planned anew in vain before a rank is left."""


def with_margins(search: Incumbent, name: str, best: float, until: float) -> float:
    """Whole plans with time kept free on every day. Days that fail keep more of it, while the others stay as
    they were placed, until all are; then less is kept free on all, as long as plans get better.

    Setting failed days right is quick, and is not given up for the next goal's time.
    """
    every_day, fixed = tuple(range(search.cards.days)), None
    if search.found is not None:
        until = search.clock.spent + SHARE * (until - search.clock.spent)
    search.margins = [*search.enough] if search.enough else [FIRST for _ in every_day]
    for _ in range(MOST_GUIDES):
        best = search.take_usual(name, best)
        if (fixed is None and search.clock.spent >= until) or search.clock.over:
            break
        margins = dict(enumerate(search.margins))
        end = until if fixed is None else max(until, search.clock.spent + MEND)
        answer = search.solve(name, end, best, fixed, gap=GUIDED, margins=margins)
        if answer.values is None:
            break
        allocation = search.staffed(name, search.model.read(answer.values))
        if value_of(search.cards, name, allocation) >= best:
            break
        before = best
        best, failed = search.look(name, answer.values, best, until, search.cards.days)
        if best < before:
            search.enough = [*search.margins]
        if failed and all(search.margins[day] >= MOST for day in failed):
            break
        if failed:
            search.margins = more(search.margins, failed)
            free = search.hands_are_free(name)
            fixed = fixed_outside(search.model, allocation, tuple(failed), everybody=free)
        else:
            fixed, search.margins = None, less(search.margins, every_day, by=STEP // 2)
    return best


def nearby(search: Incumbent, name: str, best: float, bound: float, until: float) -> float:
    """Better plans near the best so far: a few days are planned anew, the others keep their batches."""
    best = search.take_usual(name, best, wait=search.found is None)
    days = search.cards.days
    near = [each for each in windows(days) if each[-1] not in search.days.kept]
    unchanged, n, look = 0, 0, LOOK * max(1.0, days / LONG)
    if search.enough:
        search.margins = [*search.enough]
    elif days > LONG:
        search.margins = [FIRST] * days
    while search.found is not None and unchanged < PASSES * len(near):
        best = search.take_usual(name, best)
        if search.is_close(name, best, bound) or search.clock.spent >= until or search.clock.over:
            break
        window = near[n % len(near)]
        n, unchanged = n + 1, unchanged + 1
        free = search.hands_are_free(name)
        fixed = fixed_outside(search.model, search.found.allocation, window, everybody=free)
        soon = min(until, search.clock.spent + look)
        margins = {day: search.margins[day] for day in window}
        answer = search.solve(name, soon, best, fixed, margins=margins)
        if answer.values is None:  # goals before may leave no room for margins
            unchanged -= any(margins.values())
            search.margins = less(search.margins, window, by=100)
            continue
        allocation = search.model.read(answer.values)
        if value_of(search.cards, name, allocation) >= best - 1e-6:
            search.margins = less(search.margins, window, by=STEP // 2)
            continue
        failed = search.change(allocation, search.found)
        if failed is None:
            best, unchanged = value_of(search.cards, name, allocation), 0
            search.enough = [
                m if d in window else n
                for d, (m, n) in enumerate(zip(search.margins, search.enough or search.margins, strict=True))
            ]
        else:
            search.margins = more(search.margins, (failed,))
    return search.take_usual(name, best, wait=True)
