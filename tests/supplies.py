"""Random kitchens whose electricity and gas are limited, the same for the same seed.

A draw of its own, so that the kitchens without limits stay as they are.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

from scheduler.domain.kitchen import Heat, Kitchen, Supply
from scheduler.domain.people import Skill
from scheduler.domain.scenario import Situation


def with_supply(seed: int, situation: Situation) -> Situation:
    """The same kitchen with an oven that draws, and supplies that feed one of its rings, not always all."""
    rng, scenario = Random(f"supply {seed}"), situation.scenario
    oven = replace(
        scenario.kitchen.oven,
        kw=rng.choice((0.0, 1.5, 2.5)),
        heat=rng.choice((Heat.GAS, Heat.ELECTRIC)),
    )
    kitchen = replace(scenario.kitchen, oven=oven)
    other = rng.choice((0.0, 0.4))
    supply = Supply(
        electric_kw=_limit(rng, kitchen, of_gas=False, other=other),
        gas_kw=_limit(rng, kitchen, of_gas=True, other=0.0),
        other_electric_kw=other,
        gas_kg=rng.choice((None, 0.2, 0.5, 1.0, 2.0)),
    )
    return replace(situation, scenario=replace(scenario, kitchen=replace(kitchen, supply=supply)))


def with_hands_enough(situation: Situation) -> Situation:
    """The same kitchen where everybody can do everything quickly, so that pans and power are short."""
    scenario = situation.scenario
    kitchen = replace(
        scenario.kitchen,
        heatproof_places=3,
        pans_per_cook=3,
        people_while_boiling=1,
        fillers=1,
        jars_per_filler_hour=240.0,
        keep_hot=True,
    )
    people = tuple(replace(person, skills=frozenset(Skill)) for person in scenario.people)
    fruits = tuple(replace(fruit, prepare_kg_per_hour=60.0) for fruit in scenario.fruits)
    return replace(situation, scenario=replace(scenario, kitchen=kitchen, people=people, fruits=fruits))


def _limit(rng: Random, kitchen: Kitchen, of_gas: bool, other: float) -> float | None:
    """Power for the weakest or the strongest ring beside oven and others, and now and then for one more."""
    rings = [ring.kw for ring in kitchen.rings if (ring.heat is Heat.GAS) == of_gas]
    one, more = rng.choice((min, max)), rng.choice((0.0, 0.0, 0.5, 2.0, 4.0))
    oven = kitchen.oven.kw if (kitchen.oven.heat is Heat.GAS) == of_gas else 0.0
    return round(one(rings) + oven + other + more, 3) if rings else None
