"""Farms with something out of use, held or ruled out, in a kitchen of two equal pans and rings."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.people import Skill
from scheduler.domain.scenario import Scenario
from tests.property.without import Farming, changed

PANS, RINGS = ("left pan", "right pan"), ("left ring", "right ring")


def twins(farm: Scenario) -> Scenario:
    """Pans and rings in pairs, and hands enough for both pans at once."""
    kitchen = changed(
        "kitchen",
        pans=lambda pans: tuple(replace(pans[0], name=name) for name in PANS),
        rings=lambda rings: tuple(replace(rings[0], name=name) for name in RINGS),
        heatproof_places=3,
        pans_per_cook=3,
        people_while_boiling=1,
        fillers=1,
        jars_per_filler_hour=240.0,
    )
    quick = changed("fruits", prepare_kg_per_hour=60.0)
    return changed("people", skills=frozenset(Skill))(quick(kitchen(farm)))


def holding(*rows: tuple[str, str, int | None]) -> Farming:
    """A batch of the first recipe on the first day for each row: its pan, ring and minutes after opening."""

    def change(farm: Scenario) -> Scenario:
        farm, opens = twins(farm), farm.kitchen.open
        day, recipe = farm.start, farm.recipes[0].name
        batches = (
            HeldBatch(day, recipe, pan, ring, None if start is None else opens + start)
            for pan, ring, start in rows
        )
        return replace(farm, held=tuple(batches))

    return change


def ruled_out(pan: str, ring: str) -> Farming:
    """All recipes are ruled out of a pan, a ring, or both together, on every day."""

    def change(farm: Scenario) -> Scenario:
        farm = twins(farm)
        rows = (
            HeldBatch(day, recipe.name, pan, ring, hold=False)
            for day in farm.dates()
            for recipe in farm.recipes
        )
        return replace(farm, held=tuple(rows))

    return change


def first_pan_out(farm: Scenario) -> Scenario:
    """The first pan is out of use on every day."""
    name = farm.kitchen.pans[0].name
    return replace(farm, out=tuple(OutOfUse(day, name, "", "cracked") for day in farm.dates()))


def nothing_given(farm: Scenario) -> Scenario:
    return replace(farm, out=(), held=())
