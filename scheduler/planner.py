"""The whole flow on one page: situation → cards → habit → ranked search → Plan → audit."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial

from scheduler.auditor import audit
from scheduler.domain.scenario import Situation
from scheduler.errors import NoPlanInTime, PlanRejected
from scheduler.making import make_cards
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayTimetable
from scheduler.model.mip import CLOSED
from scheduler.plan_rows import Plan, Status, totals
from scheduler.solve.beside import LATE, Beside
from scheduler.solve.crates import crates
from scheduler.solve.days import Found
from scheduler.solve.incumbent import BY_HABIT
from scheduler.solve.joined import Search
from scheduler.solve.kept import Kept, whole, with_kept
from scheduler.solve.place import polish
from scheduler.solve.ranks import RANKS, unproved
from scheduler.solve.readout import read_out
from scheduler.solve.season import is_long, sweep
from scheduler.solve.settings import Clock, Progress, Settings, Stop, Tell

__all__ = ["Progress", "Settings", "make_plan", "with_crates"]

POLISH_EFFORT = 0.15
MOST_POLISH = 10.0
"""Seconds that ending the days early may go on past those given, or a tenth of them if that is less."""
HABIT_SHARE = 0.5
"""Of the time left, what the habit's plan may take where there is a plan already."""
ALLOCATING = 60.0
"""Seconds to find again what a plan's rows leave open; as a rule one is enough."""
CRATE_DAYS = 14
"""Days for which a crate's worth is worked out: who stands at the chiller asks about today."""
EXACTLY = Settings()


def quiet(_: Progress) -> None:
    """Tell nobody."""


def never() -> bool:
    """Do not stop."""
    return False


def make_plan(
    situation: Situation,
    settings: Settings = EXACTLY,
    progress: Tell = quiet,
    stop: Stop = never,
    kept: Kept | None = None,
) -> Plan:
    """Plan a situation and audit the plan.

    ``progress`` is told where the search stands; once ``stop`` answers True the best plan so far is
    kept. ``kept`` days of an earlier plan are taken as given.
    Raises NoPlanPossible, NoPlanInTime, and PlanRejected if the audit finds anything.
    """
    clock = Clock(settings.seconds, stop)
    search = begin(situation, settings, progress, clock, kept)
    if settings.method == "habit":
        if search.found is None:
            raise NoPlanInTime("time ran out before the habit's plan was placed; give it more --seconds")
        return _audited(situation, _by_habit(search, search.found))
    search.run()
    return finish(situation, search, clock)


def begin(
    situation: Situation, settings: Settings, progress: Tell, clock: Clock, kept: Kept | None = None
) -> Search:
    """A search that starts from the habit's plan, or an earlier one kept in part. With more than one worker
    the habit's is made while it goes on."""
    cards = make_cards(situation)
    search = Search(cards, settings, clock, progress, situation.scenario.currency, kept=kept)

    def say(stage: str, message: str) -> None:
        progress(Progress(clock.spent, stage, None, None, None, search.unit, message))

    exact = settings.method == "exact"
    if exact and kept is not None:
        search.found = as_before(search, kept)
    # In a long season the habit, which tries batch after batch, takes longer than the search that beats it.
    sweeps = exact and search.found is None and is_long(cards)
    if sweeps:
        search.found = sweep(search.model, search.days, clock, search.within, partial(say, "weeks"))
    say("habit", BY_HABIT)
    beside = exact and settings.workers > 1
    share = Clock(HABIT_SHARE * clock.left, clock.stop) if sweeps and not beside else clock
    late = LATE if beside else 0.0  # who waits for it alone stops at once
    search.usual = Beside(cards, search.days, share, kept, patient=not sweeps, late=late)
    if not beside:
        search.take_usual(RANKS[0], search.reached(RANKS[0]), wait=True)
    return search


def finish(situation: Situation, search: Search, clock: Clock) -> Plan:
    """What a search found as a Plan, its days ended early, and audited."""
    assert search.found is not None
    usual = None if search.usual is None else search.usual.take()
    search.tell(Progress(clock.spent, "polish", None, None, None, "min", "ending the days early"))
    plan = read_out(
        search.cards, search.found.allocation, _polished(search, search.found), method="exact",
        status=_status(search), goals=tuple(search.goals), counts=search.days.counts(),
        seed=search.settings.seed, seconds=clock.spent,
        habit=None if usual is None else totals(_by_habit(search, usual)),
    )  # fmt: skip
    return _audited(situation, plan if search.kept is None else with_kept(plan, search.kept))


def _by_habit(search: Search, usual: Found) -> Plan:
    plan = read_out(
        search.cards, usual.allocation, usual.timetables, method="habit", status="feasible",
        goals=unproved(search.cards, usual.allocation), counts=search.days.counts(),
        seed=search.settings.seed, seconds=search.clock.spent,
    )  # fmt: skip
    return plan if search.kept is None else with_kept(plan, search.kept)


def as_before(search: Search, kept: Kept) -> Found | None:
    """The earlier plan, where it still is one on the days after those kept: a new one is no worse."""
    cards = search.cards
    allocation = whole(AllocationModel(cards), kept, max(5.0, search.clock.left))
    if allocation is None:
        return None
    timetables = [search.days.answer(search.days.work(allocation, d)).timetable for d in range(cards.days)]
    placed = tuple(timetable for timetable in timetables if timetable is not None)
    return Found(allocation, placed) if len(placed) == cards.days else None


def _polished(search: Search, found: Found) -> tuple[DayTimetable, ...]:
    """Each day once more with the earliest end, several at a time."""

    def better(day: int) -> DayTimetable:
        timetable = found.timetables[day]
        if not timetable.tasks or day in search.days.kept or search.clock.stop():
            return timetable
        given = search.settings.seconds
        if search.clock.spent > given + min(MOST_POLISH, 0.1 * given):
            return timetable
        work = search.days.work(found.allocation, day)
        return polish(search.cards, work, timetable, POLISH_EFFORT, search.settings.seed)

    with ThreadPoolExecutor(search.settings.workers) as pool:
        return tuple(pool.map(better, range(search.cards.days)))


def _status(search: Search) -> Status:
    closed = all(goal.gap <= CLOSED for goal in search.goals)
    return "optimal" if closed else "feasible"


def _audited(situation: Situation, plan: Plan) -> Plan:
    findings = audit(situation, plan)
    if findings:
        raise PlanRejected([str(finding) for finding in findings])
    return plan


def with_crates(situation: Situation, plan: Plan, stop: Stop = never) -> Plan:
    """A plan with what a crate more or less of each lot, and of each thing done with it, would change on its
    first days; as it is where its rows no longer make an allocation."""
    cards = make_cards(situation)
    allocation = whole(AllocationModel(cards), Kept(plan, cards.days), ALLOCATING)
    if allocation is None:
        return plan
    days = range(min(CRATE_DAYS, cards.days))
    return replace(plan, crates=crates(cards, allocation, days, Clock(ALLOCATING, stop)))
