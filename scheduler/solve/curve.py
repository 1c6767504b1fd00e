"""The trade-off curve: plans that give up some of what is lost on fruit, and of jars, for money.

Its first end is the best plan by the goals in their order, with no slack; its last end is the plan that
spends least, or earns most. Between them the value lost on fruit is capped in equal steps, and under each
cap there are two plans: one that first misses as few jars as it can and then spends least, and one that
spends least whatever jars are missing. So each is the least money among all plans that lose no more fruit
and miss no more jars (an epsilon-constraint), within the gap of its money.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from scheduler.plan_rows import Goal
from scheduler.solve.days import Found
from scheduler.solve.joined import Search
from scheduler.solve.ranks import RANKS, UNITS, goal_of, value_of, with_value
from scheduler.solve.settings import Clock, Tell

Worth = tuple[float, float, float]
"""Value lost on fruit, jars missing, money: all better when lower."""

Proof = tuple[float, float]
"""Best reached and bound of a goal, in card units."""


@dataclass(frozen=True)
class Step:
    """What is asked of a point: the most value lost on fruit (None: any), whether jars come before money."""

    most: float | None
    jars_first: bool


ANYTHING = Step(None, jars_first=False)
"""The least money of all: the last end."""


@dataclass
class PointSearch(Search):
    """The search of one point under the caps of its step."""

    step: Step = ANYTHING
    proofs: dict[str, Proof] = field(default_factory=dict)

    def run(self) -> None:
        """Solve the point; ``proofs`` hold what is known of spoiled, and of short where money comes first."""
        if self.step.most is not None:
            self.cap("spoiled", self.step.most)
        if self.step.jars_first:
            self.proofs["short"] = self._rank("short")
            self.cap("short", self.value("short"))
        self.proofs["money"] = self._rank("money")
        self.cap("money", self.value("money"))
        # No fruit and no jars are given up that this money could save.
        self._rank("spoiled")
        self.cap("spoiled", self.value("spoiled"))
        self.complete("short")
        self.cap("short", self.value("short"))
        self.proofs["tidiness"] = self._rank("tidiness")
        self.goals = [self._row(name) for name in RANKS]

    def restate(self, reached: Sequence[Worth]) -> None:
        """Let the goals say what the plans of all points, worth ``reached``, came to within the caps."""
        most = self.goals[0].cap or 0.0
        lost = min(each[0] for each in reached) * UNITS["spoiled"]
        self.proofs["spoiled"] = (min(lost, self.proofs["spoiled"][0]), self.proofs["spoiled"][1])
        if not self.step.jars_first:
            fewest = min(each[1] for each in reached if each[0] <= most + 0.01)
            self.proofs["short"] = (min(fewest, self.proofs["short"][0]), self.proofs["short"][1])
        self.goals = [self._row(name) for name in RANKS]

    def value(self, name: str) -> float:
        """What the plan found reaches of a goal, in card units."""
        assert self.found is not None
        return value_of(self.cards, name, self.found.allocation)

    def _row(self, name: str) -> Goal:
        """A goal as the plan reports it. One that was not capped is capped by what it came to, which changes
        nothing: what is cheapest of all plans is cheapest of those that are no worse in it."""
        assert self.found is not None
        value, (best, bound) = self.value(name), self.proofs[name]
        capped = name == "spoiled" or (name == "short" and not self.step.jars_first)
        best = min(best, value)
        given = self.step.most if name == "spoiled" and self.step.most is not None else value
        slack = max(0.0, given - best) if capped else 0.0
        told = goal_of(self.cards, name, best, min(bound, best), slack)
        goal = with_value(self.cards, told, self.found.allocation)
        return replace(goal, cap=round(goal.best + goal.slack, 3)) if capped else goal


@dataclass
class CurveSearch:
    """All points of a curve, one after another; ``first`` is the search of its first end, which has run.

    Each begins with the best plan so far that keeps its caps, with the timetables placed and the cuts
    learnt by all before it: those are about days, and hold whatever the goals are.
    """

    first: Search
    clock: Clock
    tell_of: Callable[[int], Tell]
    """Whom the search of a point tells where it stands, by the point's number in the order of work."""
    done: list[Search] = field(default_factory=list)

    def run(self, points: int) -> list[Search]:
        """Solve at most so many points until time is over or somebody stops; those that are efficient.

        They are sorted by what they lose on fruit.
        """
        self.done = [self.first]
        if points > 1 and self._solve(ANYTHING, points - 1):
            end = self.done[-1]
            low, high = (worth(each.goals)[0] * UNITS["spoiled"] for each in self.done)
            steps = list(between(low, high, points))
            for n, step in enumerate(steps):
                if not self._solve(step, len(steps) - n + 1):
                    break
            # Where it was not proved, a point between may have come out cheaper.
            if min(worth(each.goals)[2] for each in self.done) < worth(end.goals)[2]:
                self._solve(ANYTHING, 1)
        reached = [worth(each.goals) for each in self.done]
        for point in self.done:
            if isinstance(point, PointSearch):
                point.restate(reached)
        return [self.done[i] for i in efficient(reached)]

    def _solve(self, step: Step, left: int) -> bool:
        """Solve one more of ``left`` points with its share of the time; False if that was cut short."""
        if self.clock.over:
            return False
        first, last = self.first, self.done[-1]
        own = Clock(self.clock.left / left, self.clock.stop)
        tell = self.tell_of(len(self.done) + 1)
        search = PointSearch(first.cards, first.settings, own, tell, first.unit, usual=first.usual, step=step)
        search.days, search.margins = first.days, list(last.margins)
        search.keep_to(last.cuts)
        search.found, search.proofs = self._start(step), self._known(step)
        search.run()
        if self.clock.stop():
            return False
        self.done.append(search)
        return True

    def _start(self, step: Step) -> Found | None:
        """The best plan so far within the caps of a step."""
        most = float("inf") if step.most is None else step.most / UNITS["spoiled"] + 0.001
        ranks = (1, 2) if step.jars_first else (2,)
        within = [each for each in self.done if each.goals[0].value <= most]
        return min(within, key=lambda each: [each.goals[rank].value for rank in ranks]).found

    def _known(self, step: Step) -> dict[str, Proof]:
        """What is known of spoiled, from the first end, and of short: where money comes first, from the
        point before, which has the same cap; without a cap only what was reached."""
        spoiled, short = self.first.goals[0], self.done[-1].goals[1]
        fewest = min(each.goals[1].best for each in self.done)
        return {
            "spoiled": (spoiled.best * UNITS["spoiled"], spoiled.bound * UNITS["spoiled"]),
            "short": (fewest, 0.0) if step.most is None else (short.best, short.bound),
        }


def between(low: float, high: float, points: int) -> Iterator[Step]:
    """The steps between the two ends of a curve of so many points, in the order in which they are solved.

    Under each cap jars come first and then money; under the last cap money first is the end itself, and with
    an even number of points jars first is left out there.
    """
    caps = points // 2 if high > low else 0
    for n in range(1, caps + 1):
        most = low + (high - low) * n / caps
        if n < caps or points % 2:
            yield Step(most, jars_first=True)
        if n < caps:
            yield Step(most, jars_first=False)


def worth(goals: Sequence[Goal]) -> Worth:
    """What a plan reaches of the three goals that are traded, money to the cent."""
    spoiled, short, money = (round(goal.value, 2) + 0.0 for goal in goals[:3])
    return spoiled, short, money


def efficient(worths: Sequence[Worth]) -> list[int]:
    """Places of those that no other is as good as in everything (of equals the first), sorted by worth."""

    def beaten(i: int) -> bool:
        mine = worths[i]
        return any(
            all(a <= b for a, b in zip(other, mine, strict=True)) and (other != mine or j < i)
            for j, other in enumerate(worths)
        )

    return sorted((i for i in range(len(worths)) if not beaten(i)), key=lambda i: worths[i])
