"""The rules of work in words: those of a scenario as a table, and what they keep from tired hands."""

from __future__ import annotations

import pandas as pd

from scheduler.domain.scenario import Scenario


def rules_of_work(scenario: Scenario) -> pd.DataFrame:
    """A row for each rule in force: ``rule`` and ``figure``."""
    rules = scenario.work_rules
    rows = [
        (f"break where somebody is in for more than {rule.after_minutes} min", f"{rule.minutes} min")
        for rule in rules.breaks
    ]
    rows.append(("longest work without a break", f"{rules.longest_stretch_minutes} min"))
    rows.append(("rest from one working day to the next", f"{rules.rest_minutes / 60:g} h"))
    if rules.least_paid_minutes:
        rows.append(("least that a shift is paid for", f"{rules.least_paid_minutes} min"))
    if rules.boil_from_age:
        rows.append(("age for work with hot sugar", f"{rules.boil_from_age} years"))
    if rules.longest_stove_minutes is not None:
        rows.append(("longest at the stove in a row", f"{rules.longest_stove_minutes} min"))
        rows.append(("least time away from it in between", f"{rules.stove_rest_minutes} min"))
    return pd.DataFrame(rows, columns=["rule", "figure"])


def care_of_hands(scenario: Scenario) -> list[str]:
    """What a plan keeps in mind of people's strength and training, a sentence each."""
    rules = scenario.work_rules
    said = [
        "Breaks are part of the plan. Nobody minds more pans than the kitchen allows, and "
        "sugar that boils is never left alone."
    ]
    if rules.longest_stove_minutes is not None:
        said.append(
            f"Nobody minds pans for more than {rules.longest_stove_minutes} minutes in a row; a rest is "
            f"{rules.stove_rest_minutes} minutes away from them."
        )
    learners = [person.name for person in scenario.people if person.learner]
    if learners:
        said.append(f"Learners mind no pan and do not count beside one: {', '.join(learners)}.")
    if rules.boil_from_age:
        said.append(f"Nobody younger than {rules.boil_from_age} cooks, pots up or stands by.")
    return said
