"""What a batch costs: fruit, goods, energy and the pay of its hands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import fmean

from scheduler.cards import MONEY, BatchCard, Cards
from scheduler.domain.people import Skill
from scheduler.domain.scenario import Scenario


@dataclass(frozen=True, slots=True)
class Cost:
    """Money for a batch of ``jars``: fruit, goods and energy by name; ``pay`` None where nobody has a skill.

    Fruit counts at its kitchen value. Pay is that of the hands at the mean pay of people with the skill,
    one cook to the pan (a cook who minds two costs half of that part); breaks and idle time do not count.
    """

    materials: tuple[tuple[str, float], ...]
    pay: float | None
    jars: int

    @property
    def a_jar(self) -> float | None:
        """Money for a jar without pay, None where nothing is potted."""
        return sum(amount for _, amount in self.materials) / self.jars if self.jars else None

    @property
    def a_jar_with_pay(self) -> float | None:
        """Money for a jar with pay, None where that is not known or nothing is potted."""
        without = self.a_jar
        return None if without is None or self.pay is None else without + self.pay / self.jars


def cost_of(cards: Cards, card: BatchCard, picked: Iterable[tuple[str, float]]) -> Cost:
    """Cost of the batch of a card from ``picked`` fruit: name and kg as picked."""
    prices = {good.name: good.price / MONEY for good in cards.goods}
    materials = [(fruit, kg * cards.scenario.fruit(fruit).kitchen_value) for fruit, kg in picked]
    materials += [(good, quantity * prices[good]) for good, quantity in cards.uses(card).items()]
    materials.append(("energy", card.energy / MONEY))
    return Cost(tuple(materials), _pay(card, cards.scenario), sum(card.kept))


def both_days(first: Cost, second: Cost) -> Cost:
    """Cost of a batch whose juice was softened for on the day before: what both days take."""
    materials: dict[str, float] = {}
    for name, amount in (*first.materials, *second.materials):
        materials[name] = materials.get(name, 0.0) + amount
    known = first.pay is not None and second.pay is not None
    pay = (first.pay or 0.0) + (second.pay or 0.0) if known else None
    return Cost(tuple(materials.items()), pay, first.jars + second.jars)


def _pay(card: BatchCard, scenario: Scenario) -> float | None:
    """Pay of the hands: stages, and who may do them, as in the rule book, 25."""
    kitchen = scenario.kitchen
    work: tuple[tuple[Skill | None, int], ...] = (
        (Skill.PREPARE, card.prepare),
        (Skill.COOK, card.cooking),
        (Skill.FILL, kitchen.fillers * card.pot),
        (None, card.wash + card.wash_jars + kitchen.oven.load_minutes * (card.jars > 0)),
    )
    may_do = {who.name: scenario.work_rules.skills_on(who, scenario.start) for who in scenario.people}
    pay = 0.0
    for skill, minutes in work:
        able = [who.pay for who in scenario.people if skill is None or skill in may_do[who.name]]
        if not able:
            return None
        pay += fmean(able) * minutes / 60
    return pay
