"""Checks of jars: sizes of a recipe, ways to fill them, jars on hand, racks and shelves."""

from __future__ import annotations

from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import RECIPES, Gathered, Recipe


def jars(found: Gathered, faults: FaultList) -> None:
    """Jars on hand of all sizes are within the most that can be sold; jar and lid are two goods."""
    for recipe in found.recipes:
        row = recipe.row
        on_hand = _on_hand(recipe)
        if on_hand > row.value.most_jars:
            sizes = " in all sizes" if recipe.sizes else ""
            allowed = f"at most most_jars ({row.value.most_jars}), which counts jars on hand{sizes}"
            faults.add(RECIPES, row.at("jars_on_hand"), str(on_hand), allowed, "Raise most_jars.")
        named = [(row.at("lid"), row.value.jar, row.value.lid)]
        named += [(size.at("lid"), size.value.jar, size.value.lid) for size in recipe.sizes]
        for where, jar, lid in named:
            if jar == lid:
                remedy = "Name the lid as a good of its own in store.csv."
                faults.add(RECIPES, where, shown(lid), "another good than the jar", remedy)


def sizes(found: Gathered, faults: FaultList) -> None:
    """Sizes of a recipe are different jars, and each way to fill has a share for each of them."""
    for recipe in found.recipes:
        known = [recipe.row.value.jar]
        for size in recipe.sizes:
            if size.value.jar in known:
                remedy = "Name each size's jar as a good of its own, or remove the size."
                allowed = "another jar than those of the sizes before it"
                faults.add(RECIPES, size.at("jar"), shown(size.value.jar), allowed, remedy)
            known.append(size.value.jar)
        for way in recipe.row.value.fill_shares or ():
            if len(way) != len(known):
                shares = "1 share" if len(known) == 1 else f"{len(known)} shares"
                allowed = f"{shares} in each, for {listed(known)}"
                remedy = "Give one share a size, in the order in which they are filled; 0 for none."
                faults.add(RECIPES, recipe.row.at("fill_shares"), shown(list(way)), allowed, remedy)


def asked_for(found: Gathered, faults: FaultList) -> None:
    """Orders and the shop ask for sizes that their recipe is potted in."""
    known = {
        recipe.row.value.name: [recipe.row.value.jar, *(size.value.jar for size in recipe.sizes)]
        for recipe in found.recipes
    }
    asking = [(row.file, row.at("jar"), row.value.recipe, row.value.jar) for row in found.orders]
    asking += [(row.file, row.at("jar"), row.value.recipe, row.value.jar) for row in found.shop]
    for file, where, recipe, jar in asking:
        mine = known.get(recipe)
        if mine is not None and jar is not None and jar not in mine:
            remedy = did_you_mean(jar, mine, f"Choose one, or add a [[recipe.size]] to {recipe}.")
            faults.add(file, where, shown(jar), f"a jar of {recipe}: {listed(mine)}", remedy)


def room(found: Gathered, faults: FaultList) -> None:
    """Shelves hold what is on hand; jars that cool on racks overnight are not shipped on the same day."""
    potting, habits = found.tables.get("potting"), found.tables.get("habits")
    if potting is None:
        return
    there, shelves = sum(map(_on_hand, found.recipes)), potting.value.shelf_jars
    if shelves is not None and there > shelves:
        allowed = f"at least the {there} jars on hand in recipes.toml"
        remedy = "Count the jars again, or the room for them."
        faults.add(potting.file, potting.at("shelf_jars"), str(shelves), allowed, remedy)
    if potting.value.rack_jars is not None and habits is not None and habits.value.settle_days == 0:
        allowed = "at least 1, as jars cool on the racks until the next morning"
        remedy = "Raise settle_days, or leave out rack_jars."
        faults.add(habits.file, habits.at("settle_days"), "0", allowed, remedy)


def _on_hand(recipe: Recipe) -> int:
    on_hand: int = recipe.row.value.jars_on_hand
    return on_hand + sum(size.value.jars_on_hand for size in recipe.sizes)
