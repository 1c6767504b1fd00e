"""Random kitchens whose goods have dates, whose deliveries come late, and whose fruit stains."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from random import Random
from typing import Any

from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import SUGAR, Good
from tests.kitchens_of_kinds import trading_kitchen


def kitchen_of_goods(seed: int, **sizes: Any) -> Situation:
    """A kitchen that trades, with dates on most goods; some are not to be had in time. Sizes as of
    ``random_kitchen``.
    """
    rng, situation = Random(f"goods {seed}"), trading_kitchen(seed, **sizes)
    scenario = situation.scenario
    kitchen = replace(scenario.kitchen, full_wash_minutes=rng.choice((None, 15, 25)))
    changed = replace(
        scenario,
        kitchen=kitchen,
        recipes=tuple(replace(recipe, stains=rng.random() < 0.5) for recipe in scenario.recipes),
        goods=tuple(_dated(rng, good, scenario) for good in scenario.goods),
        deliveries=tuple(
            replace(row, at=rng.choice((None, kitchen.open, kitchen.open + 5, kitchen.close)))
            for row in scenario.deliveries
        ),
    )
    return replace(situation, scenario=changed)


def _dated(rng: Random, good: Good, scenario: Scenario) -> Good:
    """Mostly more on hand than a few days use, so that dates bind and not what there is."""
    on_hand = good.on_hand * rng.choice((1, 3))
    opened = round(on_hand * rng.choice((0.0, 0.2, 0.5, 1.0)), 1 if good.name == SUGAR else 0)
    until, longer = sorted(rng.choices(range(scenario.days), k=2))
    return replace(
        good,
        on_hand=on_hand,
        lead_days=rng.choice((good.lead_days, 30)),
        best_before=rng.choice((None, scenario.start + timedelta(days=longer))),
        opened=opened,
        opened_use_by=scenario.start + timedelta(days=until) if opened else None,
    )


def undated(scenario: Scenario) -> Scenario:
    """The same farm with goods that keep for ever."""
    goods = (replace(good, best_before=None, opened=0.0, opened_use_by=None) for good in scenario.goods)
    return replace(scenario, goods=tuple(goods))
