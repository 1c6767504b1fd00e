"""Allocation and timetables joined: ranked goals, cuts from days that cannot be placed, bounds that hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from scheduler.errors import NoPlanInTime, NoPlanPossible
from scheduler.model.allocation import Allocation
from scheduler.model.mip import MipAnswer
from scheduler.plan_rows import Goal
from scheduler.solve.clash import held_that_clash
from scheduler.solve.cuts import Cut, add, covers, reduce, undecided
from scheduler.solve.guided import nearby, soon, with_margins
from scheduler.solve.incumbent import DEALING, FREE_HANDS, Incumbent, few
from scheduler.solve.place import Verdict
from scheduler.solve.ranks import (
    CLOSE_ENOUGH,
    RANKS,
    clashing,
    floor_of,
    goal_of,
    least_of,
    slack_of,
    value_of,
    with_value,
)
from scheduler.solve.season import is_long, least
from scheduler.solve.settings import Clock

TAUGHT = ("spoiled", "short", "money")
"""Ranks worth the time that cuts take: a start less is found near the best plan, or not worth the wait."""
SHARE_OF_TIME = {"spoiled": 0.45, "short": 0.45, "money": 0.75, "tidiness": 0.5}
"""Of the time left, the share that each rank may use."""
COARSE = {"spoiled": 0.03, "short": 0.03, "money": 0.05}
"""Relative gap at which an allocation is good enough to try its days, before it is solved closely: where
many days fail at first."""
EXACT_SHARE = 0.6
"""Of a rank's time, the share that the exact search may use where it does not end by itself."""
FAR = 2.0
"""Times the gap asked for that an answer may have to be worth placing."""
QUICK = 0.15
"""Of the exact search's time, what its first allocation may take where none is found: then plans with margins
come first."""
NO_PLAN = "time ran out before any plan was found; give it more --seconds"
NO_PLAN_STOPPED = "stopped before any plan was found"


@dataclass
class Search(Incumbent):
    """One search over all ranks."""

    cuts: list[Cut] = field(default_factory=list)
    goals: list[Goal] = field(default_factory=list)
    crowded: bool = False
    """Whether more days failed than cuts can mend: then only plans with margins, and those near them, do."""

    def run(self) -> None:
        """Solve every rank in turn, each within the slack of the one before."""
        try:
            self._ranks()
        except BaseException:
            if self.usual is not None:
                self.usual.end()
            raise

    def _ranks(self) -> None:
        slack_before = 0.0
        for n, name in enumerate(RANKS):
            best, bound = self._rank(name)
            if self.found is None:
                raise NoPlanInTime(NO_PLAN_STOPPED if self.clock.stop() else NO_PLAN)
            if n > 0:
                self._spend(RANKS[n - 1], name, slack_before)
            best = min(best, value_of(self.cards, name, self.found.allocation))
            self.say(name, best, min(bound, best), DEALING)
            slack_before = slack_of(self.cards, name, best)
            self.cap(name, best + slack_before)
            self.goals.append(goal_of(self.cards, name, best, min(bound, best), slack_before))
        assert self.found is not None
        self.goals = [with_value(self.cards, goal, self.found.allocation) for goal in self.goals]

    def _rank(self, name: str) -> tuple[float, float]:
        """Best value placed, and bound of the allocation with all proved cuts, for one goal: what the exact
        search leaves open is looked for near the best plan."""
        self.complete(name)
        until = self.clock.spent + self.clock.left * SHARE_OF_TIME[name]
        best = self.reached(name)
        if is_long(self.cards):
            bound = max(least_of(self.cards, name), self._relaxed(name, until))
        else:
            if self.found is None:
                best = soon(self, name)
            exact = self.clock.spent + EXACT_SHARE * (until - self.clock.spent)
            best, bound = self._exactly(name, best, exact, until)
        if not self.is_close(name, best, bound):
            best = nearby(self, name, best, bound, until)
        return best, bound

    def _relaxed(self, name: str, until: float) -> float:
        """The bound of a season, which no exact search gets through: of the relaxation alone."""
        self.say(name, None, None, "how good a plan can be")
        return least(
            self.model, name, self.within, Clock(max(0.0, until - self.clock.spent), self.clock.stop)
        )

    def _exactly(self, name: str, best: float, until: float, rank: float) -> tuple[float, float]:
        """Best and bound while failing days teach cuts: where this ends by itself it is exact.

        A day left undecided is kept out of the plans looked for, but not out of the bound: that is then of
        the allocation with the cuts proved before, or solved once more at the end. Where days fail at first,
        plans with margins come before any cut, for which there may be the whole time of the ``rank``.
        """
        bound, gap = least_of(self.cards, name), COARSE.get(name, CLOSE_ENOUGH[name])
        avoiding, guided = False, name not in FREE_HANDS
        while not self.is_close(name, best, bound) and not self.clock.over:
            share = 1.0 if guided and not self.crowded else QUICK
            soon = self.clock.spent + share * (until - self.clock.spent)
            answer = self.solve(name, soon, best, gap=gap, avoiding=avoiding)
            if answer.infeasible and self.found is None and not avoiding:
                raise NoPlanPossible(held_that_clash(self.model) or clashing(self.cards))
            if not avoiding:
                bound = max(bound, answer.bound if not answer.infeasible else best)
            # A poor answer in a hurry is worth no timetables: one with margins is better.
            none = answer.values is None or (not guided and self._is_far(name, answer, gap))
            if self.is_close(name, best, bound) or (none and (guided or answer.infeasible)):
                break
            failed: list[int] = []
            if answer.values is not None and not none and not self.crowded:
                best, failed = self.look(name, answer.values, best, until)
                self.crowded = len(failed) > few(self.cards.days)
            if not guided and (failed or none or self.crowded):
                guided, best = True, with_margins(self, name, best, rank)
            if self._is_over(name, best, bound, until) or (failed and name not in TAUGHT):
                break
            if failed and answer.values is not None:
                avoiding |= not self._learn(self.model.read(answer.values), name, failed, until)
            elif gap > CLOSE_ENOUGH[name]:
                gap = CLOSE_ENOUGH[name]
            elif not none:
                break
        if avoiding and not self.clock.over:
            bound = max(bound, self.solve(name, until, best).bound)
        return best, bound

    def _is_far(self, name: str, answer: MipAnswer, gap: float) -> bool:
        """Whether an answer misses the gap that was asked for by far."""
        value = answer.objective or 0.0
        return value - answer.bound > FAR * gap * max(abs(value), floor_of(self.cards, name))

    def _is_over(self, name: str, best: float, bound: float, until: float) -> bool:
        """Whether the exact search has nothing more to do, or no time, or no hope."""
        late = self.clock.spent >= until or self.clock.over
        return late or self.crowded or self.is_close(name, best, bound)

    def _learn(self, allocation: Allocation, name: str, failed: list[int], until: float) -> bool:
        """Add cuts of days refuted; keep plans away from those undecided. Whether all were refuted."""
        allocation = self.staffed(name, allocation)
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

    def _spend(self, before: str, now: str, slack: float) -> None:
        """Freeze the rank before at the least that keeps what this rank reached."""
        assert self.found is not None
        if slack > 0:
            self.cap(now, value_of(self.cards, now, self.found.allocation))
            self.complete(before)
        self.cap(before, value_of(self.cards, before, self.found.allocation))
