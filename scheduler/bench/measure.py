"""Planning a farm of the benchmarks while looking at the clock."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from scheduler.bench.course import NEAR, Course
from scheduler.bench.farms import SIZES, Farm, read
from scheduler.domain.scenario import Scenario
from scheduler.errors import NoPlanInTime, PlanRejected
from scheduler.plan_rows import Plan, totals
from scheduler.planner import Progress, Settings, make_plan
from scheduler.views.tables import lost

GLUT = 2.0
"""How many times the kitchen's capacity the highest week of a farm brings on a user's own machine."""


@dataclass(frozen=True, slots=True)
class Measured:
    """One farm planned: seconds until there was a plan, one within 1 % of the bound of spoiled, a proof that
    none is better, each None where that was not reached; the gap at the end; kg lost by the plan and by the
    habit, None without a plan; and how many findings the auditor had."""

    farm: Farm
    first_s: float | None
    one_percent_s: float | None
    proof_s: float | None
    gap: float | None
    spoiled_kg: float | None
    habit_spoiled_kg: float | None
    findings: int


@dataclass
class Watch:
    """Listens to a search, for the course of its first goal; ``left`` is when it went on to the next."""

    course: Course
    left: float | None = None

    def tell(self, progress: Progress) -> None:
        """Take down where the search stands."""
        if progress.stage == "spoiled":
            self.course.note(progress.seconds, progress.value, progress.bound)
        elif progress.stage != "habit" and self.left is None:
            self.left = progress.seconds

    def end(self, plan: Plan) -> None:
        """Take down what the first goal came to when the search left it."""
        goal = plan.goals[0]
        self.course.note(plan.seconds if self.left is None else self.left, goal.best, goal.bound)


def course_of(scenario: Scenario) -> Course:
    """An empty course of what is lost; gaps are measured against the value of 1 kg at least."""
    return Course(min(fruit.kitchen_value for fruit in scenario.fruits))


def farms(sizes: Sequence[str], seeds: int) -> list[Farm]:
    """So many farms of each size."""
    return [Farm(size, GLUT, seed) for size in sizes for seed in range(seeds)]


@dataclass
class Bench:
    """Farms measured one after another, until somebody stops; ``done`` are those measured so far."""

    settings: Settings
    tell: Callable[[Progress], None]
    stop: Callable[[], bool]
    done: list[Measured] = field(default_factory=list)

    def run(self, farms: Iterable[Farm]) -> None:
        """Measure farms. A larger size is not tried once a size had farms without a plan."""
        lost_on: set[str] = set()
        for farm in farms:
            if self.stop() or lost_on - {farm.size}:
                break
            found = self._measure(farm)
            if found.gap is None and self.stop():
                break
            self.done.append(found)
            if found.gap is None:
                lost_on.add(farm.size)

    def _measure(self, farm: Farm) -> Measured:
        situation = read(farm.name, farm.texts())
        watch = Watch(course_of(situation.scenario))

        def tell(progress: Progress) -> None:
            watch.tell(progress)
            self.tell(replace(progress, stage=f"{farm.name}, {progress.stage}"))

        plan, findings = None, 0
        try:
            plan = make_plan(situation, self.settings, tell, self.stop)
            watch.end(plan)
        except NoPlanInTime:
            pass
        except PlanRejected as rejected:
            findings = len(rejected.findings)
        return _measured(farm, watch.course, plan, findings)


def _measured(farm: Farm, course: Course, plan: Plan | None, findings: int) -> Measured:
    return Measured(
        farm=farm,
        first_s=course.first,
        one_percent_s=course.reached(NEAR),
        proof_s=course.proof,
        gap=None if plan is None else plan.goals[0].gap,
        spoiled_kg=None if plan is None else lost(totals(plan)),
        habit_spoiled_kg=None if plan is None or plan.habit is None else lost(plan.habit),
        findings=findings,
    )


def handled(done: Sequence[Measured], gap: float) -> str | None:
    """The largest size whose farms all have a plan within a gap; None if there is none."""
    fit = [
        size
        for size in SIZES
        if (mine := [each for each in done if each.farm.size == size])
        and all(each.gap is not None and each.gap <= gap and not each.findings for each in mine)
    ]
    return fit[-1] if fit else None
