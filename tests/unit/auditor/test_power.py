"""What findings of power and gas say, and on which days the jar oven counts."""

from __future__ import annotations

from scheduler.auditor import audit
from scheduler.domain.kitchen import Heat

from . import three_days_of_jelly as jelly
from .breaking import Change
from .broken_power import THREE, TWO, oven, supply


def findings(*changes: Change) -> list[str]:
    situation, plan = jelly.SITUATION, jelly.PLAN
    for change in changes:
        situation, plan = change(situation, plan)
    return [str(finding) for finding in audit(situation, plan)]


def test_the_oven_counts_on_days_of_potting_only() -> None:
    """Monday's fruit is softened only; on Tuesday and Wednesday juice is boiled and potted."""
    assert findings(oven(1.5, Heat.GAS, THREE), supply(gas_kw=4.4)) == [
        "power: 2026-07-07 08:00, gas: found 3 kW of rings; allowed: at most 2.9 kW",
        "power: 2026-07-08 08:00, gas: found 3 kW of rings; allowed: at most 2.9 kW",
    ]


def test_too_little_gas_is_told_in_kg_and_kwh() -> None:
    assert findings(supply(gas_kg=0.5)) == [
        "gas: all days: found 0.996 kg (12.750 kWh); allowed: at most 0.5 kg (6.400 kWh)"
    ]


def test_every_moment_at_which_a_ring_goes_on_is_told() -> None:
    situation, plan = supply(electric_kw=2.0, gas_kw=2.0)(TWO.situation, TWO.plan)
    told = [finding.where for finding in audit(situation, plan)]
    assert told == ["2026-07-06 09:25, electricity", "2026-07-06 08:30, gas"]
