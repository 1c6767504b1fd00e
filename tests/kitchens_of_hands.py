"""Random kitchens with learners, people too young for hot sugar, short shifts and limits at the stove."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from random import Random
from typing import Any

from scheduler.domain.people import Person
from scheduler.domain.scenario import Situation
from tests.kitchens import random_kitchen

YEARS = 16


def kitchen_of_hands(seed: int, *, stove: bool = True, **sizes: Any) -> Situation:
    """A random kitchen whose people differ in more than skills; sizes as of ``random_kitchen``.

    ``stove`` says whether minutes in a row at the stove are limited.
    """
    rng, situation = Random(f"hands {seed}"), random_kitchen(seed, **sizes)
    scenario = situation.scenario
    rules = replace(
        scenario.work_rules,
        least_paid_minutes=rng.choice((0, 180, 300)),
        boil_from_age=rng.choice((0, YEARS, YEARS)),
        longest_stove_minutes=rng.choice((35, 50, 65, 90)) if stove else None,
        stove_rest_minutes=rng.choice((5, 15, 30)),
    )
    people = tuple(_person(rng, person, situation, i) for i, person in enumerate(scenario.people))
    return replace(situation, scenario=replace(scenario, work_rules=rules, people=people))


def _person(rng: Random, person: Person, situation: Situation, i: int) -> Person:
    """Most learn or are young now and then; of the first, who can do everything, the others live."""
    birthday = situation.as_of + timedelta(days=rng.choice((-400, 0, 1, 2, 400)))
    return replace(
        person,
        learner=rng.random() < (0.1 if i == 0 else 0.4),
        born=rng.choice((None, birthday.replace(year=birthday.year - YEARS))) if i else None,
    )
