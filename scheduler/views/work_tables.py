"""The rules of work in words: those of a scenario as a table, and what they keep from tired hands."""

from __future__ import annotations

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import say
from scheduler.views import words


def rules_of_work(scenario: Scenario) -> pd.DataFrame:
    """A row for each rule in force: ``rule`` and ``figure``."""
    rules = scenario.work_rules
    rows = [
        (
            say(
                "break where somebody is in for more than {after_minutes} min",
                after_minutes=rule.after_minutes,
            ),
            f"{rule.minutes} min",
        )
        for rule in rules.breaks
    ]
    rows.append(
        (
            say("longest work without a break"),
            f"{rules.longest_stretch_minutes} min",
        )
    )
    rows.append(
        (
            say("rest from one working day to the next"),
            f"{words.general(rules.rest_minutes / 60)} h",
        )
    )
    if rules.least_paid_minutes:
        rows.append(
            (
                say("least that a shift is paid for"),
                f"{rules.least_paid_minutes} min",
            )
        )
    if rules.boil_from_age:
        rows.append(
            (
                say("age for work with hot sugar"),
                say("{boil_from_age} years", boil_from_age=rules.boil_from_age),
            )
        )
    if rules.longest_stove_minutes is not None:
        rows.append(
            (
                say("longest at the stove in a row"),
                f"{rules.longest_stove_minutes} min",
            )
        )
        rows.append(
            (
                say("least time away from it in between"),
                f"{rules.stove_rest_minutes} min",
            )
        )
    return pd.DataFrame(rows, columns=[say("rule"), say("figure")])


def care_of_hands(scenario: Scenario) -> list[str]:
    """What a plan keeps in mind of people's strength and training, a sentence each."""
    rules = scenario.work_rules
    said = [
        say(
            "Breaks are part of the plan. Nobody minds more pans than the kitchen allows, and "
            "sugar that boils is never left alone."
        )
    ]
    if rules.longest_stove_minutes is not None:
        said.append(
            say(
                "Nobody minds pans for more than {longest_stove_minutes} minutes in a row; a rest is "
                "{stove_rest_minutes} minutes away from them.",
                longest_stove_minutes=rules.longest_stove_minutes,
                stove_rest_minutes=rules.stove_rest_minutes,
            )
        )
    learners = [person.name for person in scenario.people if person.learner]
    if learners:
        said.append(
            say("Learners mind no pan and do not count beside one: {learners}.", learners=", ".join(learners))
        )
    if rules.boil_from_age:
        said.append(
            say(
                "Nobody younger than {boil_from_age} cooks, pots up or stands by.",
                boil_from_age=rules.boil_from_age,
            )
        )
    return said
