"""Power and gas of the sample week, by hand: each batch dissolves 15, boils 25, re-boils 10 minutes."""

from __future__ import annotations

import io
from dataclasses import replace

import kilbrack_sample as sample
import pytest
from rich.console import Console

from scheduler.domain.kitchen import Heat, JarOven, Ring, Supply
from scheduler.domain.scenario import Scenario
from scheduler.plan_rows import StageKind
from scheduler.views import power_tables as tables
from scheduler.views.summary import summary

PLAN = sample.plan()
BASE = sample.situation().scenario


def kitchen(supply: Supply, heat: Heat = Heat.GAS, oven: JarOven | None = None) -> Scenario:
    """The sample's kitchen with rings of 3 kW, all of one heat."""
    rings = tuple(Ring(ring.name, heat, 3.0, 0.5, ring.largest_pan_cm) for ring in BASE.kitchen.rings)
    oven = oven or BASE.kitchen.oven
    return replace(BASE, kitchen=replace(BASE.kitchen, rings=rings, supply=supply, oven=oven))


def test_gas_burnt_worked_by_hand() -> None:
    """3 kW × (15 + 25 + 10) min = 2.5 kWh a batch."""
    assert tables.gas_kwh(PLAN, kitchen(Supply())) == pytest.approx(2.5 * len(PLAN.batches))
    assert tables.gas_kwh(PLAN, kitchen(Supply(), Heat.INDUCTION)) == 0.0


def test_gas_is_told_with_and_without_a_limit() -> None:
    kwh, kg = 2.5 * len(PLAN.batches), 2.5 * len(PLAN.batches) / 12.8
    none = tables.gas_told(PLAN, kitchen(Supply()))
    assert none == f"Gas that the rings burn: {kwh:.1f} kWh, of bottled gas {kg:.1f} kg; no limit is given."
    some = tables.gas_told(PLAN, kitchen(Supply(gas_kg=11.0)))
    assert some == f"Gas that the rings burn: {kg:.1f} kg of the 11.0 kg in the bottles ({kwh:.1f} kWh)."
    besides = kitchen(Supply(gas_kg=11.0), oven=JarOven(90, 10, 20, 90, 2.0, Heat.GAS))
    assert tables.gas_told(PLAN, besides).endswith("The jar oven burns gas besides.")
    assert tables.gas_told(PLAN, kitchen(Supply(gas_kg=None), Heat.ELECTRIC)) == ""


def test_the_summary_tells_of_gas() -> None:
    console = Console(width=100, record=True, file=io.StringIO())
    console.print(summary(PLAN, replace(sample.situation(), scenario=kitchen(Supply(gas_kg=11.0)))))
    assert "of the 11.0 kg in the bottles" in console.export_text()


def test_a_limit_has_its_column_and_the_most_at_once_is_counted_by_the_clock() -> None:
    assert tables.power_table(PLAN, kitchen(Supply())).empty
    table = tables.power_table(PLAN, kitchen(Supply(electric_kw=9.0, other_electric_kw=0.5), Heat.ELECTRIC))
    assert list(table.columns) == ["day", "electric kW at most", "electric kW there are"]
    days = sorted({batch.day for batch in PLAN.batches})
    on = frozenset(StageKind) - {
        StageKind.PREPARE, StageKind.LOAD_JARS, StageKind.STAND, StageKind.STAND_BY, StageKind.POT_UP,
        StageKind.WASH, StageKind.FREEZE,
    }  # fmt: skip
    for day, peak in zip(days, table["electric kW at most"], strict=True):
        at_once = [
            len({s.batch for s in PLAN.stages if s.day == day and s.kind in on and s.start <= t < s.end})
            for t in range(0, 1440, 5)
        ]
        assert peak == pytest.approx(3.0 * max(at_once) + 0.5)


def test_the_oven_counts_on_days_on_which_jars_are_loaded() -> None:
    hot = JarOven(90, 10, 20, 90, 2.0, Heat.ELECTRIC)
    without = tables.power_table(PLAN, kitchen(Supply(electric_kw=9.0), Heat.ELECTRIC))
    with_oven = tables.power_table(PLAN, kitchen(Supply(electric_kw=9.0), Heat.ELECTRIC, hot))
    loaded = {stage.day for stage in PLAN.stages if stage.kind is StageKind.LOAD_JARS}
    more = with_oven["electric kW at most"] - without["electric kW at most"]
    days = sorted({batch.day for batch in PLAN.batches})
    assert list(more) == [2.0 * (day in loaded) for day in days]
    gas = tables.power_table(PLAN, kitchen(Supply(gas_kw=9.0), Heat.ELECTRIC, hot))
    assert set(gas["gas kW at most"]) == {0.0}
