"""The batch sheet of a recipe: what each pan of the kitchen makes of it, in what time, at what cost.

Numbers of a batch are those of its card, so that sheet and plan agree. Fruit by fruit the kg are those of
the recipe's usual shares; jars and minutes allow for the worst mix within its bands, as cards do.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from scheduler.cards import Cards
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.finished import composition_of, process_of, warnings_of
from scheduler.law.acts import HERE, acts_on
from scheduler.law.composition import Kind
from scheduler.law.label import Draft, Jar, draft
from scheduler.law.naming import Finding, Verdict, names_allowed
from scheduler.pan_sheets import PanSheet, pan_sheets
from scheduler.panful import Panful
from scheduler.physics import setpoint
from scheduler.physics.quantity import Array
from scheduler.plan_rows import Part

_SPREAD = "fruit spread"  # no act that is held reserves it
_PLAIN_NAMES = {Kind.CHUTNEY: "chutney", Kind.CORDIAL: "cordial"}


@dataclass(frozen=True, slots=True)
class Sheet:
    """The batch sheet of one recipe; ``names`` of every act in force on the scenario's first day."""

    recipe: Recipe
    pans: tuple[PanSheet, ...]
    names: tuple[Finding, ...]
    warnings: tuple[str, ...]

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts of the recipe that it has sheets of, in the order of their days."""
        return tuple(dict.fromkeys(pan.part for pan in self.pans))

    def of(self, part: Part) -> tuple[PanSheet, ...]:
        """The pans of one part."""
        return tuple(pan for pan in self.pans if pan.part is part)


@dataclass(frozen=True, slots=True)
class Course:
    """A boil from its first minute to its last: solids as a fraction of mass, and the temperature (°C)."""

    minutes: Array
    solids: Array
    celsius: Array


def sheet(cards: Cards, recipe: Recipe) -> Sheet:
    """The batch sheet of a recipe of ``cards``.

    Raises ValueError where less goes into the pan than comes out, which the reader of scenarios refuses.
    """
    scenario = cards.scenario
    fruits = {fruit.name: fruit for fruit in scenario.fruits}
    names = tuple(names_allowed(composition_of(recipe, fruits), scenario.start))
    told = warnings_of(replace(scenario, recipes=(recipe,)))
    warnings = tuple(line.removeprefix(f"{recipe.name}. ") for line in told)
    return Sheet(recipe, pan_sheets(cards, scenario.recipes.index(recipe)), names, warnings)


def jurisdictions(scenario: Scenario) -> tuple[str, ...]:
    """Where the law is held on the scenario's first day."""
    return tuple(act.jurisdiction for act in acts_on(scenario.start))


def label_draft(scenario: Scenario, recipe: Recipe, where: str = HERE) -> Draft:
    """A draft of the label of a jar potted on the first day, under the plainest name it may bear.

    Raises ValueError for a jurisdiction that is not held.
    """
    lot = scenario.start.strftime("%y%m%d")
    found_draft = jar_draft(scenario, recipe, recipe.jar_kg, scenario.start, lot, where)
    if not recipe.more_sizes:
        return found_draft
    masses = ", ".join(f"{1000 * size.jar_kg:g} g" for size in recipe.sizes)
    return replace(found_draft, to_check=(*found_draft.to_check, f"The net quantity of each size: {masses}."))


def jar_draft(
    scenario: Scenario, recipe: Recipe, jar_kg: float, potted: date, lot: str, where: str = HERE
) -> Draft:
    """A draft of the label of a jar of ``jar_kg``, potted and labelled on a day, under the plainest name it
    may bear. Raises ValueError for a jurisdiction that is not held.
    """
    composition = composition_of(recipe, {fruit.name: fruit for fruit in scenario.fruits})
    found = [name for name in names_allowed(composition, potted) if name.jurisdiction == where]
    by_verdict = {name.verdict: name.name for name in reversed(found)}
    name = (
        by_verdict.get(Verdict.MAY)
        or by_verdict.get(Verdict.NOT_KNOWN)
        or _PLAIN_NAMES.get(recipe.kind, _SPREAD)
    )
    best_before = process_of(recipe, composition, potted).best_before
    return draft(Jar(composition, name, 1000 * jar_kg, potted, best_before, lot), where)


def course_of(batch: Panful, recipe: Recipe, kitchen: Kitchen, points: int = 41) -> Course:
    """Solids and temperature through the boil: water leaves at the even pace of ``boil.boil_minutes``."""
    minutes = np.linspace(0, batch.boil_minutes, points)
    mass = batch.jam_kg + np.linspace(batch.water_off_kg, 0, points)
    thick = recipe.final_solids * batch.jam_kg / mass
    offset = kitchen.measured.set_offset_k
    hot = setpoint.set_temperature_c(thick, kitchen.altitude_m, offset_k=offset)
    return Course(minutes, thick, np.asarray(hot))
