"""The planner itself, and the habit alone."""

from __future__ import annotations

from scheduler.bench.measure import Watch, course_of
from scheduler.cards import MONEY
from scheduler.errors import NoPlanInTime, PlanRejected
from scheduler.planner import Settings, begin, finish
from tests.bench.case import Case, Outcome, audited, start
from tests.bench.timing import timed_search


def joined(case: Case) -> Outcome:
    """Allocation and timetables joined, all four goals. The course is that of the first."""
    watch, clock = Watch(course_of(case.situation.scenario)), case.clock()

    def rank_over(name: str, seconds: float, best: float, bound: float) -> None:
        if name == "spoiled":
            watch.course.note(seconds, None if best == float("inf") else best / MONEY, bound / MONEY)

    outcome = Outcome(watch.course, True, 0.0)
    with timed_search(rank_over) as times:
        try:
            settings = Settings(seconds=case.seconds, workers=case.workers, seed=case.seed)
            search = begin(case.situation, settings, watch.tell, clock)
            search.run()
            outcome.counts = {"allocations": times.allocations, "cuts": len(search.cuts)}
            counts = search.days.counts()
            outcome.counts |= {
                "placed": counts.placed, "refuted": counts.refuted, "undecided": counts.undecided
            }  # fmt: skip
            outcome.plan, outcome.findings = finish(case.situation, search, clock), 0
        except NoPlanInTime as late:
            outcome.whole, outcome.remark = False, str(late)
        except PlanRejected as rejected:
            outcome.findings, outcome.remark = len(rejected.findings), rejected.findings[0]
    outcome.spent, outcome.seconds = dict(times.spent), clock.spent
    return outcome


def by_habit(case: Case) -> Outcome:
    """What people do."""
    begun = start(case)
    if begun.found is None:
        return begun.outcome(False, "no time left to place the habit's plan")
    begun.note(begun.found.allocation.spoiled, None)
    outcome = begun.outcome(True)
    outcome.plan, outcome.findings = audited(begun, begun.found)
    return outcome
