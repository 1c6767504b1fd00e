"""Random kitchens with pans and rings out of use, batches held and ruled out; the rest stays as it was.

A draw of its own, so that the kitchens with nothing given stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from random import Random

from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.scenario import Scenario, Situation
from tests.oracle.day_limits import modes


def with_given(seed: int, situation: Situation) -> Situation:
    """The same farm where now and then something is out of use, held or ruled out."""
    rng, scenario = Random(f"held {seed}"), situation.scenario
    out = tuple(row for day in scenario.dates() for row in _out(rng, scenario.kitchen, day))
    held = tuple(row for day in scenario.dates() for row in _rows(rng, scenario, day))
    return replace(situation, scenario=replace(scenario, out=out, held=held))


def with_twins(seed: int, situation: Situation) -> Situation:
    """The same farm where mostly all pans are equal, or all rings."""
    rng, scenario = Random(f"twins {seed}"), situation.scenario
    pans, rings = scenario.kitchen.pans, scenario.kitchen.rings
    if rng.random() < 0.7:
        pans = tuple(replace(pans[0], name=pan.name) for pan in pans)
    if rng.random() < 0.7:
        rings = tuple(replace(rings[0], name=ring.name) for ring in rings)
    return replace(
        situation, scenario=replace(scenario, kitchen=replace(scenario.kitchen, pans=pans, rings=rings))
    )


def name_of(rng: Random, names: list[str], chance: float) -> str:
    """One of the names, or with the other chance none."""
    return rng.choice(names) if rng.random() < chance else ""


def _out(rng: Random, kitchen: Kitchen, day: date) -> Iterator[OutOfUse]:
    if rng.random() < 0.2:
        yield OutOfUse(day, rng.choice(kitchen.pans).name, "", "cracked")
    if rng.random() < 0.2:
        yield OutOfUse(day, "", rng.choice(kitchen.rings).name, "")


def _rows(rng: Random, scenario: Scenario, day: date) -> Iterator[HeldBatch]:
    """Up to two held batches, some with their time or size, and now and then one ruled out."""
    cards, kitchen = modes(scenario), scenario.kitchen
    pans, rings = [pan.name for pan in kitchen.pans], [ring.name for ring in kitchen.rings]
    for _ in range(rng.choice((0, 0, 1, 2)) if cards else 0):
        card = rng.choice(cards)
        start = kitchen.open + 5 * rng.randint(6, 36) if rng.random() < 0.3 else None
        kg = card.units / 10 if rng.random() < 0.3 else None
        yield HeldBatch(day, card.recipe, name_of(rng, pans, 0.3), name_of(rng, rings, 0.3), start, kg)
    if rng.random() < 0.25:
        recipe = rng.choice(scenario.recipes).name
        yield HeldBatch(day, recipe, name_of(rng, pans, 0.6), name_of(rng, rings, 0.6), hold=False)
