"""Rules 42 and 43: what rings and jar oven draw at once, and the gas that the rings burn."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.auditor.case import Case, grouped
from scheduler.auditor.course import Course, courses, too_much_at_once
from scheduler.auditor.finding import Finding, clock
from scheduler.auditor.panful import Panful, down, up
from scheduler.domain.kitchen import Heat
from scheduler.physics import gas
from scheduler.plan_rows import Batch, Part

KWH = 0.001 + 1e-9
"""Tolerance of the gas burnt."""


def rings_draw_no_more_than_the_supply_gives(case: Case) -> Iterator[Finding]:
    """Rule 42, for gas and for electricity where it has a limit."""
    supply, runs = case.farm.kitchen.supply, list(courses(case))
    if supply.electric_kw is not None:
        given = down(1000 * supply.electric_kw) - up(1000 * supply.other_electric_kw)
        electric = [run for run in runs if not _on_gas(case, run.batch)]
        yield from _too_strong(case, "electricity", given, electric)
    if supply.gas_kw is not None:
        burning = [run for run in runs if _on_gas(case, run.batch)]
        yield from _too_strong(case, "gas", down(1000 * supply.gas_kw), burning)


def _on_gas(case: Case, batch: Batch) -> bool:
    return case.farm.rings[batch.ring].heat == Heat.GAS


def _too_strong(case: Case, name: str, given: int, runs: list[Course]) -> Iterator[Finding]:
    """Moments at which rings draw more than ``given`` watts, less the oven's on a day on which it is on."""
    oven = case.farm.kitchen.oven
    mine = up(1000 * oven.kw) if (oven.heat == Heat.GAS) == (name == "gas") else 0
    potting = {batch.day for batch in case.plan.batches if batch.part != Part.SOFTEN}
    for day, some in grouped(runs, lambda run: run.batch.day).items():
        room = given - (mine if day in potting else 0)
        loads = (((run.begins, run.cooked), up(1000 * case.farm.rings[run.batch.ring].kw)) for run in some)
        for moment, load in too_much_at_once(loads, room):
            where = f"{day.isoformat()} {clock(moment)}, {name}"
            yield Finding("power", where, f"{load / 1000:g} kW of rings", f"at most {room / 1000:g} kW")


def the_bottles_hold_the_gas_that_is_burnt(case: Case) -> Iterator[Finding]:
    """Rule 43."""
    most_kg = case.farm.kitchen.supply.gas_kg
    if most_kg is None:
        return
    burnt = sum(_kwh(case, batch) for batch in case.plan.batches if _on_gas(case, batch))
    if burnt > gas.kwh(most_kg) + KWH:
        found = f"{gas.propane_kg(burnt):.3f} kg ({burnt:.3f} kWh)"
        yield Finding("gas", "all days", found, f"at most {most_kg:g} kg ({gas.kwh(most_kg):.3f} kWh)")


def _kwh(case: Case, batch: Batch) -> float:
    card = case.card(batch)
    if not isinstance(card, Panful):
        return 0.0
    minutes = card.soften + card.dissolve + card.boil + card.reboils * card.reboil
    return up(1000 * case.farm.rings[batch.ring].kw) * minutes / 60_000
