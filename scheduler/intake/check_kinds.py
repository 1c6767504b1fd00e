"""Checks of what a kind of preserve asks of recipe and kitchen: softening, straining, drip stands."""

from __future__ import annotations

from scheduler.intake import keys
from scheduler.intake.faults import FaultList, listed
from scheduler.intake.gathered import KITCHEN, RECIPES, Gathered
from scheduler.physics import solids

LEAST_BATCH_KG = 0.5
"""Less prepared fruit boils dry before it is done; common practice, no source."""

LEAST_SOFTEN_MINUTES = 5
"""Fruit that simmers for less gives little juice and pulp; common practice, no source."""

_NEAR = 1e-9


def softening(found: Gathered, faults: FaultList) -> None:
    """What is strained is softened first."""
    for recipe in found.recipes:
        row = recipe.row
        if row.value.kind.strained and row.value.soften_minutes < LEAST_SOFTEN_MINUTES:
            allowed = f"at least {LEAST_SOFTEN_MINUTES} minutes for {row.value.kind}"
            remedy = "Write how many minutes the fruit simmers before it is strained."
            faults.add(RECIPES, row.at("soften_minutes"), str(row.value.soften_minutes), allowed, remedy)


def straining(found: Gathered, faults: FaultList) -> None:
    """What is strained says how much passes, and nothing else does."""
    for recipe in found.recipes:
        row, share = recipe.row, recipe.row.value.strained_share
        if says_what_is_kept(row.value):
            continue
        kind = row.value.kind
        allowed = f"none for {kind}, which is not strained"
        remedy = "Remove it, or mend kind."
        if kind.strained:
            most = "below 1, for the bag holds pulp back" if kind.of_juice else "1"
            allowed = f"a share from 0.05 to {most}, for {kind}"
            remedy = "Weigh what passes, and divide it by the fruit and water that went in."
        seen = "nothing" if share is None else f"{share:g}"
        faults.add(RECIPES, row.at("strained_share"), seen, allowed, remedy)


def says_what_is_kept(recipe: keys.RecipeTable) -> bool:
    """Whether the strained share is one that the recipe's kind can have."""
    share = recipe.strained_share
    if not recipe.kind.strained:
        return share is None
    return share is not None and (share < 1 - _NEAR or not recipe.kind.of_juice)


def drip_stands(found: Gathered, faults: FaultList) -> None:
    """Juice has a stand to drip from, whose bag holds the least batch of every recipe."""
    juicy = [recipe.row.value for recipe in found.recipes if recipe.row.value.kind.of_juice]
    stands = found.table("drip_stands", keys.DripStandsTable)
    if not juicy or (stands is None and faults.has(KITCHEN)):  # what is wrong with the table is told already
        return
    names = listed(f"'{recipe.name}'" for recipe in juicy)
    allowed = f"at least 1 drip stand, for the juice of {names}"
    if stands is None:
        remedy = "Add a table [drip_stands] with count and litres."
        faults.add(KITCHEN, "[drip_stands]", "nothing", allowed, remedy)
    elif stands.count == 0:
        remedy = "Raise count, or remove what needs a drip stand."
        faults.add(KITCHEN, "[drip_stands], key count", "0", allowed, remedy)
    else:
        _note_small(stands, max(juicy, key=lambda recipe: recipe.water_per_kg), faults)


def _note_small(stands: keys.DripStandsTable, wettest: keys.RecipeTable, faults: FaultList) -> None:
    least = LEAST_BATCH_KG * solids.mix_litres(1.0, 0.0, wettest.water_per_kg)
    if stands.litres < least - _NEAR:
        batch = f"{LEAST_BATCH_KG:g} kg of fruit with the water of '{wettest.name}'"
        allowed = f"at least {least:g} litres, for {batch}"
        remedy = "Mend the litres, or use less water."
        faults.add(KITCHEN, "[drip_stands], key litres", f"{stands.litres:g} litres", allowed, remedy)
