"""One batch on its sheet: what goes in, minutes by stage and cost, all of its card."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.cards import SCALE, BatchCard, Cards
from scheduler.costs import Cost, both_days, cost_of
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.scenario import Scenario
from scheduler.finished import usual_shares
from scheduler.panful import Panful, Refusal
from scheduler.physics import settest, solids
from scheduler.plan_rows import Part


@dataclass(frozen=True, slots=True)
class Portion:
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

    ``strained_kg`` is what a bag or sieve lets through, 0 where nothing is strained. ``total`` runs from
    when cooking begins to the last jar, or until all is in the bag of a drip stand. A batch that boils
    juice takes no ``fruit`` and no water: they went into the batch ``softened`` on the day before, whose
    cost is part of its own. ``refusal`` is the rule that refuses it, if any.
    """

    panful: Panful
    fruit: tuple[Portion, ...]
    water_kg: float
    strained_kg: float
    minutes: tuple[Stage, ...]
    total: Stage
    cost: Cost
    softened: BatchSheet | None = None

    @property
    def card(self) -> BatchCard:
        return self.panful.card

    @property
    def kg(self) -> float:
        """Prepared fruit, or the fruit whose juice it is."""
        return self.card.kg / SCALE

    @property
    def refusal(self) -> Refusal | None:
        return self.panful.refusal


def batch_sheet(cards: Cards, batch: Panful, softened: BatchSheet | None = None) -> BatchSheet:
    """The sheet of a panful; of one that boils juice, ``softened`` is the batch whose juice it is."""
    scenario, card = cards.scenario, batch.card
    recipe, kg = scenario.recipes[card.recipe], card.kg / SCALE
    water = kg * recipe.water_per_kg
    strained = 0.0 if recipe.strained_share is None else recipe.strained_share * (kg + water)
    stages, total = stages_of(card, scenario)
    if card.part is Part.BOIL:
        assert softened is not None
        cost = both_days(softened.cost, cost_of(cards, card, ()))
        return BatchSheet(batch, (), 0.0, strained, stages, total, cost, softened)
    fruit = tuple(
        Portion(
            share.fruit,
            kg * usual,
            solids.picked_kg(kg * usual, scenario.fruit(share.fruit).preparation_loss),
        )
        for share, usual in zip(recipe.fruits, usual_shares(recipe), strict=True)
    )
    cost = cost_of(cards, card, ((portion.fruit, portion.picked_kg) for portion in fruit))
    return BatchSheet(batch, fruit, water, strained, stages, total, cost)


def stages_of(card: BatchCard, scenario: Scenario) -> tuple[tuple[Stage, ...], Stage]:
    """Minutes of each stage that the card has, and in all (see ``BatchSheet``); only the re-boils are left
    to chance."""
    chain = [
        _sure("soften", card.soften),
        _sure("strain", card.strain),
        _sure("dissolve", card.dissolve),
        _sure("boil", card.boil),
        _tests(card, scenario.kitchen),
        _sure("stand", card.stand),
        _sure("pot up", card.pot),
    ]
    chain = [stage for stage in chain if stage.most]
    end = "last jar" if card.jars else "drip stand"
    total = Stage(f"{chain[0].name} to {end}", *(
        sum(getattr(stage, share) for stage in chain) for share in ("median", "planned", "most")
    ))  # fmt: skip
    around = (
        _sure("prepare", card.prepare),
        *chain,
        _sure("wash pan", card.wash),
        _sure("stand by, before pot up", card.standby),
    )
    return tuple(stage for stage in around if stage.most), total


def _sure(name: str, minutes: int) -> Stage:
    return Stage(name, minutes, minutes, minutes)


def _tests(card: BatchCard, kitchen: Kitchen) -> Stage:
    """The set test and, as far as they are needed, re-boils with theirs."""
    again = settest.reboil_minutes(kitchen.first_set_share, kitchen.keep_share, card.reboil + card.test)
    after = (int(minutes) for minutes in (again.median, again.planned, again.most))
    return Stage("tests and re-boils", *(card.test + minutes for minutes in after))
