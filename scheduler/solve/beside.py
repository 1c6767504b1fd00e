"""The habit's plan, made beside the search where there is a worker to spare."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor

from scheduler.cards import Cards
from scheduler.model.allocation import AllocationModel
from scheduler.solve.days import Days, Found
from scheduler.solve.habit import HabitDays, by_the_day, completed
from scheduler.solve.kept import Kept
from scheduler.solve.settings import Clock

LATE = 4.0
"""Seconds that it goes on for once somebody asks to stop: a plan that is kept is then no worse than habit's,
where that is nearly made."""


class Beside:
    """Habit's plan in the making. Its days are placed on a thread of its own; what habit leaves open is
    solved by whoever takes the plan, for the MIP solver works on one model at a time."""

    def __init__(
        self,
        cards: Cards,
        days: Days,
        clock: Clock,
        kept: Kept | None = None,
        *,
        patient: bool = True,
        late: float = LATE,
    ) -> None:
        self._ended = False
        self._days, self._kept = days, kept
        self._late, self._until = late, float("inf")
        self._clock = Clock(clock.left, lambda: self._ended or self._is_late(clock))
        self._taken: Found | None = None
        pool = ThreadPoolExecutor(1, "habit")
        self._making: Future[tuple[HabitDays | None, AllocationModel]] | None = pool.submit(
            lambda: (by_the_day(cards, days, self._clock, kept, patient=patient), AllocationModel(cards))
        )
        pool.shutdown(wait=False)

    def _is_late(self, clock: Clock) -> bool:
        """Whether somebody asked to stop, and what is left to do would keep them waiting."""
        if clock.stop():
            self._until = min(self._until, clock.spent + self._late)
        return clock.spent >= self._until

    @property
    def ready(self) -> bool:
        """Whether it can be taken at once."""
        return self._making is None or self._making.done()

    @property
    def taken(self) -> bool:
        """Whether it was taken before."""
        return self._making is None

    def take(self) -> Found | None:
        """The plan, waited for; None where time ran out or the days could not be placed."""
        if self._making is not None:
            made, model = self._making.result()
            self._making = None
            if made is not None:
                self._taken = completed(made, model, self._days, self._clock, self._kept)
        return self._taken

    def end(self) -> None:
        """Let it go: nobody takes it any more."""
        self._ended = True
