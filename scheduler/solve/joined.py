"""Allocation and timetables joined: ranked goals, cuts from days that cannot be placed, bounds that hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from types import MappingProxyType

from scheduler.cards import MONEY, Cards
from scheduler.errors import NoPlanInTime, NoPlanPossible
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.mip import MipAnswer, solve
from scheduler.plan_rows import Goal
from scheduler.solve.clash import held_that_clash
from scheduler.solve.cuts import Cut, add, covers, reduce, undecided
from scheduler.solve.days import Days, Found
from scheduler.solve.kept import Kept, Within, timetable, within
from scheduler.solve.margins import FIRST, STEP, less, more
from scheduler.solve.place import Answer, Verdict
from scheduler.solve.ranks import (
    CLOSE_ENOUGH,
    RANKS,
    UNITS,
    clashing,
    floor_of,
    goal_of,
    least_of,
    slack_of,
    value_of,
    with_value,
)
from scheduler.solve.season import is_long, least
from scheduler.solve.settings import Clock, Progress, Settings, Tell
from scheduler.solve.staffing import additions, with_all_hands
from scheduler.solve.windows import fixed_outside, windows

FREE_HANDS = ("spoiled", "short")
"""Ranks in which pay does not count yet, so that everybody may be in."""
TAUGHT = ("spoiled", "short", "money")
"""Ranks worth the time that cuts take: a start less is found near the best plan, or not worth the wait."""
SHARE_OF_TIME = {"spoiled": 0.45, "short": 0.45, "money": 0.75, "tidiness": 0.5}
"""Of the time left, the share that each rank may use."""
COARSE = {"spoiled": 0.03, "short": 0.03, "money": 0.05}
"""Relative gap at which an allocation is good enough to try its days, before it is solved closely: where
many days fail at first."""
EXACT_SHARE = 0.6
"""Of a rank's time, the share that the exact search may use where it does not end by itself."""
GUIDED = 0.02
"""Relative gap at which an allocation with margins is good enough."""
MOST_GUIDES = 8
"""Allocations with margins that are tried in a rank: counted, so that a seed repeats its plan."""
MOST_UNPLACED = 1
"""Days that may fail with less time kept free than was enough before the others are left unplaced."""
LOOK = 1.5
"""Seconds for one look near the best plan, of up to ``LONG`` days; in proportion beyond."""
LONG = 14
"""Days from which on a whole allocation seldom has all its days placed: looks begin with time kept free."""
COMPLETE = 10.0
"""Seconds to complete a plan whose batches and people are given: a small model, far quicker as a rule."""
PASSES = 2
"""How often every few days are planned anew in vain before a rank is left."""
FEW = 3
"""Days in a week that may fail before the other days of an allocation are left unplaced."""
MOST_ADDITIONS = 8
DEALING = "dealing batches out to days"
NO_PLAN = "time ran out before any plan was found; give it more --seconds"
NO_PLAN_STOPPED = "stopped before any plan was found"


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
    enough: list[int] = field(default_factory=list)
    """Margins with which all days were placed last."""
    cuts: list[Cut] = field(default_factory=list)
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
            self._say(name, best, min(bound, best), DEALING)
            slack_before = slack_of(self.cards, name, best)
            self._cap(name, best + slack_before)
            self.goals.append(goal_of(self.cards, name, best, min(bound, best), slack_before))
        assert self.found is not None
        self.goals = [with_value(self.cards, goal, self.found.allocation) for goal in self.goals]

    def _rank(self, name: str) -> tuple[float, float]:
        """Best value placed, and bound of the allocation with all proved cuts, for one goal: what the exact
        search leaves open is looked for near the best plan."""
        self._complete(name)
        until = self.clock.spent + self.clock.left * SHARE_OF_TIME[name]
        best = float("inf") if self.found is None else value_of(self.cards, name, self.found.allocation)
        if is_long(self.cards):
            bound = max(least_of(self.cards, name), self._relaxed(name, until))
        else:
            exact = self.clock.spent + EXACT_SHARE * (until - self.clock.spent)
            best, bound = self._exactly(name, best, exact)
        if not self._is_close(name, best, bound):
            best = self._nearby(name, best, bound, until)
        return best, bound

    def _relaxed(self, name: str, until: float) -> float:
        """The bound of a season, which no exact search gets through: of the relaxation alone."""
        self._say(name, None, None, "how good a plan can be")
        return least(
            self.model, name, self.within, Clock(max(0.0, until - self.clock.spent), self.clock.stop)
        )

    def _with_margins(self, name: str, best: float, until: float) -> float:
        """Whole plans with time kept free on every day: so much that all days can be placed (a step more than
        for a goal before), and then less, as long as plans get better."""
        every_day, placed = tuple(range(self.cards.days)), False
        self.margins = more(self.enough, every_day) or [FIRST for _ in every_day]
        for _ in range(MOST_GUIDES):
            if min(self.margins) < STEP or self.clock.spent >= until or self.clock.over:
                break
            answer = self._solve(name, until, best, gap=GUIDED, margins=dict(enumerate(self.margins)))
            if answer.values is not None:
                before = best
                most = MOST_UNPLACED if placed else self.cards.days
                best, failed = self._look(name, answer.values, best, until, most)
                self.margins = more(self.margins, failed)
                if failed:
                    continue
                self.enough, placed = [*self.margins], True
                if best >= before:
                    break
            self.margins = less(self.margins, every_day)
        return best

    def _nearby(self, name: str, best: float, bound: float, until: float) -> float:
        """Better plans near the best so far: a few days are planned anew, the others keep their batches."""
        near = [each for each in windows(self.cards.days) if each[-1] not in self.days.kept]
        unchanged, n, look = 0, 0, LOOK * max(1.0, self.cards.days / LONG)
        if self.cards.days > LONG and not any(self.margins):
            self.margins = [FIRST] * self.cards.days
        while self.found is not None and unchanged < PASSES * len(near):
            if self._is_close(name, best, bound) or self.clock.spent >= until or self.clock.over:
                break
            window = near[n % len(near)]
            n, unchanged = n + 1, unchanged + 1
            fixed = fixed_outside(
                self.model, self.found.allocation, window, everybody=self._hands_are_free(name)
            )
            soon = min(until, self.clock.spent + look)
            free = {day: self.margins[day] for day in window}
            answer = self._solve(name, soon, best, fixed, margins=free)
            if answer.values is None:  # goals before may leave no room for margins
                unchanged -= any(self.margins[day] for day in window)
                self.margins = less(self.margins, window, by=100)
                continue
            allocation = self.model.read(answer.values)
            if value_of(self.cards, name, allocation) >= best - 1e-6:
                self.margins = less(self.margins, window, by=STEP // 3)
                continue
            failed = self._change(allocation, self.found)
            if failed is None:
                best, unchanged = value_of(self.cards, name, allocation), 0
            else:
                self.margins = more(self.margins, (failed,))
        return best

    def _change(self, allocation: Allocation, before: Found) -> int | None:
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

    def _exactly(self, name: str, best: float, until: float) -> tuple[float, float]:
        """Best and bound while failing days teach cuts: where this ends by itself it is exact.

        A day left undecided is kept out of the plans looked for, but not out of the bound: that is then of
        the allocation with the cuts proved before, or solved once more at the end. Where days fail at first,
        a plan with margins comes before any cut: it may be all that there is time for.
        """
        bound, gap = least_of(self.cards, name), COARSE.get(name, CLOSE_ENOUGH[name])
        avoiding, guided = False, name not in FREE_HANDS
        while not self._is_close(name, best, bound) and not self.clock.over:
            answer = self._solve(name, until, best, gap=gap, avoiding=avoiding)
            if answer.infeasible and self.found is None and not avoiding:
                raise NoPlanPossible(held_that_clash(self.model) or clashing(self.cards))
            if not avoiding:
                bound = max(bound, answer.bound if not answer.infeasible else best)
            if answer.values is None or self._is_close(name, best, bound):
                break
            # Where a goal before was reached with margins alone, one day that fails is enough to go that way.
            most = 0 if self.enough and not guided else None
            best, failed = self._look(name, answer.values, best, until, most)
            if failed and not guided:
                guided, best = True, self._with_margins(name, best, until)
            near = failed and name not in TAUGHT
            if near or self.clock.spent >= until or self.clock.over or self._is_close(name, best, bound):
                break
            if failed:
                avoiding |= not self._learn(self.model.read(answer.values), name, failed, until)
            elif gap > CLOSE_ENOUGH[name]:
                gap = CLOSE_ENOUGH[name]
            else:
                break
        if avoiding and not self.clock.over:
            bound = max(bound, self._solve(name, until, best).bound)
        return best, bound

    def _look(
        self, name: str, values: Sequence[float], best: float, until: float, most: int | None = None
    ) -> tuple[float, list[int]]:
        """Place a solution; keep it if it is the best. The days that failed first; over ``most`` end it."""
        found, failed = self._placed(name, self.model.read(values), until, most)
        better = found is not None and value_of(self.cards, name, found.allocation) < best - 1e-6
        # More hands, called in to place a day, may cost more than a rank before has left to spend.
        if found is not None and better and self._within_caps(found):
            self.found, best = found, value_of(self.cards, name, found.allocation)
        return best, failed

    def _is_close(self, name: str, best: float, bound: float) -> bool:
        enough = CLOSE_ENOUGH[name] * max(abs(best), floor_of(self.cards, name))
        return best < float("inf") and best - bound <= enough

    def _solve(
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
        avoiding = avoiding or beside is not None

        def watch(_: float | None, bound: float | None) -> bool:
            known = None if fixed or avoiding else bound
            self._say(name, best if best < float("inf") else None, known, DEALING)
            return stop and self.clock.over

        model.model.minimize(model.goals[name])
        hint = None if self.found is None or best == float("inf") else self.found.allocation.values
        seconds = max(0.5, until - self.clock.spent)
        return solve(
            model.model, model.masses, seconds, self.settings.workers, self.settings.seed, watch,
            hint, CLOSE_ENOUGH[name] if gap is None else gap,
            {model.avoid.index: float(avoiding), **(fixed or {})}, self.within, beside,
        )  # fmt: skip

    def _placed(
        self, name: str, allocation: Allocation, until: float, most: int | None
    ) -> tuple[Found | None, list[int]]:
        """Place every day, with more hands where that is needed; the days that needed them or failed."""
        allocation = self._staffed(name, allocation)
        self._say(name, None, None, "placing batches on pans, rings and people")
        few = FEW * ceil(self.cards.days / 7) if self.found is not None else self.cards.days
        few = few if most is None else most
        answers = self.days.answers(allocation, few)
        failed = [day for day, answer in answers.items() if answer.timetable is None]
        if len(failed) > few:
            return None, failed
        if failed and self._hands_are_free(name):
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

    def _hands_are_free(self, name: str) -> bool:
        """Whether pay does not count in a rank, nor was capped before it."""
        return name in FREE_HANDS and "money" not in self.caps

    def _staffed(self, name: str, allocation: Allocation) -> Allocation:
        """Everybody in where hands cost nothing yet."""
        if not self._hands_are_free(name):
            return allocation
        free = [day for day in range(self.cards.days) if day not in self.days.kept]
        load = sorted(free, key=lambda d: -sum(allocation.count[d]))
        return allocation.with_staff(with_all_hands(self.cards, allocation.staff, tuple(load)), self.model.x)

    def _learn(self, allocation: Allocation, name: str, failed: list[int], until: float) -> bool:
        """Add cuts of days refuted; keep plans away from those undecided. Whether all were refuted."""
        allocation = self._staffed(name, allocation)
        cuts: list[Cut] = []
        for day in failed:
            work = self.days.work(allocation, day)
            if any(covers(cut, work) for cut in cuts):
                continue
            late = self.clock.spent >= until
            verdict, about = (Verdict.UNDECIDED, work) if late else self.days.decide(work)
            if verdict is Verdict.REFUTED:
                share = Clock(max(0.0, until - self.clock.spent), self.clock.stop)
                cuts.append(reduce(self.cards, about, share))
            elif verdict is Verdict.UNDECIDED:
                cuts.append(undecided(work))
        self.keep_to(cuts)
        return all(cut.proved for cut in cuts)

    def keep_to(self, cuts: Sequence[Cut]) -> None:
        """Keep to what was learnt of days, here or in another search of the same cards."""
        for cut in cuts:
            self.cuts.append(cut)
            add(self.model, cut)

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
        fixed = fixed_outside(self.model, self.found.allocation, (), everybody=True)
        answer = self._solve(name, self.clock.spent + COMPLETE, now, fixed, stop=False)
        if answer.values is not None:
            allocation = self.model.read(answer.values)
            if value_of(self.cards, name, allocation) < now:
                self._change(allocation, self.found)

    def _within_caps(self, found: Found) -> bool:
        """Whether every rank before keeps to what it was given, to a thousandth of its unit."""
        return all(
            value_of(self.cards, name, found.allocation) <= most + 0.001 * UNITS[name]
            for name, most in self.caps.items()
        )

    def _cap(self, name: str, value: float) -> None:
        most = self.caps[name] = ceil(value - 1e-6)
        self.model.model.add(self.model.goals[name] <= most)

    def _say(self, name: str, value: float | None, bound: float | None, message: str) -> None:
        unit, gap = UNITS[name], None
        if value is not None and bound is not None:
            gap = abs(value - bound) / max(abs(value), floor_of(self.cards, name))
        words = self.unit if unit == MONEY else "jars" if name == "short" else "starts"
        shown = [None if number is None else number / unit for number in (value, bound)]
        self.tell(Progress(self.clock.spent, name, shown[0], shown[1], gap, words, message))
