"""Better plans where no exact search ends: with time kept free on every day, and near the best so far."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scheduler.model.pieces import Pieces
from scheduler.solve.incumbent import DEALING, Incumbent
from scheduler.solve.margins import FIRST, JAR, MOST, STEP, SURE, less, more
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
ROUNDED = 4.0
"""Seconds to round the relaxation to whole batches; of a week or two it takes one to four."""
PASSES = 2
"""How often every few days are planned anew in vain before a rank is left."""


def soon(search: Incumbent, name: str) -> float:
    """A first plan: the relaxation with so much time kept free that its days are nearly all placed at once,
    its batches rounded up or down. The best value."""
    model, settings, days = search.model, search.settings, search.cards.days
    search.say(name, None, None, DEALING)
    search.margins = [SURE] * days
    goal = model.goals[name] + JAR * model.goals["short"]
    pieces = Pieces(model, goal, {model.avoid.index: 1.0}, search.within)
    options = {
        "time_limit": ROUNDED, "mip_rel_gap": GUIDED, "threads": settings.workers,
        "random_seed": settings.seed,
    }  # fmt: skip
    before = np.zeros(len(pieces.cost))
    margins = dict(enumerate(search.margins))
    values = pieces.solve(range(days), days, before, margins, options, search.clock.stop)
    if values is None:
        return search.reached(name)
    # A piece is solved to a hair: to the gram the whole may be a little different.
    counts = {var.index: round(values[var.index]) for row in model.x.count for var in row}
    best, _ = _placed(search, name, float("inf"), 0.0, counts, iter(range(MOST_GUIDES)))
    return best


def with_margins(search: Incumbent, name: str, best: float, until: float) -> float:
    """Whole plans with time kept free on every day: less of it, as long as plans get better."""
    every_day = tuple(range(search.cards.days))
    if search.found is not None:
        until = search.clock.spent + SHARE * (until - search.clock.spent)
    search.margins = [*search.enough] if search.enough else [FIRST for _ in every_day]
    guides = iter(range(MOST_GUIDES))
    while search.clock.spent < until:
        before = best
        best, placed = _placed(search, name, best, until, None, guides)
        if not placed or best >= before:
            break
        search.enough, search.margins = [*search.margins], less(search.margins, every_day, by=STEP // 2)
    return best


def _placed(
    search: Incumbent,
    name: str,
    best: float,
    until: float,
    fixed: dict[int, float] | None,
    guides: Iterator[int],
) -> tuple[float, bool]:
    """A plan with its margins, variables ``fixed`` as given. Days that fail keep more time free, while the
    others stay as they were placed, until all are. The best value, and whether all were placed.

    Setting failed days right is quick, and is not given up for the next goal's time.
    """
    for _ in guides:
        best = search.take_usual(name, best)
        if search.clock.over:
            break
        end = until if fixed is None else max(until, search.clock.spent + MEND)
        margins = dict(enumerate(search.margins))
        answer = search.solve(name, end, best, fixed, gap=GUIDED, margins=margins)
        if answer.values is None:
            break
        allocation = search.staffed(name, search.model.read(answer.values))
        if value_of(search.cards, name, allocation) >= best:
            break
        best, failed = search.look(name, answer.values, best, until, search.cards.days)
        if not failed:
            return best, True
        if all(search.margins[day] >= MOST for day in failed):
            break
        search.margins = more(search.margins, failed)
        free = search.hands_are_free(name)
        fixed = fixed_outside(search.model, allocation, tuple(failed), everybody=free)
    return best, False


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
