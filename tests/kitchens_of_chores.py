"""Random kitchens with labels and fruit to take out of the freezer; the rest of them stays as it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from random import Random
from typing import Any

from scheduler.domain.fruit import Grade, Lot, Place
from scheduler.domain.kitchen import Labels, Thaw
from scheduler.domain.scenario import Situation
from tests.kitchens import kg, random_kitchen


def with_chores(seed: int, situation: Situation) -> Situation:
    """The same farm with labels as a rule, and fruit that thaws overnight and takes time to take out."""
    rng, scenario = Random(f"chores {seed}"), situation.scenario
    kitchen = replace(
        scenario.kitchen,
        labels=Labels(rng.choice((12.5, 25.0, 60.0)), rng.choice((1, 1, 2, 7)))
        if rng.random() < 0.8
        else None,
        thaw=Thaw.OVERNIGHT,
        take_out_minutes=rng.choice((0, 12, 30, 45)),
    )
    return replace(situation, scenario=replace(scenario, kitchen=kitchen))


def drawing_down(seed: int, **sizes: Any) -> Situation:
    """A random kitchen that cooks from the freezer alone, by dates that are near, with people on some days
    only and labels or fruit to take out; sizes as of ``random_kitchen``.
    """
    rng, situation = Random(f"drawing down {seed}"), random_kitchen(seed, **sizes)
    scenario = situation.scenario
    dates = scenario.dates()
    lots = tuple(
        Lot(f"{fruit.name} {n}", fruit.name, Grade.KITCHEN, kg(rng.uniform(3, 9)), Place.FREEZER, born, day)
        for fruit in scenario.fruits
        for n, day in enumerate((dates[1], dates[-1]))
        for born in [day - timedelta(days=200)]
    )
    freezer = replace(scenario.kitchen.freezer, kg=200.0, litres=1000.0)
    kitchen = replace(scenario.kitchen, freezer=freezer, older_share=1.0)
    idle = rng.choice((None, *dates[:-1]))
    frozen = replace(
        scenario,
        kitchen=kitchen,
        lots=lots,
        picks=(),
        punnets=(),
        recipes=tuple(replace(recipe, frozen_share=1.0) for recipe in scenario.recipes),
        shifts=tuple(shift for shift in scenario.shifts if shift.day != idle),
    )
    return with_chores(seed, replace(situation, scenario=frozen))
