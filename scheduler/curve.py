"""The flow of a trade-off curve: situation → cards → first end → points → Plans → audit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from scheduler.domain.scenario import Situation, Slack
from scheduler.plan_rows import Plan
from scheduler.planner import EXACTLY, begin, finish, never, quiet
from scheduler.solve.curve import CurveSearch
from scheduler.solve.settings import Clock, Progress, Settings, Stop, Tell

FIRST_SHARE = 2
"""The first end solves every goal in turn, and gets the time of so many points."""
SEARCH_SHARE = 0.9
"""Of the time, what is spent on the search; in the rest the days of all points are ended early."""
NO_SLACK = Slack(0.0, 0.0, 0.0, 0.0)
AIMS = {
    "habit": "habit's plan",
    "spoiled": "least lost on fruit",
    "short": "fewest jars missing",
    "money": "least money",
    "tidiness": "fewest starts",
    "polish": "earlier finishes",
}


def make_curve(
    situation: Situation,
    points: int,
    settings: Settings = EXACTLY,
    progress: Tell = quiet,
    stop: Stop = never,
) -> tuple[Plan, ...]:
    """At most ``points`` plans to choose from, each audited, by what they lose on fruit.

    The first is the best by the goals in their order without slack, the others give up fruit or jars for
    money (see ``solve.curve``). Once ``stop`` answers True, or the seconds are over, the points so far are
    kept. Raises what ``make_plan`` raises.
    """
    clock = Clock(settings.seconds, stop)
    tell_of = _tell_of(progress, points, clock)
    strict = replace(situation, scenario=replace(situation.scenario, slack=NO_SLACK))
    search_clock = Clock(settings.seconds * SEARCH_SHARE, stop)
    own = Clock(search_clock.seconds * FIRST_SHARE / (points + 1), stop)
    first = begin(strict, settings, tell_of(1), own)
    first.run()
    found = CurveSearch(first, search_clock, tell_of).run(points)
    return tuple(finish(situation, search, clock) for search in found)


def _tell_of(progress: Tell, points: int, clock: Clock) -> Callable[[int], Tell]:
    """Tell each step with the point that it is about, and the time since the curve was begun."""

    def of(number: int) -> Tell:
        stage = f"point {min(number, points)} of {points}"

        def tell(step: Progress) -> None:
            said = f"{AIMS[step.stage]}, {step.message}"
            progress(replace(step, seconds=clock.spent, stage=stage, message=said))

        return tell

    return of
