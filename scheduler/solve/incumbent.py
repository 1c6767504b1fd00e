"""The best plan so far, and how an allocation becomes one: solved, its days placed, kept if it is better."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from types import MappingProxyType

from scheduler.cards import MONEY, Cards
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.mip import MipAnswer, solve
from scheduler.solve.beside import Beside
from scheduler.solve.days import Days, Found
from scheduler.solve.kept import Kept, Within, timetable, within
from scheduler.solve.margins import JAR
from scheduler.solve.place import Answer, Verdict
from scheduler.solve.ranks import CLOSE_ENOUGH, RANKS, UNITS, floor_of, value_of
from scheduler.solve.settings import Clock, Progress, Settings, Tell
from scheduler.solve.staffing import additions, with_all_hands
from scheduler.solve.windows import fixed_outside

FREE_HANDS = ("spoiled", "short")
"""Ranks in which pay does not count yet, so that everybody may be in."""
COMPLETE = 10.0
"""Seconds to complete a plan whose batches and people are given: a small model, far quicker as a rule."""
FEW = 3
"""Days in a week that may fail."""
MOST_ADDITIONS = 8
BY_HABIT = "planning by habit"
DEALING = "dealing batches out to days"


def few(days: int) -> int:
    """Days that may fail before the other days of an allocation are left unplaced."""
    return FEW * ceil(days / 7)


@dataclass
class Incumbent:
    """The best plan that a search has found; ``usual`` is the habit's, which may still be in the making."""

    cards: Cards
    settings: Settings
    clock: Clock
    tell: Tell
    unit: str
    model: AllocationModel = field(init=False)
    days: Days = field(init=False)
    margins: list[int] = field(init=False)
    enough: list[int] = field(default_factory=list)
    """Margins that the best plan keeps."""
    found: Found | None = None
    usual: Beside | None = None
    kept: Kept | None = None
    caps: dict[str, int] = field(default_factory=dict)
    """The most that each rank solved before may come to, in the units of its goal."""

    def __post_init__(self) -> None:
        self.model = AllocationModel(self.cards)
        self.margins = [0] * self.cards.days
        self.days = Days(self.cards, self.settings.workers, self.settings.seed)
        self.within: Within = {}
        if self.kept is not None:
            self.within = within(self.model.x, self.kept)
            for day in range(self.kept.days):
                self.days.keep(day, *timetable(self.cards, self.kept.plan, day))

    def reached(self, name: str) -> float:
        """What the best plan makes of a goal; infinite where there is none."""
        return float("inf") if self.found is None else value_of(self.cards, name, self.found.allocation)

    def take_usual(self, name: str, best: float, *, wait: bool = False) -> float:
        """Take the habit's plan for the best, once it is there, if it is better in the first goal: only while
        that is in hand. The best value."""
        if name != RANKS[0] or self.usual is None or self.usual.taken or not (wait or self.usual.ready):
            return best
        if self.found is None and self.clock.stop():
            self.usual.end()  # who stops before there is any plan does not wait for one
        found = self.usual.take()
        if found is None:
            return best
        value = value_of(self.cards, name, found.allocation)
        self.tell(Progress(self.clock.spent, "habit", value / UNITS[name], None, None, self.unit, BY_HABIT))
        if value < best - 1e-6 and self._within_caps(found):
            self.found, self.enough, best = found, [], value
        return best

    def look(
        self, name: str, values: Sequence[float], best: float, until: float, most: int | None = None
    ) -> tuple[float, list[int]]:
        """Place a solution; keep it if it is the best. The days that failed first; over ``most`` end it."""
        found, failed = self._placed(name, self.model.read(values), until, most)
        better = found is not None and value_of(self.cards, name, found.allocation) < best - 1e-6
        # More hands, called in to place a day, may cost more than a rank before has left to spend.
        if found is not None and better and self._within_caps(found):
            self.found, best = found, value_of(self.cards, name, found.allocation)
        return best, failed

    def _placed(
        self, name: str, allocation: Allocation, until: float, most: int | None
    ) -> tuple[Found | None, list[int]]:
        """Place every day, with more hands where that is needed; the days that needed them or failed."""
        allocation = self.staffed(name, allocation)
        self.say(name, None, None, "placing batches on pans, rings and people")
        most = few(self.cards.days) if most is None else most
        answers = self.days.answers(allocation, most)
        failed = [day for day, answer in answers.items() if answer.timetable is None]
        if len(failed) > most:
            return None, failed
        if failed and self.hands_are_free(name):
            return None, failed
        for day in failed:
            if self.clock.spent >= until or self.clock.over:
                return None, failed
            allocation, answers[day] = self._with_more_hands(allocation, day)
        return self._whole(allocation, answers), failed

    def _whole(self, allocation: Allocation, answers: dict[int, Answer]) -> Found | None:
        """The allocation with the timetables of all its days, if all have one."""
        timetables = [answers[day].timetable for day in range(self.cards.days)]
        placed = tuple(timetable for timetable in timetables if timetable is not None)
        return Found(allocation, placed) if len(placed) == self.cards.days else None

    def _with_more_hands(self, allocation: Allocation, day: int) -> tuple[Allocation, Answer]:
        answer = Answer(Verdict.REFUTED)
        tries = list(additions(self.cards, allocation.staff, day))
        for staff in [*tries[:MOST_ADDITIONS], *tries[MOST_ADDITIONS:][-1:]]:
            answer = self.days.answer(self.days.work(allocation, day, staff))
            if answer.timetable is not None:
                return allocation.with_staff(staff, self.model.x), answer
            if self.clock.over:
                break
        return allocation, answer

    def staffed(self, name: str, allocation: Allocation) -> Allocation:
        """Everybody in where hands cost nothing yet."""
        if not self.hands_are_free(name):
            return allocation
        free = [day for day in range(self.cards.days) if day not in self.days.kept]
        load = sorted(free, key=lambda d: -sum(allocation.count[d]))
        return allocation.with_staff(with_all_hands(self.cards, allocation.staff, tuple(load)), self.model.x)

    def hands_are_free(self, name: str) -> bool:
        """Whether pay does not count in a rank, nor was capped before it."""
        return name in FREE_HANDS and "money" not in self.caps

    def change(self, allocation: Allocation, before: Found) -> int | None:
        """Take an allocation for the best, with the timetables of days that work as before; the others are
        placed anew. A day that cannot be is told, and all stays as it was."""
        timetables = list(before.timetables)
        for day in range(self.cards.days):
            work = self.days.work(allocation, day)
            if work == self.days.work(before.allocation, day):
                continue
            timetable = self.days.answer(work).timetable
            if timetable is None:
                return day
            timetables[day] = timetable
        self.found = Found(allocation, tuple(timetables))
        return None

    def solve(
        self,
        name: str,
        until: float,
        best: float,
        fixed: dict[int, float] | None = None,
        gap: float | None = None,
        stop: bool = True,
        avoiding: bool = False,
        margins: Mapping[int, int] = MappingProxyType({}),
    ) -> MipAnswer:
        model = self.model
        beside = model.keeping_free(margins) if any(margins.values()) else None
        everywhere = sum(map(bool, margins.values())) == self.cards.days
        avoiding = avoiding or beside is not None

        def watch(_: float | None, bound: float | None) -> bool:
            known = None if fixed or avoiding else bound
            self.say(name, best if best < float("inf") else None, known, DEALING)
            return stop and self.clock.over

        jars = JAR * model.goals["short"] if beside is not None and name == RANKS[0] else 0
        model.model.minimize(model.goals[name] + jars)
        hint = None if self.found is None or best == float("inf") else self.found.allocation.values
        seconds = max(0.5, until - self.clock.spent)
        return solve(
            model.model, model.masses, seconds, self.settings.workers, self.settings.seed, watch,
            hint, CLOSE_ENOUGH[name] if gap is None else gap,
            {model.avoid.index: float(avoiding), **(fixed or {})}, self.within, beside,
            model.of_time if everywhere else (),
        )  # fmt: skip

    def complete(self, name: str) -> None:
        """Reach what a goal can with the batches and people of the plan so far, also when time is over:
        a plan stopped early ships the jars that it makes."""
        if self.found is None:
            return
        now = value_of(self.cards, name, self.found.allocation)
        fixed = fixed_outside(self.model, self.found.allocation, (), everybody=True)
        answer = self.solve(name, self.clock.spent + COMPLETE, now, fixed, stop=False)
        if answer.values is not None:
            allocation = self.model.read(answer.values)
            if value_of(self.cards, name, allocation) < now:
                self.change(allocation, self.found)

    def is_close(self, name: str, best: float, bound: float) -> bool:
        enough = CLOSE_ENOUGH[name] * max(abs(best), floor_of(self.cards, name))
        return best < float("inf") and best - bound <= enough

    def _within_caps(self, found: Found) -> bool:
        """Whether every rank before keeps to what it was given, to a thousandth of its unit."""
        return all(
            value_of(self.cards, name, found.allocation) <= most + 0.001 * UNITS[name]
            for name, most in self.caps.items()
        )

    def cap(self, name: str, value: float) -> None:
        most = self.caps[name] = ceil(value - 1e-6)
        self.model.model.add(self.model.goals[name] <= most)

    def say(self, name: str, value: float | None, bound: float | None, message: str) -> None:
        unit, gap = UNITS[name], None
        if value is not None and bound is not None:
            gap = abs(value - bound) / max(abs(value), floor_of(self.cards, name))
        words = self.unit if unit == MONEY else "jars" if name == "short" else "starts"
        shown = [None if number is None else number / unit for number in (value, bound)]
        self.tell(Progress(self.clock.spent, name, shown[0], shown[1], gap, words, message))
