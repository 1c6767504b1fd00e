"""What calendars and paper say of a batch: the essentials of its batch sheet, and what to take care of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.languages import say, say_many
from scheduler.law.cautions import Caution, cautions_at
from scheduler.law.safety import Judge
from scheduler.plan_rows import Batch, Mix, Part, Plan, Stage, StageKind
from scheduler.views import words

_CARE, _BULLET = "Take care", "• "
LEAST_KG = 0.05
"""What shows as 0.1 kg."""


def essentials(batch: Batch, plan: Plan, scenario: Scenario) -> list[str]:
    """What goes into the pan, how far it is boiled and what it is potted in, a sentence each."""
    told = [
        say(
            "In {pan} on {ring}: {goes_in}.",
            pan=batch.pan,
            ring=batch.ring,
            goes_in="; ".join(goes_in(batch, plan, scenario)),
        )
    ]
    if juice := words.juice(batch, plan):
        told.append(f"{juice[0].upper()}{juice[1:]}.")
    if batch.jars:
        recipe = scenario.recipe(batch.recipe)
        told.append(boiled_to(batch, scenario))
        told.append(
            say(
                "Fills {filled}; the last jar at {potted_at}.",
                filled=words.filled(batch.filled, recipe),
                potted_at=potted_at(scenario),
            )
        )
        if recipe.heat_step:
            told.append(say("Then: {heat_step}.", heat_step=recipe.heat_step))
    return told


def steps(stages: Iterable[Stage]) -> str:
    """Stages in their order with minutes: ``dissolve 15 min, boil 25 min``."""
    return ", ".join(f"{stage.kind} {stage.end - stage.start} min" for stage in stages)


def take_care(kinds: Iterable[StageKind], also: Sequence[str] = ()) -> list[str]:
    """The cautions of some stages, each once, under a heading; nothing where there are none."""
    stages = [*(_stage(kind) for kind in kinds), *also]
    found = dict.fromkeys(caution.text for stage in stages for caution in cautions_at(stage))
    return ["", _CARE, *(f"{_BULLET}{text}" for text in found)] if found else []


def split_care(described: str) -> tuple[str, list[str]]:
    """A text that ends as ``take_care`` ends it, without those lines; and the cautions, one each."""
    told, _, care = described.partition(f"\n\n{_CARE}\n")
    return told, [line.removeprefix(_BULLET) for line in care.splitlines()]


def cautions_of(kind: StageKind) -> tuple[Caution, ...]:
    """The cautions of a stage, in order."""
    return cautions_at(_stage(kind))


def potted_at(scenario: Scenario) -> str:
    """What the last jar must still have: ``85 °C or hotter``."""
    return say(
        "{potting_limit_c} or hotter", potting_limit_c=words.degrees(scenario.kitchen.potting_limit_c, None)
    )


def _stage(kind: StageKind) -> str:
    return "label" if kind is StageKind.LABEL else kind.value


def goes_in(batch: Batch, plan: Plan, scenario: Scenario) -> list[str]:
    """What goes into the pan: ``strawberry 6.3 kg``, ``sugar 5.7 kg``, ``4 lemons``."""
    recipe = scenario.recipe(batch.recipe)
    told = [] if batch.part is Part.BOIL else _fruit(batch, plan)
    if batch.part is Part.BOIL:
        told.append(say("the juice of {mass} of fruit", mass=words.mass(batch.kg)))
    elif recipe.water_per_kg:
        told.append(say("water {mass}", mass=words.mass(batch.kg * recipe.water_per_kg)))
    if batch.part is Part.SOFTEN:
        return told
    if batch.sugar_kg:
        told.append(say("sugar {mass}", mass=words.mass(batch.sugar_kg)))
    if batch.lemons:
        told.append(say_many("{n} lemon", "{n} lemons", batch.lemons))
    if batch.pectin_g:
        told.append(say("pectin {pectin_g} g", pectin_g=round(batch.pectin_g)))
    return told + [f"{name} {amount}" for name, amount in others(recipe, batch.kg).items()]


def others(recipe: Recipe, kg: float) -> dict[str, str]:
    """Grams of vinegar, acid, spices and the like for ``kg`` of prepared fruit, by name."""
    return {
        other.name + (say(" (ALLERGEN)") if other.allergen else ""): (
            f"{words.number(other.g_per_kg * kg, grouped=False)} g"
        )
        for other in recipe.others
    }


Making = tuple[date, str, bool]
"""Day, recipe, and whether it is cooked wholly from the freezer."""


def batch_making(batch: Batch) -> Making:
    """What its batches share one mix of fruit in."""
    return batch.day, batch.recipe, batch.from_freezer


def share_of_mix(batch: Batch, plan: Plan) -> float:
    """The part of the mix of its making that goes into a batch (0 to 1)."""
    making = batch_making(batch)
    together = sum(each.fruit_kg for each in plan.batches if batch_making(each) == making)
    return batch.fruit_kg / together if together else 0.0


def _fruit(batch: Batch, plan: Plan) -> list[str]:
    """kg of each fruit, its part of the mix that all batches of this making share."""
    making, share = batch_making(batch), share_of_mix(batch, plan)
    mixes = [mix for mix in plan.mixes if (mix.day, mix.recipe, mix.from_freezer) == making]
    return [_amount(mix, share) for mix in mixes if (mix.fresh_kg + mix.frozen_kg) * share > LEAST_KG] or [
        say("fruit {mass}", mass=words.mass(batch.kg))
    ]


def _amount(mix: Mix, share: float) -> str:
    """``strawberry 6.3 kg``, with what of it comes from the freezer."""
    amount = f"{mix.fruit} {words.mass((mix.fresh_kg + mix.frozen_kg) * share)}"
    frozen = mix.frozen_kg * share
    if frozen <= LEAST_KG:
        return amount
    if mix.fresh_kg * share <= LEAST_KG:
        return say("{amount} from the freezer", amount=amount)
    return say("{amount}, {mass} of it from the freezer", amount=amount, mass=words.mass(frozen))


def boiled_to(batch: Batch, scenario: Scenario) -> str:
    """How far a batch is boiled and by what that is judged, in a sentence."""
    recipe = scenario.recipe(batch.recipe)
    heat = words.degrees(batch.set_temperature_c)
    solids = f"{100 * recipe.final_solids:.0f} °Brix"
    if recipe.judged_by is Judge.REFRACTOMETER:
        return say(
            "Boil to {solids} on the refractometer; {heat} alone does not tell.", solids=solids, heat=heat
        )
    if recipe.judged_by is Judge.COLD_PLATE and recipe.tested:
        return say(
            "Boil to {heat} ({solids}), then test for a set on the cold plate, pan off the heat.",
            heat=heat,
            solids=solids,
        )
    return say("Boil to {heat} ({solids}).", heat=heat, solids=solids)
