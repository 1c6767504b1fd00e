"""The batch sheet of a recipe: what each pan of the kitchen makes of it, in what time, at what cost.

Numbers of a batch are those of its card, so that sheet and plan agree. Fruit by fruit the kg are those of
the recipe's usual shares; jars and minutes allow for the worst mix within its bands, as cards do.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from scheduler.cards import FORGIVEN, SCALE, BatchCard, Cards, PanClass, RingClass, rounded_down
from scheduler.costs import Cost, cost_of
from scheduler.domain.kitchen import Kitchen, Pan
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.finished import composition_of, process_of, usual_shares, warnings_of
from scheduler.law.acts import acts_on
from scheduler.law.label import Draft, Jar, draft
from scheduler.law.naming import Finding, Verdict, names_allowed
from scheduler.panful import LEAST_BATCH_KG, Panful, Refusal, Rule, full_kg, panful
from scheduler.physics import cooling, setpoint, settest, solids
from scheduler.physics.quantity import Array

LEAST_FILL = 0.3
"""Share of the safe fill from which on minutes are drawn against kg."""

HERE = "European Union"
"""Where jars are sold unless said otherwise."""

_PLAIN_NAME = "fruit spread"  # no act that is held reserves it
_MOST_POINTS = 60


@dataclass(frozen=True, slots=True)
class Part:
    """One fruit of a batch: kg as prepared, and as picked."""

    fruit: str
    prepared_kg: float
    picked_kg: float


@dataclass(frozen=True, slots=True)
class Stage:
    """Minutes of a stage within which half of the batches stay, those planned for, and 95 in 100."""

    name: str
    median: int
    planned: int
    most: int


@dataclass(frozen=True, slots=True)
class BatchSheet:
    """One batch. Masses in kg, temperatures in °C; ``minutes`` of prepare are person-minutes.

    ``total`` runs from dissolve to the last jar. ``refusal`` is the rule that refuses it, if any.
    """

    panful: Panful
    parts: tuple[Part, ...]
    water_kg: float
    minutes: tuple[Stage, ...]
    total: Stage
    cost: Cost

    @property
    def card(self) -> BatchCard:
        return self.panful.card

    @property
    def kg(self) -> float:
        return self.card.kg / SCALE

    @property
    def refusal(self) -> Refusal | None:
        return self.panful.refusal


@dataclass(frozen=True, slots=True)
class PanSheet:
    """Equal pans on the strongest of the rings of one heat; no ring where none is wide enough.

    ``full`` is the batch at the safe fill, or what stands in its way; ``largest`` the largest batch that
    no rule refuses, None if all are refused, by the rules ``refused_by``. ``pottable_kg`` is the least and
    most preserve (kg) of which the last jar is still hot enough; 0 and 0 if there is none.
    """

    pan: PanClass
    ring: RingClass | None
    full: BatchSheet | Refusal
    largest: BatchSheet | None
    refused_by: tuple[Refusal, ...]
    pottable_kg: tuple[float, float]
    curve: tuple[Panful, ...]

    @property
    def best(self) -> BatchSheet | None:
        """The batch to show: the largest safe one, else the refused full one."""
        return self.largest or (self.full if isinstance(self.full, BatchSheet) else None)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The batch sheet of one recipe; ``names`` of every act in force on the scenario's first day."""

    recipe: Recipe
    pans: tuple[PanSheet, ...]
    names: tuple[Finding, ...]
    warnings: tuple[str, ...]


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
    index = scenario.recipes.index(recipe)
    pans = tuple(_pan_sheet(cards, index, p, q) for p in range(len(cards.pans)) for q in _rings_for(cards, p))
    fruits = {fruit.name: fruit for fruit in scenario.fruits}
    names = tuple(names_allowed(composition_of(recipe, fruits), scenario.start))
    told = warnings_of(replace(scenario, recipes=(recipe,)))
    return Sheet(recipe, pans, names, tuple(line.removeprefix(f"{recipe.name}. ") for line in told))


def jurisdictions(scenario: Scenario) -> tuple[str, ...]:
    """Where the law is held on the scenario's first day."""
    return tuple(act.jurisdiction for act in acts_on(scenario.start))


def label_draft(scenario: Scenario, recipe: Recipe, where: str = HERE) -> Draft:
    """A draft of the label of a jar potted on the first day, under the plainest name it may bear.

    Raises ValueError for a jurisdiction that is not held.
    """
    composition = composition_of(recipe, {fruit.name: fruit for fruit in scenario.fruits})
    found = [name for name in names_allowed(composition, scenario.start) if name.jurisdiction == where]
    by_verdict = {name.verdict: name.name for name in reversed(found)}
    name = by_verdict.get(Verdict.MAY) or by_verdict.get(Verdict.NOT_KNOWN) or _PLAIN_NAME
    best_before = process_of(recipe, composition, scenario.start).best_before
    lot = scenario.start.strftime("%y%m%d")
    jar = Jar(composition, name, 1000 * recipe.jar_kg, scenario.start, best_before, lot)
    return draft(jar, where)


def course_of(batch: Panful, recipe: Recipe, kitchen: Kitchen, points: int = 41) -> Course:
    """Solids and temperature through the boil: water leaves at the even pace of ``boil.boil_minutes``."""
    minutes = np.linspace(0, batch.boil_minutes, points)
    mass = batch.jam_kg + np.linspace(batch.water_off_kg, 0, points)
    thick = recipe.final_solids * batch.jam_kg / mass
    offset = kitchen.measured.set_offset_k
    hot = setpoint.set_temperature_c(thick, kitchen.altitude_m, offset_k=offset)
    return Course(minutes, thick, np.asarray(hot))


def stages_of(card: BatchCard, scenario: Scenario) -> tuple[tuple[Stage, ...], Stage]:
    """Minutes by stage, and in all from dissolve to the last jar; only the re-boils are left to chance."""
    kitchen = scenario.kitchen
    again = settest.reboil_minutes(kitchen.first_set_share, kitchen.keep_share, card.reboil + card.test)
    after = [int(minutes) for minutes in (again.median, again.planned, again.most)]
    tests = Stage("tests and re-boils", *(card.test + minutes for minutes in after))
    stages = (
        Stage("prepare", card.prepare, card.prepare, card.prepare),
        Stage("dissolve", card.dissolve, card.dissolve, card.dissolve),
        Stage("boil", card.boil, card.boil, card.boil),
        tests,
        Stage("stand", card.stand, card.stand, card.stand),
        Stage("pot up", card.pot, card.pot, card.pot),
        Stage("wash pan", card.wash, card.wash, card.wash),
    )
    chain = stages[1:-1]
    total = Stage("dissolve to last jar", *(
        sum(getattr(stage, share) for stage in chain) for share in ("median", "planned", "most")
    ))  # fmt: skip
    return stages, total


def _rings_for(cards: Cards, pan: int) -> list[int | None]:
    """The strongest ring of each kind of heat that takes a pan; one None where no ring does."""
    across = cards.pans[pan].pan.diameter_cm
    wide = [q for q, each in enumerate(cards.rings) if across <= each.ring.largest_pan_cm + FORGIVEN]

    def reaches(q: int) -> float:
        return cards.rings[q].ring.kw * cards.rings[q].ring.efficiency

    by_heat = sorted(wide, key=lambda q: cards.rings[q].ring.heat)
    strongest = [max(alike, key=reaches) for _, alike in groupby(by_heat, lambda q: cards.rings[q].ring.heat)]
    return [*strongest] or [None]


def _pan_sheet(cards: Cards, r: int, p: int, q: int | None) -> PanSheet:
    scenario, pan = cards.scenario, cards.pans[p]
    if q is None:
        widest = max(each.ring.largest_pan_cm for each in cards.rings)
        refused = Refusal(Rule.PAN_TOO_WIDE, pan.pan.diameter_cm, widest)
        return PanSheet(pan, None, refused, None, (refused,), (0.0, 0.0), ())
    recipe, ring = scenario.recipes[r], cards.rings[q]
    room = full_kg(recipe, pan.pan)

    def filled(step: float) -> Panful | Refusal:
        return panful(scenario, recipe, pan.pan, ring.ring, step, False, (r, p, q))

    most = rounded_down(room, 1 / SCALE)
    every = {units: units / SCALE / room for units in range(most)} | {most: 1.0}
    full, (largest, refused_by) = filled(1.0), _largest(filled, every)
    drawn = [*range(math.ceil(LEAST_FILL * most), most, max(1, most // _MOST_POINTS)), most]
    curve = tuple(found for units in drawn if isinstance(found := filled(every[units]), Panful))
    return PanSheet(
        pan, ring,
        full if isinstance(full, Refusal) else _batch_sheet(cards, full),
        None if largest is None else _batch_sheet(cards, largest),
        refused_by,
        _pottable_kg(curve[-1].card, recipe, pan.pan, cards.kitchen) if curve else (0.0, 0.0), curve,
    )  # fmt: skip


def _largest(
    filled: Callable[[float], Panful | Refusal], every: dict[int, float]
) -> tuple[Panful | None, tuple[Refusal, ...]]:
    """The largest panful that no rule refuses; None, and the rules in their order, if all are refused."""
    refused: dict[Rule, Refusal] = {}
    least = min(max(every), round(LEAST_BATCH_KG * SCALE))
    for units in range(max(every), least - 1, -1):
        found = filled(every[units])
        if isinstance(found, Panful) and found.refusal is None:
            return found, ()
        refusal = found if isinstance(found, Refusal) else found.refusal
        assert refusal is not None
        refused.setdefault(refusal.rule, refusal)
    return None, tuple(refused.values())


def _pottable_kg(batch: BatchCard, recipe: Recipe, pan: Pan, kitchen: Kitchen) -> tuple[float, float]:
    if batch.set_c < kitchen.potting_limit_c:
        return 0.0, 0.0
    jars_a_minute = kitchen.fillers * kitchen.jars_per_filler_hour / 60
    return cooling.potted_in_time_kg(
        batch.test + batch.stand,
        jars_a_minute * recipe.jar_kg / (1 - recipe.pan_loss),
        kitchen.potting_limit_c, batch.set_c, pan.diameter_cm, kitchen.room_c,
    )  # fmt: skip


def _batch_sheet(cards: Cards, batch: Panful) -> BatchSheet:
    scenario, card = cards.scenario, batch.card
    recipe, kg = scenario.recipes[card.recipe], card.kg / SCALE
    parts = tuple(
        Part(
            share.fruit,
            kg * usual,
            solids.picked_kg(kg * usual, scenario.fruit(share.fruit).preparation_loss),
        )
        for share, usual in zip(recipe.fruits, usual_shares(recipe), strict=True)
    )
    stages, total = stages_of(card, scenario)
    return BatchSheet(
        batch,
        parts,
        kg * recipe.water_per_kg,
        stages,
        total,
        cost_of(cards, card, ((part.fruit, part.picked_kg) for part in parts)),
    )
