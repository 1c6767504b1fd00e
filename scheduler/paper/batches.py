"""A sheet for each batch: what goes in, steps by the clock, how far to boil, and boxes to write in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.languages import measures
from scheduler.law.safety import PLAN_PH, Judge
from scheduler.paper.lots import in_order, lot_marks
from scheduler.paper.marks import mark
from scheduler.plan_rows import Batch, Part, Plan, Stage, StageKind
from scheduler.views import words
from scheduler.views.batch_text import (
    LEAST_KG,
    batch_making,
    boiled_to,
    cautions_of,
    goes_in,
    potted_at,
    share_of_mix,
)

Data = dict[str, Any]


def batches(plan: Plan, scenario: Scenario, of: str | None) -> Data | None:
    """The sheets of all batches, or of the one with lot mark ``of``; None where nothing is cooked."""
    marks = lot_marks(plan)
    chosen = [batch for batch in in_order(plan) if of in (None, marks[batch.id])]
    sheets = [_sheet(batch, plan, scenario, marks) for batch in chosen]
    return {"kind": "batches", "sheets": sheets} if sheets else None


def _sheet(batch: Batch, plan: Plan, scenario: Scenario, marks: dict[str, str]) -> Data:
    recipe = scenario.recipe(batch.recipe)
    stages = sorted((s for s in plan.stages if s.batch == batch.id), key=lambda s: (s.start, s.end))
    told = list(
        dict.fromkeys(caution.text for stage in stages for caution in cautions_of(stage.kind))
    )  # fmt: skip
    allergens = [other.name for other in recipe.others if other.allergen]
    return mark(batch, plan, scenario) | {
        "lot": f"L {marks[batch.id]}",
        "recipe": batch.recipe + (", from the freezer" if batch.from_freezer else ""),
        "part": "" if batch.part is Part.WHOLE else batch.part.value,
        "day": f"{words.day_name(batch.day)} {batch.day.year}",
        "pan": batch.pan,
        "ring": batch.ring,
        "fills": words.filled(batch.filled, recipe) if batch.jars else "",
        "goes_in": goes_in(batch, plan, scenario),
        "lots": _lots(batch, plan, scenario),
        "juice": words.juice(batch, plan),
        "figures": _figures(batch, recipe, scenario),
        "boiled": boiled_to(batch, scenario) if batch.jars else "",
        "then": recipe.heat_step if batch.jars else "",
        "steps": [_step(stage, told) for stage in stages],
        "allergens": ", ".join(allergens),
        "cautions": told,
        "reads": _reads(batch, recipe),
        "tests": _tests(batch, recipe, stages),
        "boxes": _boxes(batch, recipe, scenario),
    }


def _lots(batch: Batch, plan: Plan, scenario: Scenario) -> list[Data]:
    """kg of each lot in this batch: its share of what is drawn for all batches of the same mix."""
    frozen = {row.lot: row.use_by for row in plan.freezer}
    share = share_of_mix(batch, plan)
    return [
        {
            "lot": draw.lot,
            "kg": words.mass(draw.kg * share),
            "how": f"frozen, use by {words.day_name(frozen[draw.lot])} {frozen[draw.lot].year}"
            if draw.lot in frozen
            else "as picked",
        }
        for draw in plan.draws
        if (draw.day, draw.recipe, draw.from_freezer) == batch_making(batch) and draw.kg * share > LEAST_KG
    ]


def _figures(batch: Batch, recipe: Recipe, scenario: Scenario) -> list[Data]:
    """The numbers that count at the pan; the temperature is corrected for this kitchen."""
    if not batch.jars:
        return []
    heat = "set" if recipe.tested else "boiled"
    return [
        {"what": f"{heat} at", "figure": words.degrees(batch.set_temperature_c)},
        {"what": "solids", "figure": f"{100 * recipe.final_solids:.0f} °Brix"},
        {"what": "last jar", "figure": potted_at(scenario)},
    ]


def _step(stage: Stage, told: Sequence[str]) -> Data:
    only_if = " (if it does not set)" if stage.kind is StageKind.REBOIL else ""
    return {
        "when": f"{words.clock(stage.start)}–{words.clock(stage.end)}",
        "what": f"{stage.kind}{only_if}",
        "minutes": f"{stage.end - stage.start} min",
        "who": ", ".join(stage.people),
        "cares": [told.index(caution.text) + 1 for caution in cautions_of(stage.kind)],
    }


def _reads(batch: Batch, recipe: Recipe) -> list[str]:
    """What is read at each test."""
    solids = ["°Brix"] if batch.jars else []
    test = ["set? yes / no"] if batch.jars and recipe.tested else []
    return ["clock", measures.symbol(measures.CELSIUS), *solids, *test, "initials"]


def _tests(batch: Batch, recipe: Recipe, stages: Sequence[Stage]) -> list[str]:
    """Rows of readings: one before each test, or at the end of a boil that is not tested for a set."""
    if not batch.jars:
        return ["when soft"]
    if not recipe.tested:
        return ["end of the boil"]
    tests = max(1, sum(stage.kind is StageKind.SET_TEST for stage in stages))
    return [f"set test {number}" for number in range(1, tests + 1)]


def _boxes(batch: Batch, recipe: Recipe, scenario: Scenario) -> list[Data]:
    """What is written down once, with its unit or what is expected."""
    if not batch.jars:
        return [
            {"what": "into the bag at", "unit": "o’clock"},
            {"what": "juice the next day", "unit": measures.symbol("kg")},
            {"what": "bag and bowl scalded", "unit": "initials"},
        ]
    next_day = words.day_name(batch.day + timedelta(days=1))
    boxes = [
        {"what": "heat off at", "unit": "o’clock"},
        {"what": "first jar", "unit": measures.symbol(measures.CELSIUS)},
        {"what": f"last jar, {potted_at(scenario)}", "unit": measures.symbol(measures.CELSIUS)},
    ]
    sizes = zip(recipe.sizes, batch.filled, strict=False)
    boxes += [{"what": f"filled: {size.jar}", "unit": f"of {count}"} for size, count in sizes if count]
    if scenario.kitchen.sample_jars:
        boxes.append({"what": "kept as a sample", "unit": f"of {scenario.kitchen.sample_jars}"})
    boxes += [
        {"what": f"pH when cold, at most {PLAN_PH:g}", "unit": "pH"},
        {"what": f"seals on {next_day}: sound", "unit": "jars"},
        {"what": "not sound, thrown away", "unit": "jars"},
        {"what": "released by", "unit": "initials"},
    ]
    if recipe.judged_by is Judge.REFRACTOMETER:
        boxes.insert(0, {"what": "refractometer checked with water", "unit": "initials"})
    return boxes
