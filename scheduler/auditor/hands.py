"""Rules 25 to 28: whose hands do what, that they are there, and that nobody is in two places."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from scheduler.auditor.case import Case
from scheduler.auditor.course import COOKING, Span, too_much_at_once, where_of
from scheduler.auditor.finding import Finding, clock
from scheduler.domain.people import Skill
from scheduler.plan_rows import DayShift, Stage, StageKind

ALL_OF_A_COOK = frozenset({StageKind.STRAIN, StageKind.SET_TEST})
"""What a cook does for one pan at a time, whatever other pans are on the heat."""

PUT_DOWN = frozenset({
    StageKind.PREPARE, StageKind.FREEZE, StageKind.WASH, StageKind.WASH_JARS, StageKind.LOAD_JARS,
    StageKind.LABEL, StageKind.TAKE_OUT,
})  # fmt: skip
"""What somebody who stands by may do meanwhile."""

SKILL: dict[StageKind, Skill | None] = {
    StageKind.PREPARE: Skill.PREPARE,
    StageKind.FREEZE: Skill.PREPARE,
    StageKind.SOFTEN: Skill.COOK,
    StageKind.STRAIN: Skill.COOK,
    StageKind.DISSOLVE: Skill.COOK,
    StageKind.BOIL: Skill.COOK,
    StageKind.SET_TEST: Skill.COOK,
    StageKind.REBOIL: Skill.COOK,
    StageKind.POT_UP: Skill.FILL,
    StageKind.STAND_BY: Skill.FILL,
    StageKind.WASH: None,
    StageKind.WASH_JARS: None,
    StageKind.LOAD_JARS: None,
    StageKind.LABEL: None,
    StageKind.TAKE_OUT: None,
    StageKind.CLEAN_DOWN: None,
    StageKind.STAND: None,
}


def each_stage_has_the_hands_it_needs(case: Case) -> Iterator[Finding]:
    """Rule 25: so many different people, each with the skill."""
    fillers = case.farm.kitchen.fillers
    counts = {StageKind.STAND: 0, StageKind.POT_UP: fillers, StageKind.STAND_BY: max(1, fillers - 1)}
    for stage in case.plan.stages:
        count = counts.get(stage.kind, 1)
        if len(stage.people) != count or len(set(stage.people)) != count:
            found = ", ".join(stage.people) or "nobody"
            yield Finding("hands", where_of(stage), found, f"{count} different people" if count else "nobody")
        skill = SKILL[stage.kind]
        for name in stage.people:
            if skill and skill not in case.farm.people[name].skills:
                yield Finding("hands", where_of(stage), name, f"somebody trained to {skill}")


def everybody_works_inside_a_shift(case: Case) -> Iterator[Finding]:
    """Rule 26: inside a shift in use, overtime included, and outside the break."""
    for stage in case.plan.stages:
        for name in sorted(set(stage.people)):
            shifts = [shift for shift in case.shifts_on.get(stage.day, []) if shift.person == name]
            inside = [shift for shift in shifts if shift.start <= stage.start and stage.end <= shift.leaves]
            found = f"{name} from {clock(stage.start)} to {clock(stage.end)}"
            if not inside:
                allowed = " or ".join(f"{clock(s.start)} to {clock(s.leaves)}" for s in shifts)
                yield Finding("presence", where_of(stage), found, allowed or "a shift in use")
            elif all(_meets(stage, pause(shift)) for shift in inside):
                begin, end = pause(inside[0])
                yield Finding("presence", where_of(stage), found, f"break {clock(begin)} to {clock(end)}")


def pause(shift: DayShift) -> Span:
    """The break of a shift; an empty span where there is none."""
    if shift.break_start is None:
        return (0, 0)
    return (shift.break_start, shift.break_start + shift.break_minutes)


def _meets(stage: Stage, span: Span) -> bool:
    return stage.start < span[1] and span[0] < stage.end


def nobody_is_in_two_places(case: Case) -> Iterator[Finding]:
    """Rule 27: only pans that cook may be minded together, pans_per_cook at most, one strained or in test.

    Who stands by may do what can be put down, and nothing else.
    """
    most = case.farm.kitchen.pans_per_cook
    for day, stages in case.stages_on.items():
        for name in sorted({name for stage in stages for name in stage.people}):
            own = [stage for stage in stages if name in stage.people]
            doing = [stage for stage in own if stage.kind != StageKind.STAND_BY]
            called = [stage for stage in own if stage.kind not in PUT_DOWN]
            where = f"{day.isoformat()} {{}}, {name}"
            yield from _too_much(doing, most, where)
            yield from (
                finding for finding in _too_much(called, most, where) if StageKind.STAND_BY in finding.found
            )
            tests = (((s.start, s.end), 1) for s in own if s.kind in ALL_OF_A_COOK)
            for moment, count in too_much_at_once(tests, 1):
                where = f"{day.isoformat()} {clock(moment)}, {name}"
                found = f"{count} pans strained or in test"
                yield Finding("two-places", where, found, "one pan at a time strained or in test")


def _too_much(own: list[Stage], most: int, where: str) -> Iterator[Finding]:
    loads = (((stage.start, stage.end), _share(stage, most)) for stage in own)
    for moment, _ in too_much_at_once(loads, most):
        at_once = [stage for stage in own if stage.start <= moment < stage.end]
        found = " and ".join(f"{stage.kind} {stage.batch}".strip() for stage in at_once)
        yield Finding("two-places", where.format(clock(moment)), found, f"one thing, or {most} pans minded")


def _share(stage: Stage, pans_per_cook: int) -> int:
    """What a stage takes of a person, of whom there are ``pans_per_cook`` parts."""
    return 1 if stage.kind in COOKING else pans_per_cook


def enough_people_are_there_while_pans_boil(case: Case) -> Iterator[Finding]:
    """Rules 28 and 53: whenever a pan cooks; learners do not count."""
    needed, people = case.farm.kitchen.people_while_boiling, case.farm.people
    for day, stages in case.stages_on.items():
        hot = [(stage.start, stage.end) for stage in stages if stage.kind in COOKING]
        for moment in _moments(case, day, hot):
            in_use = [shift for shift in case.shifts_on.get(day, []) if not people[shift.person].learner]
            there = {shift.person for shift in in_use if _is_there(shift, moment)}
            if len(there) < needed and any(start <= moment < end for start, end in hot):
                found = ", ".join(sorted(there)) or "nobody"
                where = f"{day.isoformat()} {clock(moment)}"
                yield Finding("people-while-boiling", where, found, f"at least {needed} people")


def _moments(case: Case, day: date, hot: list[Span]) -> list[int]:
    """When a pan comes on, and when somebody goes: between these the people there can only grow."""
    moments = {start for start, _ in hot}
    for shift in case.shifts_on.get(day, []):
        moments |= {shift.leaves, pause(shift)[0]}
    return sorted(moments)


def _is_there(shift: DayShift, moment: int) -> bool:
    begin, end = pause(shift)
    return shift.start <= moment < shift.leaves and not begin <= moment < end
