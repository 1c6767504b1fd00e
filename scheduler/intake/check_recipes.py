"""Checks of recipes against fruits, store and pans, and the lines that food safety draws."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.trade import LEMONS, PECTIN, SUGAR
from scheduler.intake import keys
from scheduler.intake.check_fruit import note_unknown
from scheduler.intake.check_kitchen import note_repeats
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import RECIPES, Gathered, Mix
from scheduler.law.composition import LOWER_SUGAR
from scheduler.law.safety import HAZARD_PH, PLAN_PH
from scheduler.physics import solids

LEAST_BATCH_KG = 0.5
"""Less prepared fruit boils dry before it sets; common practice, no source."""

_NEAR = 1e-6


def names(found: Gathered, faults: FaultList) -> None:
    """Recipes have names of their own, and there is at least one."""
    if not found.recipes and not faults.has(RECIPES):
        faults.add(RECIPES, "", "no recipe", "at least one [[recipe]]", "Add a recipe.")
    note_repeats([recipe.row for recipe in found.recipes], "name", faults, "Rename one of the recipes.")


def mixes(found: Gathered, faults: FaultList) -> None:
    """Each recipe has known fruits, each once, whose shares can add to 1."""
    for mix in found.mixes:
        note_repeats(mix.shares, "fruit", faults, "Remove one of the two, or add their shares up.")
        for share in mix.shares:
            note_unknown(share, "fruit", "fruits.csv", found, faults)
            if share.value.low > share.value.high:
                allowed = f"at most high ({share.value.high:g})"
                faults.add(RECIPES, share.at("low"), f"{share.value.low:g}", allowed, "Mend one of the two.")
        if mix.whole:
            _note_shares(mix, faults)


def safety(found: Gathered, faults: FaultList) -> None:
    """Too little acid is refused; few solids need a named heat step."""
    for recipe in found.recipes:
        row = recipe.row
        if row.value.ph > PLAN_PH:
            remedy = (
                f"At pH {HAZARD_PH:g} dangerous germs can grow, and the plan keeps a margin below it. Add "
                "acid, or have a licensed process authority decide; no low-acid preserve is planned."
            )
            faults.add(RECIPES, row.at("ph"), f"{row.value.ph:g}", f"at most {PLAN_PH:g}", remedy)
        if row.value.final_solids < LOWER_SUGAR and not row.value.heat_step:
            remedy = (
                "Boil it further, or name in heat_step the approved heat step or chilling that makes it keep."
            )
            allowed = f"at least {LOWER_SUGAR:.2f} without a named heat_step"
            faults.add(RECIPES, row.at("final_solids"), f"{row.value.final_solids:g}", allowed, remedy)


def jars(found: Gathered, faults: FaultList) -> None:
    """Jars on hand are within the most that can be sold; jar and lid are two goods."""
    for recipe in found.recipes:
        row = recipe.row
        if row.value.jars_on_hand > row.value.most_jars:
            allowed = f"at most most_jars ({row.value.most_jars}), which counts jars on hand"
            faults.add(
                RECIPES, row.at("jars_on_hand"), str(row.value.jars_on_hand), allowed, "Raise most_jars."
            )
        if row.value.jar == row.value.lid:
            remedy = "Name the lid as a good of its own in store.csv."
            faults.add(RECIPES, row.at("lid"), shown(row.value.lid), "another good than the jar", remedy)


def goods(found: Gathered, faults: FaultList) -> None:
    """Every good that a recipe uses has a row in the store."""
    store = found.names.get("store.csv")
    if store is None:
        return
    for recipe in found.recipes:
        for key, good in _uses(recipe.row.value):
            if good not in store:
                allowed = "a good of store.csv: " + listed(store)
                otherwise = f"Add a row '{good}' to store.csv, with 0 on hand if there is none."
                remedy = did_you_mean(good, store, otherwise) if key in ("jar", "lid") else otherwise
                faults.add(RECIPES, recipe.row.at(key), shown(good), allowed, remedy)


def thickness(found: Gathered, faults: FaultList) -> None:
    """A recipe reaches its solids by boiling water off: it gives less jam than goes into the pan."""
    sugars = {row.value.fruit: row.value.solids for row in found.fruits}
    for recipe in found.recipes:
        row, own = recipe.row.value, [sugars.get(share.value.fruit) for share in recipe.mix.shares]
        if not own or None in own:
            continue
        least = min(solid for solid in own if solid is not None)
        into_pan = 1 + row.sugar_per_kg + row.water_per_kg
        jam = solids.jam_kg(1, least, row.sugar_per_kg, row.final_solids)
        if jam > into_pan:
            found_text = f"{row.final_solids:g}: {jam:.2f} kg of jam out of {into_pan:.2f} kg in the pan"
            allowed = f"more than {(least + row.sugar_per_kg) / into_pan:.2f}: boiling only takes water away"
            remedy = "Use less sugar, or boil further."
            faults.add(RECIPES, recipe.row.at("final_solids"), found_text, allowed, remedy)


def pans_too_small(found: Gathered, faults: FaultList) -> None:
    """A pan at its safe fill holds a batch of at least one recipe."""
    if not found.recipes:
        return
    room = min(
        solids.mix_litres(1, recipe.row.value.sugar_per_kg, recipe.row.value.water_per_kg)
        for recipe in found.recipes
    )
    for pan in found.pans:
        most = pan.value.litres * pan.value.fill / room
        if most < LEAST_BATCH_KG - _NEAR:
            found_text = (
                f"{pan.value.litres:g} litres, which at its safe fill hold {most:.2f} kg of fruit at most"
            )
            least = LEAST_BATCH_KG * room / pan.value.fill
            allowed = f"at least {least:.1f} litres, for {LEAST_BATCH_KG:g} kg of fruit with its sugar"
            faults.add(pan.file, pan.at("litres"), found_text, allowed, "Mend the litres or remove the pan.")


def _note_shares(mix: Mix, faults: FaultList) -> None:
    low = sum(share.value.low for share in mix.shares)
    high = sum(share.value.high for share in mix.shares)
    where = f"{mix.where}, [[recipe.fruit]]"
    if not mix.shares:
        remedy = "Add a table [[recipe.fruit]] with fruit, low and high."
        faults.add(RECIPES, where, "no fruit", "at least one fruit", remedy)
    elif low > 1 + _NEAR or high < 1 - _NEAR:
        found_text = f"shares that add to {low:g} at least and {high:g} at most"
        remedy = "Lower the low shares or raise the high ones (a mix such as 0.6 to 0.8 and 0.2 to 0.4)."
        faults.add(RECIPES, where, found_text, "shares that can add to 1", remedy)


def _uses(recipe: keys.RecipeTable) -> Iterator[tuple[str, str]]:
    """Key and good of everything that a recipe takes from the store."""
    yield "jar", recipe.jar
    yield "lid", recipe.lid
    if recipe.sugar_per_kg:
        yield "sugar_per_kg", SUGAR
    if recipe.lemons_per_kg:
        yield "lemons_per_kg", LEMONS
    if recipe.pectin_g_per_kg:
        yield "pectin_g_per_kg", PECTIN
