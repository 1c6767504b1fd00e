"""What a plan draws of electricity and gas: the most at once on each day, and the kg of gas that it burns."""

from __future__ import annotations

from datetime import date

import pandas as pd

from scheduler.domain.kitchen import Heat, Kitchen
from scheduler.domain.scenario import Scenario
from scheduler.languages import say, spoken
from scheduler.physics import gas
from scheduler.plan_rows import Plan, StageKind
from scheduler.views import words

_HEATED = frozenset({StageKind.SOFTEN, StageKind.DISSOLVE, StageKind.BOIL, StageKind.REBOIL})
_ON = _HEATED | {StageKind.STRAIN, StageKind.SET_TEST}


def gas_kwh(plan: Plan, scenario: Scenario) -> float:
    """kWh of gas that rings burn while they heat: not in set tests and straining, as in a batch's cost."""
    kw = {ring.name: ring.kw for ring in scenario.kitchen.rings if ring.heat is Heat.GAS}
    ring_of = {batch.id: batch.ring for batch in plan.batches}
    minutes = (
        (stage.end - stage.start) * kw.get(ring_of[stage.batch], 0.0)
        for stage in plan.stages
        if stage.kind in _HEATED
    )
    return sum(minutes) / 60


def gas_told(plan: Plan, scenario: Scenario) -> str:
    """How much gas the rings burn, and of how much; empty in a kitchen without a gas ring."""
    kitchen = scenario.kitchen
    if all(ring.heat is not Heat.GAS for ring in kitchen.rings):
        return ""
    kwh = gas_kwh(plan, scenario)
    burnt, held = words.mass(gas.propane_kg(kwh)), kitchen.supply.gas_kg
    if held is None:
        return say(
            "Gas that the rings burn: {kwh} kWh, of bottled gas {burnt}; no limit is given.",
            kwh=words.number(kwh, 1),
            burnt=burnt,
        )
    burns = kitchen.oven.kw and kitchen.oven.heat is Heat.GAS
    oven = f" {say('The jar oven burns gas besides.')}" if burns else ""
    return (
        say(
            "Gas that the rings burn: {burnt} of the {mass} in the bottles ({kwh} kWh).",
            burnt=burnt,
            mass=words.mass(held),
            kwh=words.number(kwh, 1),
        )
        + oven
    )


def power_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """One row per day with a batch: the most kW at once, and the kW there are, where they have a limit."""
    supply = scenario.kitchen.supply
    limits = {
        name: (is_gas, kw)
        for name, is_gas, kw in (("electric", False, supply.electric_kw), ("gas", True, supply.gas_kw))
        if kw is not None
    }
    days = sorted({batch.day for batch in plan.batches}) if limits else []
    return pd.DataFrame(
        {say("day"): words.day_name(day)}
        | {
            say("{name} kW at most", name=spoken(name)): _peak(plan, scenario.kitchen, day, is_gas)
            for name, (is_gas, _) in limits.items()
        }
        | {say("{name} kW there are", name=spoken(name)): kw for name, (_, kw) in limits.items()}
        for day in days
    )


def _peak(plan: Plan, kitchen: Kitchen, day: date, of_gas: bool) -> float:
    """The most kW of gas or electricity at any time of a day, with the jar oven and what is always on."""
    kw = {ring.name: ring.kw for ring in kitchen.rings if (ring.heat is Heat.GAS) is of_gas}
    drawn = {batch.id: kw.get(batch.ring, 0.0) for batch in plan.batches if batch.day == day}
    on = [stage for stage in plan.stages if stage.day == day and stage.kind in _ON]
    rings = (sum(drawn[s.batch] for s in on if s.start <= t < s.end) for t in {s.start for s in on})
    jars = any(stage.day == day and stage.kind is StageKind.LOAD_JARS for stage in plan.stages)
    oven = kitchen.oven.kw if jars and (kitchen.oven.heat is Heat.GAS) is of_gas else 0.0
    return max(rings, default=0.0) + oven + (0.0 if of_gas else kitchen.supply.other_electric_kw)
