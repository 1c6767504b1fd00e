"""Farms whose goods have dates or come late, and whose pans are washed in full, so that each rule binds."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from scheduler.domain.recipes import OtherIngredient
from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import Delivery
from tests.property.without import changed


def dated(farm: Scenario) -> Scenario:
    """Plenty of all goods, but for the first day only; nothing can be bought in time."""
    return changed("goods", on_hand=500.0, lead_days=30, best_before=farm.start)(farm)


def delivered_late(farm: Scenario) -> Scenario:
    """All goods come on the first day, when the kitchen closes."""
    rows = (Delivery(farm.start, good.name, 500.0, farm.kitchen.close) for good in farm.goods)
    bare = changed("goods", on_hand=0.0, lead_days=30)(farm)
    return replace(bare, deliveries=tuple(rows))


def with_almonds(farm: Scenario) -> Scenario:
    """Every recipe holds an allergen."""
    return _washed_in_full(farm, others=(OtherIngredient("almonds", 5.0, allergen=True),))


def staining(farm: Scenario) -> Scenario:
    """Every recipe stains."""
    return _washed_in_full(farm, stains=True)


def _washed_in_full(farm: Scenario, **recipe: Any) -> Scenario:
    """A pan is washed for 20 minutes after every recipe."""
    return changed("kitchen", full_wash_minutes=20)(changed("recipes", **recipe)(farm))
