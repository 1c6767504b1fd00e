"""What a peer is given, and what it hands back."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from scheduler.auditor import audit
from scheduler.bench.course import Course
from scheduler.bench.farms import Farm
from scheduler.bench.measure import course_of
from scheduler.cards import MONEY, Cards
from scheduler.domain.scenario import Situation
from scheduler.making import make_cards
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.plan_rows import Plan
from scheduler.planner import never
from scheduler.solve.days import Days, Found
from scheduler.solve.habit import habit
from scheduler.solve.ranks import unproved
from scheduler.solve.readout import read_out
from scheduler.solve.settings import Clock

ALLOCATION, TIMETABLE = "allocation", "timetable"


@dataclass(frozen=True)
class Case:
    """A farm to plan on, in so many seconds and with so many workers; ``plan`` is the planner's, if any."""

    farm: Farm
    situation: Situation
    seconds: float
    workers: int
    seed: int = 0
    plan: Plan | None = None

    @property
    def cards(self) -> Cards:
        return make_cards(self.situation)

    def clock(self) -> Clock:
        """A clock that starts now."""
        return Clock(self.seconds, never)


@dataclass
class Outcome:
    """How a peer did: the course of spoiled, in the farm's currency; whether its value is of a whole plan,
    timetables included; seconds in all, and by rank and level; what it counted; the findings of the auditor,
    None where there is nothing to audit."""

    course: Course
    whole: bool
    seconds: float
    spent: dict[tuple[str, str], float] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    findings: int | None = None
    plan: Plan | None = None
    remark: str = ""


Peer = Callable[[Case], Outcome]


@dataclass
class Start:
    """What every peer starts from: the habit's plan, its time counted."""

    case: Case
    cards: Cards
    model: AllocationModel
    days: Days
    clock: Clock
    course: Course
    found: Found | None

    def note(self, value: float | None, bound: float | None) -> None:
        """Take down value and bound in card units as they are now."""
        shown = [None if each is None else each / MONEY for each in (value, bound)]
        self.course.note(self.clock.spent, *shown)

    def too_late(self) -> Outcome | None:
        """The outcome where time is over before there is anything to solve."""
        return self.outcome(False, "no time left when the model was built") if self.clock.over else None

    def outcome(self, whole: bool, remark: str = "") -> Outcome:
        """The outcome as it is now."""
        return Outcome(self.course, whole, self.clock.spent, remark=remark)


def start(case: Case) -> Start:
    """Plan a case by habit, and let the clock run on."""
    clock, cards = case.clock(), case.cards
    model, days = AllocationModel(cards), Days(cards, case.workers, case.seed)
    found = habit(cards, model, days, clock)
    return Start(case, cards, model, days, clock, course_of(case.situation.scenario), found)


def audited(begun: Start, found: Found) -> tuple[Plan, int]:
    """What was found as a plan, and how many findings the auditor has."""
    plan = read_out(
        begun.cards, found.allocation, found.timetables, method="exact", status="feasible",
        goals=unproved(begun.cards, found.allocation), counts=begun.days.counts(), seed=begun.case.seed,
        seconds=begun.clock.spent,
    )  # fmt: skip
    return plan, len(audit(begun.case.situation, plan))


def placed(begun: Start, allocation: Allocation) -> Found | None:
    """An allocation with the timetables of its days, named; None if a day has none."""
    answers = [begun.days.answer(begun.days.work(allocation, d)) for d in range(begun.cards.days)]
    timetables = tuple(each.timetable for each in answers if each.timetable is not None)
    return Found(allocation, timetables) if len(timetables) == len(answers) else None


def timed() -> Callable[[], float]:
    """Seconds since now."""
    began = time.monotonic()
    return lambda: time.monotonic() - began
