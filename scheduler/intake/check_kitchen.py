"""Checks of kitchen.toml as a whole: hours, pans and rings, potting, breaks, hands."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from scheduler.domain.people import Skill
from scheduler.intake import keys
from scheduler.intake.check_hands import last_skills
from scheduler.intake.faults import FaultList, shown
from scheduler.intake.gathered import KITCHEN, Gathered
from scheduler.intake.tables import Row

SAFE_POTTING_C = 85.0
"""At or above it a hot fill needs no further process. Source: Practical Action, Technical Brief
Jams, jellies and marmalades (about 85 °C for glass)."""


def note_repeats(rows: Sequence[Row[Any]], key: str, faults: FaultList, remedy: str) -> None:
    """Note every row whose ``key`` an earlier row has."""
    first: dict[str, str] = {}
    for row in rows:
        name = getattr(row.value, key)
        if name in first:
            found = f"{shown(name)}, which {first[name]} has too"
            faults.add(row.file, row.at(key), found, f"each {key} once", remedy)
        first.setdefault(name, row.where)


def hours(found: Gathered, faults: FaultList) -> None:
    """The kitchen closes after it opens."""
    kitchen = found.table("kitchen", keys.KitchenTable)
    if kitchen and kitchen.close <= kitchen.open:
        allowed = f"a time after opening ({clock(kitchen.open)})"
        faults.add(
            KITCHEN,
            "[kitchen], key close",
            shown(clock(kitchen.close)),
            allowed,
            "Mend one of the two times.",
        )


def names(found: Gathered, faults: FaultList) -> None:
    """Pans and rings have names of their own."""
    note_repeats(found.pans, "name", faults, "Rename one of the pans, as in 'small steel 2'.")
    note_repeats(found.rings, "name", faults, "Rename one of the rings.")


def pans_fit_rings(found: Gathered, faults: FaultList) -> None:
    """Every pan fits a ring."""
    largest = max((ring.value.largest_pan_cm for ring in found.rings), default=0.0)
    for pan in found.pans:
        if found.rings and pan.value.diameter_cm > largest:
            found_text = f"{pan.value.diameter_cm:g} cm"
            remedy = "Mend the diameter or a ring's largest_pan_cm, or remove the pan."
            faults.add(
                KITCHEN, pan.at("diameter_cm"), found_text, f"at most {largest:g} cm, the widest ring", remedy
            )


def potting_limit(found: Gathered, faults: FaultList) -> None:
    """Below 85 °C a named, approved process is needed (below 70 °C is refused when the key is read)."""
    potting = found.table("potting", keys.PottingTable)
    if potting and potting.potting_limit_c < SAFE_POTTING_C and not potting.potting_process:
        remedy = (
            "Raise the limit to 85, or name in potting_process the written process that your food authority "
            "or a licensed process authority has approved."
        )
        allowed = f"{SAFE_POTTING_C:g} °C or more without a named process"
        faults.add(
            KITCHEN, "[potting], key potting_limit_c", f"{potting.potting_limit_c:g} °C", allowed, remedy
        )


def break_rules(found: Gathered, faults: FaultList) -> None:
    """A longer day never owes a shorter break."""
    ordered = sorted(found.breaks, key=lambda row: row.value.after_minutes)
    note_repeats(found.breaks, "after_minutes", faults, "Remove one of the two rules.")
    for short, long in pairwise(ordered):
        if long.value.minutes < short.value.minutes:
            allowed = f"at least {short.value.minutes}, the break after {short.value.after_minutes} minutes"
            faults.add(
                KITCHEN, long.at("minutes"), str(long.value.minutes), allowed, "Mend one of the two rules."
            )


def hands(found: Gathered, faults: FaultList) -> None:
    """There are people enough, with the skills, for the kitchen's own rules."""
    if faults.has("people.csv") or not found.people:
        return
    skills = [last_skills(found, row) for row in found.people]
    able = {skill: sum(skill in each for each in skills) for skill in Skill}
    trained = sum(not row.value.learner for row in found.people)
    potting, habits = found.table("potting", keys.PottingTable), found.table("habits", keys.HabitsTable)
    if potting and potting.fillers > able[Skill.FILL]:
        allowed = f"at most {able[Skill.FILL]}, the people with the skill fill who may use it"
        remedy = "Lower fillers, or give more people the skill fill in people.csv."
        faults.add(KITCHEN, "[potting], key fillers", str(potting.fillers), allowed, remedy)
    if habits and habits.people_while_boiling > trained:
        found_text, allowed = (
            str(habits.people_while_boiling),
            f"at most {trained}, the people there are (learners do not count)",
        )
        faults.add(
            KITCHEN, "[habits], key people_while_boiling", found_text, allowed, "Add people to people.csv."
        )
    if not able[Skill.COOK]:
        remedy = "Add cook to the skills of whoever is trained for it and old enough."
        faults.add("people.csv", "column skills", "nobody who may cook", "at least one trained cook", remedy)


def clock(minutes: int) -> str:
    """Minutes from midnight as HH:MM."""
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
