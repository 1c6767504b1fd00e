"""Rules 44 and 45: when the kitchen is closed, and how a day in it ends."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.auditor.case import Case
from scheduler.auditor.course import where_of
from scheduler.auditor.finding import Finding, clock
from scheduler.plan_rows import StageKind


def nothing_goes_on_while_the_kitchen_is_closed(case: Case) -> Iterator[Finding]:
    """Rule 44."""
    for stage in case.plan.stages:
        for closure in case.farm.scenario.closures:
            meets = stage.start < closure.end and closure.start < stage.end
            if closure.day == stage.day and meets:
                found = f"{clock(stage.start)} to {clock(stage.end)}"
                allowed = f"not {clock(closure.start)} to {clock(closure.end)}, closed"
                yield Finding("kitchen-closed", where_of(stage), found, allowed)


def a_day_in_the_kitchen_ends_with_a_clean_down(case: Case) -> Iterator[Finding]:
    """Rule 45: one of its minutes, if there is any other stage, once all of them have ended."""
    minutes = case.farm.kitchen.clean_down_minutes
    for day, stages in case.stages_on.items():
        ends = [stage.end for stage in stages if stage.kind != StageKind.CLEAN_DOWN]
        cleaned = [stage for stage in stages if stage.kind == StageKind.CLEAN_DOWN]
        found = [stage.end - stage.start for stage in cleaned]
        wanted = [minutes] if minutes and ends else []
        if found != wanted:
            where = f"{day.isoformat()}, {StageKind.CLEAN_DOWN}"
            yield Finding("clean-down", where, _told(found), _told(wanted))
        for stage in cleaned:
            if stage.start < max(ends, default=stage.start):
                allowed = f"{clock(max(ends))}, when all else has ended, or later"
                yield Finding("clean-down", where_of(stage), clock(stage.start), allowed)


def _told(minutes: list[int]) -> str:
    return " and ".join(f"{each} min" for each in minutes) or "none"
