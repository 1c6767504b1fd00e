"""Checks of recipes against fruits, store, pans, and the guards of food safety."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from scheduler.domain.fruit import Fruit
from scheduler.domain.trade import LEMONS, PECTIN, SUGAR
from scheduler.finished import concerns_of, into_pan_kg_per_kg, jam_kg_per_kg
from scheduler.intake import build, keys
from scheduler.intake.check_fruit import note_unknown
from scheduler.intake.check_kinds import LEAST_BATCH_KG, says_what_is_kept
from scheduler.intake.check_kitchen import note_repeats
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import RECIPES, Gathered, Mix, Recipe
from scheduler.law.composition import Kind, Role, plain
from scheduler.law.safety import Concern
from scheduler.physics import solids

LEAST_YIELD = 0.1
"""Least share of what goes into the pan that is left as preserve: less burns; common practice, no source."""

KEYS = {
    "pH": "ph",
    "soluble solids": "final_solids",
    "judge of the boil": "judged_by",
    "best before": "best_before_months",
    "approver": "approver",
}
"""The key that a concern is about; other concerns are about an ingredient."""

_NEAR = 1e-9


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


def others(found: Gathered, faults: FaultList) -> None:
    """Other ingredients stand once each and are few, but for the vinegar of a chutney."""
    for recipe in found.recipes:
        note_repeats(recipe.others, "name", faults, "Remove one of the two, or add them up.")
        few = [other for other in recipe.others if not _is_vinegar_of_chutney(recipe, other.value)]
        grams = sum(other.value.g_per_kg for other in few)
        if grams > keys.MOST_OTHERS_G + _NEAR:
            where = f"{recipe.mix.where}, [[recipe.other]]"
            allowed = f"at most {keys.MOST_OTHERS_G} g for a kg of prepared fruit in all"
            remedy = "More would change what the pan yields; only the vinegar of a chutney may be more."
            faults.add(RECIPES, where, f"{grams:g} g in all", allowed, remedy)


def _is_vinegar_of_chutney(recipe: Recipe, other: keys.OtherTable) -> bool:
    return recipe.row.value.kind == Kind.CHUTNEY and other.role == Role.VINEGAR


def preserves(found: Gathered, faults: FaultList) -> None:
    """Boiling gives a preserve, and no guard of food safety refuses it.

    Passes over what has been told elsewhere: fruits not known or not adding to 1, a strained share that its
    kind cannot have, and no first day.
    """
    fruits = {row.value.fruit: build.fruit(row.value) for row in found.fruits}
    for recipe in found.recipes:
        shares = recipe.mix.shares
        known = all(share.value.fruit in fruits for share in shares)
        kept = says_what_is_kept(recipe.row.value)
        if not (known and kept and recipe.mix.whole and _adds_up(recipe.mix)):
            continue
        if not _note_yield(recipe, fruits, faults) and found.farm:
            concerns = concerns_of(build.recipe(recipe), fruits, found.farm.value.start)
            _note_refused(recipe, concerns, faults)


def goods(found: Gathered, faults: FaultList) -> None:
    """Every good that a recipe uses has a row in the store."""
    store = found.names.get("store.csv")
    if store is None:
        return
    for recipe in found.recipes:
        for where, key, good in _uses(recipe):
            if good not in store:
                allowed = "a good of store.csv: " + listed(store)
                otherwise = f"Add a row '{good}' to store.csv, with 0 on hand if there is none."
                remedy = did_you_mean(good, store, otherwise) if key in ("jar", "lid") else otherwise
                faults.add(RECIPES, where, shown(good), allowed, remedy)


def pans_too_small(found: Gathered, faults: FaultList) -> None:
    """A pan at its safe fill holds a batch of at least one recipe."""
    if not found.recipes:
        return
    room = min(_litres(recipe) for recipe in found.recipes)
    for pan in found.pans:
        most = pan.value.litres * pan.value.fill / room
        if most < LEAST_BATCH_KG - _NEAR:
            found_text = (
                f"{pan.value.litres:g} litres, which at its safe fill hold {most:.2f} kg of fruit at most"
            )
            least = LEAST_BATCH_KG * room / pan.value.fill
            allowed = f"at least {least:.1f} litres, for {LEAST_BATCH_KG:g} kg of fruit with its sugar"
            faults.add(pan.file, pan.at("litres"), found_text, allowed, "Mend the litres or remove the pan.")


def _litres(recipe: Recipe) -> float:
    """Litres of a pan that a kg of prepared fruit takes, in the smaller of its two pans where it has two."""
    row = recipe.row.value
    vinegar = sum(o.value.g_per_kg for o in recipe.others if _is_vinegar_of_chutney(recipe, o.value)) / 1000
    kept, liquid = 1.0 if row.strained_share is None else row.strained_share, row.water_per_kg + vinegar
    boiled = solids.mix_litres(kept, row.sugar_per_kg, kept * liquid)
    if not row.soften_minutes:
        return boiled
    softened = solids.mix_litres(1.0, 0.0, liquid)
    return min(softened, boiled) if row.kind.of_juice else max(softened, boiled)


def _note_yield(recipe: Recipe, fruits: Mapping[str, Fruit], faults: FaultList) -> bool:
    """Note solids that boiling water off cannot reach, or only by boiling nearly everything away."""
    row = recipe.row.value
    made = build.recipe(recipe)
    into_pan, jam = into_pan_kg_per_kg(made), jam_kg_per_kg(made, fruits)
    reached = jam * row.final_solids / into_pan  # without boiling
    if LEAST_YIELD * into_pan <= jam <= into_pan:
        return False
    found_text = f"{row.final_solids:g}: {jam:.2f} kg of {row.kind} out of {into_pan:.2f} kg in the pan"
    allowed = f"more than {reached:.2f}: boiling only takes water away"
    remedy = "Use less sugar, or boil further."
    if jam < into_pan:
        allowed = f"less than {reached / LEAST_YIELD:.2f}: a tenth of what goes into the pan must be left"
        remedy = "Use more sugar or less water, or boil less far."
    faults.add(RECIPES, recipe.row.at("final_solids"), found_text, allowed, remedy)
    return True


def _note_refused(recipe: Recipe, concerns: Iterable[Concern], faults: FaultList) -> None:
    """Note the first refusal of each key or ingredient."""
    told: dict[str, Concern] = {}
    for concern in concerns:
        for where in _places(recipe, concern) if concern.refused else ():
            told.setdefault(where, concern)
    for where, concern in told.items():
        remedy = f"{concern.why} {concern.way_out}."
        if "process authority" not in concern.way_out:
            remedy += " In doubt ask a licensed process authority."
        faults.add(RECIPES, where, concern.value, concern.allowed, remedy)


def _places(recipe: Recipe, concern: Concern) -> list[str]:
    """Where the key, or the fruit or other ingredient, that a concern is about stands."""
    if concern.what in KEYS:
        return [recipe.row.at(KEYS[concern.what])]
    name = plain(concern.value)
    fruits = [share.at("fruit") for share in recipe.mix.shares if plain(share.value.fruit) == name]
    return fruits + [other.at("name") for other in recipe.others if plain(other.value.name) == name]


def _bounds(mix: Mix) -> tuple[float, float]:
    """What the shares of a mix add to, at least and at most."""
    return sum(share.value.low for share in mix.shares), sum(share.value.high for share in mix.shares)


def _adds_up(mix: Mix) -> bool:
    low, high = _bounds(mix)
    return bool(mix.shares) and low <= 1 + _NEAR and high >= 1 - _NEAR


def _note_shares(mix: Mix, faults: FaultList) -> None:
    low, high = _bounds(mix)
    where = f"{mix.where}, [[recipe.fruit]]"
    if not mix.shares:
        remedy = "Add a table [[recipe.fruit]] with fruit, low and high."
        faults.add(RECIPES, where, "no fruit", "at least one fruit", remedy)
    elif not _adds_up(mix):
        found_text = f"shares that add to {low:g} at least and {high:g} at most"
        remedy = "Lower the low shares or raise the high ones (a mix such as 0.6 to 0.8 and 0.2 to 0.4)."
        faults.add(RECIPES, where, found_text, "shares that can add to 1", remedy)


def _uses(recipe: Recipe) -> Iterator[tuple[str, str, str]]:
    """Place, key and good of everything that a recipe takes from the store."""
    row = recipe.row
    used = (
        ("sugar_per_kg", SUGAR, row.value.sugar_per_kg),
        ("lemons_per_kg", LEMONS, row.value.lemons_per_kg),
        ("pectin_g_per_kg", PECTIN, row.value.pectin_g_per_kg),
    )
    yield row.at("jar"), "jar", row.value.jar
    yield row.at("lid"), "lid", row.value.lid
    for size in recipe.sizes:
        yield size.at("jar"), "jar", size.value.jar
        yield size.at("lid"), "lid", size.value.lid
    yield from ((row.at(key), key, good) for key, good, quantity in used if quantity)
