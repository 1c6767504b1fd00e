"""Rules 53 to 55: who keeps off the stove or off hot sugar, and for how long somebody minds pans in a row."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from scheduler.auditor.case import Case
from scheduler.auditor.course import COOKING, Span, where_of
from scheduler.auditor.finding import Finding, clock
from scheduler.plan_rows import StageKind

HOT_SUGAR = COOKING | {StageKind.POT_UP, StageKind.STAND_BY}
"""Stages at which somebody handles hot fruit or sugar, or must be ready to."""


def no_learner_minds_a_pan(case: Case) -> Iterator[Finding]:
    """Rule 53."""
    for stage in case.plan.stages:
        for name in sorted(set(stage.people)):
            if stage.kind in COOKING and case.farm.people[name].learner:
                yield Finding("learner", where_of(stage), f"{name}, who learns it", "a trained cook")


def nobody_too_young_works_with_hot_sugar(case: Case) -> Iterator[Finding]:
    """Rule 54: from the birthday on."""
    years = case.farm.scenario.work_rules.boil_from_age
    for stage in case.plan.stages:
        for name in sorted(set(stage.people)):
            born = case.farm.people[name].born
            if born and stage.kind in HOT_SUGAR and stage.day < birthday(born, years):
                allowed = f"somebody of {years} years or more"
                yield Finding("boil-age", where_of(stage), f"{name}, who is younger", allowed)


def birthday(born: date, years: int) -> date:
    """The day on which somebody is so many years old; of 29 February 1 March where the year has none."""
    try:
        return born.replace(year=born.year + years)
    except ValueError:
        return date(born.year + years, 3, 1)


def nobody_stands_at_the_stove_for_too_long(case: Case) -> Iterator[Finding]:
    """Rule 55."""
    rules = case.farm.scenario.work_rules
    longest = rules.longest_stove_minutes
    if longest is None:
        return
    for day, stages in case.stages_on.items():
        minding = [stage for stage in stages if stage.kind in COOKING]
        for name in sorted({name for stage in minding for name in stage.people}):
            spans = [(stage.start, stage.end) for stage in minding if name in stage.people]
            for start, end in stretches(spans, rules.stove_rest_minutes):
                if end - start > longest:
                    where = f"{day.isoformat()}, {name}"
                    found = f"{end - start} min at the stove, {clock(start)} to {clock(end)}"
                    allowed = f"at most {longest} min without {rules.stove_rest_minutes} min away from it"
                    yield Finding("stove-minutes", where, found, allowed)


def stretches(spans: list[Span], rest: int) -> Iterator[Span]:
    """From the first to the last of spans that no gap of ``rest`` minutes parts."""
    ordered = sorted(spans)
    start, end = ordered[0]
    for begins, ends in ordered[1:]:
        if begins - end >= rest:
            yield start, end
            start = begins
        end = max(end, ends)
    yield start, end
