"""Clocks inside the search, put there from outside: time of allocations and of timetables, by rank."""

from __future__ import annotations

import threading
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from typing import Any
from unittest.mock import patch

from scheduler.solve import incumbent, joined
from scheduler.solve.days import Days
from scheduler.solve.joined import Search
from tests.bench.case import ALLOCATION, TIMETABLE

Told = Callable[[str, float, float, float], None]
"""Told the name of a rank that is over, seconds, best value and bound, in card units."""


@dataclass
class Times:
    """Wall seconds by rank ("habit" before the first) and level, and how many allocations were solved."""

    rank: str = "habit"
    spent: dict[tuple[str, str], float] = field(default_factory=lambda: defaultdict(float))
    allocations: int = 0
    busy: bool = False


@contextmanager
def timed_search(rank_over: Told) -> Iterator[Times]:
    """While this lasts, all searches of this process are timed, one at a time.

    Only the outermost call counts: placing many days at once asks for each of them in turn.
    """
    times, thread = Times(), threading.get_ident()

    def clocked(level: str, work: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **options: Any) -> Any:
            if times.busy or threading.get_ident() != thread:
                return work(*args, **options)
            times.busy, began = True, time.monotonic()
            times.allocations += level == ALLOCATION
            try:
                return work(*args, **options)
            finally:
                times.busy = False
                times.spent[times.rank, level] += time.monotonic() - began

        return call

    whole_rank = Search._rank

    def rank(search: Search, name: str) -> tuple[float, float]:
        times.rank = name
        best, bound = whole_rank(search, name)
        rank_over(name, search.clock.spent, best, bound)
        return best, bound

    with ExitStack() as stack:
        for level, owner, name in (
            (ALLOCATION, incumbent, "solve"),
            (TIMETABLE, joined, "reduce"),
            (TIMETABLE, Days, "answers"),
            (TIMETABLE, Days, "answer"),
            (TIMETABLE, Days, "decide"),
            (TIMETABLE, Days, "likely"),
        ):
            stack.enter_context(patch.object(owner, name, clocked(level, getattr(owner, name))))
        stack.enter_context(patch.object(Search, "_rank", rank))
        yield times
