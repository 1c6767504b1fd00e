"""Checks of who may do what, and of rules of work that contradict themselves or the recipes."""

from __future__ import annotations

from scheduler.domain.people import Skill
from scheduler.intake import keys, rows
from scheduler.intake.build import person, work_rules
from scheduler.intake.faults import FaultList, listed
from scheduler.intake.gathered import KITCHEN, Gathered
from scheduler.intake.tables import Row


def last_skills(found: Gathered, row: Row[rows.PersonRow]) -> frozenset[Skill]:
    """What somebody may do on the last planned day, on which they are the oldest."""
    rules, horizon = work_rules(found), found.horizon()
    return rules.skills_on(person(row.value), horizon[1]) if rules and horizon else row.value.skills


def birthdays(found: Gathered, faults: FaultList) -> None:
    """Everybody is born before the first planned day; an age that counts is known of somebody."""
    horizon = found.horizon()
    for row in found.people:
        if row.value.born and horizon and row.value.born >= horizon[0]:
            allowed = f"a day before start ({horizon[0].isoformat()})"
            faults.add(row.file, row.at("born"), f"'{row.value.born.isoformat()}'", allowed, "Mend the date.")
    years = found.work.value.boil_from_age if found.work else 0
    if years and not faults.has("people.csv") and not any(row.value.born for row in found.people):
        remedy = "Fill column born in people.csv for all who may be younger, or leave the key out."
        faults.add(
            KITCHEN, "[work], key boil_from_age", f"{years}, and nobody's age", "a date of birth", remedy
        )


def something_to_do(found: Gathered, faults: FaultList) -> None:
    """Whoever offers shifts has a skill left on one of these days: learners do not cook, nor do the young."""
    rules = work_rules(found)
    for row in found.people if rules else ():
        offered = {shift.value.date for shift in found.shifts if shift.value.person == row.value.person}
        if rules and offered and not any(rules.skills_on(person(row.value), day) for day in offered):
            why = "a learner" if row.value.learner else f"somebody younger than {rules.boil_from_age}"
            allowed = "a skill that counts on some day with a shift of theirs"
            remedy = (
                "Add prepare (a learner may fill, too), mend learner or born, or take their shifts out of "
                "shifts.csv."
            )
            faults.add(
                row.file, row.at("skills"), f"{listed(sorted(row.value.skills))} of {why}", allowed, remedy
            )


def breaks_within_their_time(found: Gathered, faults: FaultList) -> None:
    """A break is no longer than the presence after which it is owed."""
    for row in found.breaks:
        if row.value.minutes > row.value.after_minutes:
            allowed = f"at most after_minutes ({row.value.after_minutes})"
            remedy = "Mend one of the two: nobody can be on a break for longer than they are there."
            faults.add(row.file, row.at("minutes"), str(row.value.minutes), allowed, remedy)


def minutes_at_the_stove(found: Gathered, faults: FaultList) -> None:
    """No stage that one person minds to its end is longer by itself than anybody may mind pans."""
    longest = found.work.value.longest_stove_minutes if found.work else None
    habits = found.table("habits", keys.HabitsTable)
    if longest is None or habits is None:
        return
    stages = [(habits.set_test_minutes, "a set test"), (habits.reboil_minutes, "a re-boil")]
    for recipe in found.recipes:
        made = recipe.row.value
        stages += [(made.soften_minutes, f"softening {made.name}"), (made.dissolve_minutes, made.name)]
    most, what = max(stages, key=lambda stage: stage[0])
    if most > longest:
        where, allowed = "[work], key longest_stove_minutes", f"at least {most}, which {what} takes"
        remedy = "Raise it, or leave the recipe out: one person minds a stage to its end."
        faults.add(KITCHEN, where, str(longest), allowed, remedy)
