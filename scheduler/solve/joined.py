"""Allocation and timetables joined: ranked goals, cuts from days that cannot be placed, bounds that hold."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from math import ceil

from scheduler.cards import MONEY, Cards
from scheduler.errors import NoPlanInTime, NoPlanPossible
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.day import DayTimetable
from scheduler.model.mip import CLOSED, MipAnswer, solve
from scheduler.plan import Goal
from scheduler.solve.clash import held_that_clash
from scheduler.solve.cuts import Cut, add, covers, reduce, undecided
from scheduler.solve.days import Days
from scheduler.solve.kept import Kept, Within, timetable, within
from scheduler.solve.place import Answer, Verdict
from scheduler.solve.ranks import CLOSE_ENOUGH, RANKS, UNITS, clashing, floor_of, least_of, slack_of, value_of
from scheduler.solve.settings import Clock, Progress, Settings, Tell
from scheduler.solve.staffing import additions, with_all_hands

FREE_HANDS = ("spoiled", "short")
"""Ranks in which pay does not count yet, so that everybody may be in."""
SHARE_OF_TIME = {"spoiled": 0.35, "short": 0.45, "money": 0.75, "tidiness": 0.5}
"""Of the time left, the share that each rank may use."""
COARSE = {"money": 0.05}
"""Relative gap at which an allocation is good enough to try its days, before it is solved closely: where
many days fail at first."""
MOST_MARGIN = 60
MARGIN_STEP = 12
"""Per cent of a day's time kept free, more each time the day cannot be placed."""
LOOK = 1.5
"""Seconds for one look near the best plan."""
COMPLETE = 10.0
"""Seconds to complete a plan whose batches and people are given: a small model, far quicker as a rule."""
PASSES = 2
"""How often every few days are planned anew in vain before a rank is left."""
FEW = 3
"""Days in a week that may fail before the other days of an allocation are left unplaced."""
MOST_ADDITIONS = 8
NO_PLAN = "time ran out before any plan was found; give it more --seconds"
NO_PLAN_STOPPED = "stopped before any plan was found"


@dataclass(frozen=True)
class Found:
    """An allocation whose every day has a timetable."""

    allocation: Allocation
    timetables: tuple[DayTimetable, ...]


@dataclass
class Search:
    """One search over all ranks; ``found`` is the best plan so far, to start with the habit's."""

    cards: Cards
    settings: Settings
    clock: Clock
    tell: Tell
    unit: str
    model: AllocationModel = field(init=False)
    days: Days = field(init=False)
    margins: list[int] = field(init=False)
    guide: tuple[tuple[tuple[int, ...], int], AllocationModel] | None = None
    added: list[Callable[[AllocationModel], None]] = field(default_factory=list)
    found: Found | None = None
    kept: Kept | None = None
    goals: list[Goal] = field(default_factory=list)
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

    def run(self) -> None:
        """Solve every rank in turn, each within the slack of the one before."""
        slack_before = 0.0
        for n, name in enumerate(RANKS):
            best, bound = self._rank(name)
            if self.found is None:
                raise NoPlanInTime(NO_PLAN_STOPPED if self.clock.stop() else NO_PLAN)
            if n > 0:
                self._spend(RANKS[n - 1], name, slack_before)
            best = min(best, value_of(self.cards, name, self.found.allocation))
            slack_before = slack_of(self.cards, name, best)
            self._cap(name, best + slack_before)
            self.goals.append(self._goal(name, best, min(bound, best), slack_before))
        assert self.found is not None
        self.goals = [self._final(goal, self.found) for goal in self.goals]

    def _rank(self, name: str) -> tuple[float, float]:
        """Best value placed and bound proved for one goal.

        The bound is that of the allocation with all proved cuts. Plans are looked for with a margin on
        the days that could not be placed, growing until they can be.
        """
        self._complete(name)
        until = self.clock.spent + self.clock.left * SHARE_OF_TIME[name]
        best = float("inf") if self.found is None else value_of(self.cards, name, self.found.allocation)
        best, bound = self._exactly(name, best, self.clock.spent + 0.8 * (until - self.clock.spent))
        if not self._is_close(name, best, bound):
            best = self._nearby(name, best, bound, until)
        return best, bound

    def _nearby(self, name: str, best: float, bound: float, until: float) -> float:
        """Better plans near the best so far: a few days are planned anew, the others keep their batches."""
        windows = [each for each in _windows(self.cards.days) if each[-1] not in self.days.kept]
        unchanged, n = 0, 0
        while self.found is not None and unchanged < PASSES * len(windows):
            if self._is_close(name, best, bound) or self.clock.spent >= until or self.clock.over:
                break
            window = windows[n % len(windows)]
            n, unchanged = n + 1, unchanged + 1
            fixed = self._fixed_outside(window, name)
            answer = self._solve(self._guide(window), name, min(until, self.clock.spent + LOOK), best, fixed)
            if answer.values is None:
                continue
            allocation = self.model.read(answer.values)
            if value_of(self.cards, name, allocation) >= best - 1e-6:
                for day in window:
                    self.margins[day] = max(0, self.margins[day] - MARGIN_STEP // 3)
                continue
            timetables = list(self.found.timetables)
            for day in window:
                timetable = self.days.answer(self.days.work(allocation, day)).timetable
                if timetable is None:
                    self.margins[day] = min(MOST_MARGIN, self.margins[day] + MARGIN_STEP)
                    break
                timetables[day] = timetable
            else:
                self.found = Found(allocation, tuple(timetables))
                best, unchanged = value_of(self.cards, name, self.found.allocation), 0
        return best

    def _fixed_outside(self, window: tuple[int, ...], name: str) -> dict[int, float]:
        """What keeps the timetables of all other days: their batches, freezing and people."""
        assert self.found is not None
        x, a = self.model.x, self.found.allocation
        fixed = {
            var.index: float(a.count[d][m])
            for d, row in enumerate(x.count)
            for m, var in enumerate(row)
            if d not in window
        }
        fixed |= {var.index: a.freeze.get(key, 0.0) for key, var in x.freeze.items() if key[1] not in window}
        held, days = self.cards.scenario.held, [self.cards.dates[d] for d in window]
        fixed |= {
            var.index: float(a.held.get(h) == m) for (h, m), var in x.meets.items() if held[h].day not in days
        }
        return fixed | {
            var.index: float(i in a.staff)
            for i, var in enumerate(x.staff)
            if name in FREE_HANDS or self.cards.staff[i].day not in window
        }

    def _exactly(self, name: str, best: float, until: float) -> tuple[float, float]:
        """Best and bound while few days fail, each teaching a cut: where this ends by itself it is exact."""
        bound, gap = least_of(self.cards, name), COARSE.get(name, CLOSE_ENOUGH[name])
        while not self._is_close(name, best, bound) and not self.clock.over:
            answer = self._solve(self.model, name, until, best, gap=gap)
            if answer.infeasible and self.found is None:
                raise NoPlanPossible(held_that_clash(self.model) or clashing(self.cards))
            bound = max(bound, answer.bound if not answer.infeasible else best)
            if answer.values is None or self._is_close(name, best, bound):
                return best, bound
            best, failed = self._look(name, answer.values, best, until)
            over = self.clock.spent >= until or self.clock.over
            if not failed and gap > CLOSE_ENOUGH[name] and not over:
                gap = CLOSE_ENOUGH[name]
                continue
            if self._is_close(name, best, bound) or not failed or over:
                for day in failed:
                    self.margins[day] = min(MOST_MARGIN, self.margins[day] + MARGIN_STEP)
                return best, bound
            if not self._learn(self.model.read(answer.values), name, failed, until):
                return best, bound
        return best, bound

    def _look(self, name: str, values: Sequence[float], best: float, until: float) -> tuple[float, list[int]]:
        """Place a solution; keep it if it is the best so far. The days that failed at first."""
        found, failed = self._placed(name, self.model.read(values), until)
        better = found is not None and value_of(self.cards, name, found.allocation) < best - 1e-6
        # More hands, called in to place a day, may cost more than a rank before has left to spend.
        if found is not None and better and self._within_caps(found):
            self.found, best = found, value_of(self.cards, name, found.allocation)
        return best, failed

    def _is_close(self, name: str, best: float, bound: float) -> bool:
        enough = CLOSE_ENOUGH[name] * max(abs(best), floor_of(self.cards, name))
        return best < float("inf") and best - bound <= enough

    def _guide(self, window: tuple[int, ...]) -> AllocationModel:
        """The same model, keeping margins free on the days of ``window`` (the others are placed already)."""
        margins = tuple(m if day in window else 0 for day, m in enumerate(self.margins))
        state = (margins, len(self.added))
        if self.guide is None or self.guide[0] != state:
            guide = AllocationModel(self.cards, state[0])
            for change in self.added:
                change(guide)
            self.guide = (state, guide)
        return self.guide[1]

    def _add(self, change: Callable[[AllocationModel], None]) -> None:
        """Change the model, and every guide made of it later."""
        change(self.model)
        self.added.append(change)

    def _solve(
        self,
        model: AllocationModel,
        name: str,
        until: float,
        best: float,
        fixed: dict[int, float] | None = None,
        gap: float | None = None,
        stop: bool = True,
    ) -> MipAnswer:
        def watch(_: float | None, bound: float | None) -> bool:
            known = None if fixed or any(model.x.margins) else bound
            self._say(name, best if best < float("inf") else None, known, "dealing batches out to days")
            return stop and self.clock.over

        model.model.minimize(model.goals[name])
        hint = None if self.found is None or best == float("inf") else self.found.allocation.values
        seconds = max(0.5, until - self.clock.spent)
        return solve(
            model.model, model.masses, seconds, self.settings.workers, self.settings.seed, watch,
            hint, CLOSE_ENOUGH[name] if gap is None else gap,
            {model.avoid.index: float(any(model.x.margins)), **(fixed or {})}, self.within,
        )  # fmt: skip

    def _placed(self, name: str, allocation: Allocation, until: float) -> tuple[Found | None, list[int]]:
        """Place every day, with more hands where that is needed; the days that needed them or failed."""
        allocation = self._staffed(name, allocation)
        self._say(name, None, None, "placing batches on pans, rings and people")
        few = FEW * ceil(self.cards.days / 7) if self.found is not None else self.cards.days
        answers = self.days.answers(allocation, few)
        failed = [day for day, answer in answers.items() if answer.timetable is None]
        if len(failed) > few:
            return None, failed
        if failed and name in FREE_HANDS:
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

    def _staffed(self, name: str, allocation: Allocation) -> Allocation:
        """Everybody in where hands cost nothing yet."""
        if name not in FREE_HANDS:
            return allocation
        free = [day for day in range(self.cards.days) if day not in self.days.kept]
        load = sorted(free, key=lambda d: -sum(allocation.count[d]))
        return allocation.with_staff(with_all_hands(self.cards, allocation.staff, tuple(load)), self.model.x)

    def _learn(self, allocation: Allocation, name: str, failed: list[int], until: float) -> bool:
        """Add cuts of the days that were refuted; keep plans away from those left undecided.

        Whether all were refuted.
        """
        allocation = self._staffed(name, allocation)
        cuts: list[Cut] = []
        for day in failed:
            work = self.days.work(allocation, day)
            if any(covers(cut, work) for cut in cuts):
                continue
            verdict = self.days.decide(work).verdict
            if verdict is Verdict.REFUTED:
                share = Clock(max(0.0, until - self.clock.spent), self.clock.stop)
                cuts.append(reduce(self.cards, work, share))
            elif verdict is Verdict.UNDECIDED:
                cuts.append(undecided(work))
        for cut in cuts:
            self._add(partial(add, cut=cut))
        return all(cut.proved for cut in cuts)

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

    def _spend(self, before: str, now: str, slack: float) -> None:
        """Freeze the rank before at the least that keeps what this rank reached."""
        assert self.found is not None
        if slack > 0:
            self._cap(now, value_of(self.cards, now, self.found.allocation))
            self._complete(before)
        self._cap(before, value_of(self.cards, before, self.found.allocation))

    def _complete(self, name: str) -> None:
        """Reach what a goal can with the batches and people of the plan so far, also when time is over:
        a plan stopped early ships the jars that it makes."""
        if self.found is None:
            return
        now = value_of(self.cards, name, self.found.allocation)
        fixed = self._fixed_outside((), name)
        answer = self._solve(self.model, name, self.clock.spent + COMPLETE, now, fixed, stop=False)
        if answer.values is not None:
            allocation = self.model.read(answer.values)
            if value_of(self.cards, name, allocation) < now:
                self.found = Found(allocation, self.found.timetables)

    def _within_caps(self, found: Found) -> bool:
        """Whether every rank before keeps to what it was given, to a thousandth of its unit."""
        return all(
            value_of(self.cards, name, found.allocation) <= most + 0.001 * UNITS[name]
            for name, most in self.caps.items()
        )

    def _cap(self, name: str, value: float) -> None:
        most = self.caps[name] = ceil(value - 1e-6)

        def cap(model: AllocationModel) -> None:
            model.model.add(model.goals[name] <= most)

        self._add(cap)

    def _goal(self, name: str, best: float, bound: float, slack: float) -> Goal:
        unit = UNITS[name]
        gap = abs(best - bound) / max(abs(best), floor_of(self.cards, name))
        words = {"spoiled": self.unit, "money": self.unit, "short": "jars", "tidiness": "starts"}
        gap = 0.0 if gap <= CLOSED else round(gap, 5)
        return Goal(name, words[name], 0.0, best / unit, bound / unit, gap, slack / unit)

    def _final(self, goal: Goal, found: Found) -> Goal:
        value = value_of(self.cards, goal.name, found.allocation) / UNITS[goal.name]
        best, bound, slack = (round(number, 3) for number in (goal.best, goal.bound, goal.slack))
        return Goal(goal.name, goal.unit, round(value, 3), best, bound, goal.gap, slack)

    def unproved(self, found: Found) -> tuple[Goal, ...]:
        """The goals of a plan that nothing was proved about: bounds are what no plan can beat."""
        goals = [
            self._goal(name, value_of(self.cards, name, found.allocation), least_of(self.cards, name), 0.0)
            for name in RANKS
        ]
        return tuple(self._final(goal, found) for goal in goals)

    def _say(self, name: str, value: float | None, bound: float | None, message: str) -> None:
        unit = UNITS[name]
        gap = None
        if value is not None and bound is not None:
            gap = abs(value - bound) / max(abs(value), floor_of(self.cards, name))
        words = self.unit if unit == MONEY else "jars" if name == "short" else "starts"
        shown = [None if number is None else number / unit for number in (value, bound)]
        self.tell(Progress(self.clock.spent, name, shown[0], shown[1], gap, words, message))


def _windows(days: int) -> list[tuple[int, ...]]:
    """Neighbouring days to plan anew together: two in a plan of days, a week in a plan of weeks."""
    size, step = (2, 1) if days <= 14 else (7, 4)
    starts = range(0, max(1, days - size + 1), step)
    return [tuple(range(start, min(days, start + size))) for start in starts]
