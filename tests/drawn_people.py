"""People of random kitchens: their skills, hours, shifts and rules of work."""

from __future__ import annotations

from datetime import date
from random import Random

from scheduler.domain.kitchen import Kitchen
from scheduler.domain.people import BreakRule, Person, Shift, Skill, WorkRules

NAMES = ("Aine", "Brid", "Cathal", "Donal")


def people_of(rng: Random, count: int) -> tuple[Person, ...]:
    """The first person can do everything, so that every skill is there."""
    sets = [
        frozenset(Skill),
        frozenset({Skill.PREPARE, Skill.FILL}),
        frozenset({Skill.COOK}),
        frozenset({Skill.FILL}),
        frozenset({Skill.PREPARE}),
    ]
    return tuple(
        Person(
            name=NAMES[i],
            skills=sets[0] if i == 0 else rng.choice(sets),
            pay=rng.choice((13.5, 15.0, 18.0)),
            overtime_pay=rng.choice((20.0, 24.0)),
            hours_week=rng.choice((8.0, 12.0, 20.0)) if tight(rng) else 39.0,
        )
        for i in range(count)
    )


def work_rules(rng: Random) -> WorkRules:
    return WorkRules(
        breaks=rng.choice(((), (BreakRule(270, 15), BreakRule(360, 30)))),
        longest_stretch_minutes=rng.choice((270, 300)),
        rest_minutes=rng.choice((660, 720, 840)),
    )


def shifts_of(
    rng: Random, hands: tuple[Person, ...], dates: tuple[date, ...], kitchen: Kitchen, rules: WorkRules
) -> tuple[Shift, ...]:
    """One or two shifts a person and day, some early, some late; now and then a day off."""
    shifts = []
    for day in dates:
        for person in hands:
            if rng.random() < 0.1 and person is not hands[0]:
                continue
            whole = (kitchen.open, kitchen.close)
            middle = (kitchen.open + kitchen.close) // 10 * 5
            early = (kitchen.open - rng.choice((0, 30)), middle + rng.choice((0, 60)))
            late = (middle - 60, kitchen.close + rng.choice((0, 30)))
            for start, end in rng.sample((whole, early, late), rng.randint(1, 2)):
                overtime = rng.choice((0, 0, 30, 60))
                shifts.append(Shift(person.name, day, start, end, _allowed(start, end, overtime, rules)))
    return tuple(shifts)


def _allowed(start: int, end: int, overtime: int, rules: WorkRules) -> int:
    """The overtime for which a break can still be placed within the longest stretch."""
    while overtime and end + overtime - start > _longest_day(end + overtime - start, rules):
        overtime -= 30
    return overtime


def _longest_day(present: int, rules: WorkRules) -> int:
    owed = rules.break_minutes(present)
    return 2 * rules.longest_stretch_minutes + owed if owed else 24 * 60


def tight(rng: Random) -> bool:
    return rng.random() < 0.4
