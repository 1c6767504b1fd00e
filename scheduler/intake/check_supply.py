"""Checks of what electricity and gas give against what rings and jar oven draw."""

from __future__ import annotations

from scheduler.domain.kitchen import Heat
from scheduler.intake import keys
from scheduler.intake.faults import FaultList
from scheduler.intake.gathered import KITCHEN, Gathered

_NEAR = 1e-9


def power(found: Gathered, faults: FaultList) -> None:
    """Each supply carries what is always on, the jar oven, and any one ring that takes a pan."""
    supply, oven = found.table("supply", keys.SupplyTable), found.table("jar_oven", keys.OvenTable)
    if supply is None or oven is None:
        return
    if supply.electric_kw is not None:
        left = supply.electric_kw - supply.other_electric_kw
        if left < _NEAR:
            where, seen = "[supply], key other_electric_kw", f"{supply.other_electric_kw:g} kW"
            allowed = f"below electric_kw ({supply.electric_kw:g} kW)"
            faults.add(KITCHEN, where, seen, allowed, "Mend one of the two: 800 W are 0.8 kW.")
        else:
            _note_strong(found, "electric_kw", left, oven, faults)
    if supply.gas_kw is not None:
        _note_strong(found, "gas_kw", supply.gas_kw, oven, faults)


def _note_strong(found: Gathered, key: str, kw: float, oven: keys.OvenTable, faults: FaultList) -> None:
    """Note an oven that draws more than ``kw``, or else the rings that draw more than it leaves of them."""
    of_gas = key == "gas_kw"
    left = kw - oven.kw if (oven.heat == Heat.GAS) == of_gas else kw
    if left < -_NEAR:
        allowed = f"at most {kw:g} kW, what [supply] {key} leaves to it"
        remedy = f"Mend the kW (2500 W are 2.5), or raise {key}."
        faults.add(KITCHEN, "[jar_oven], key kw", f"{oven.kw:g} kW", allowed, remedy)
        return
    for ring in found.rings:
        takes_a_pan = any(pan.value.diameter_cm <= ring.value.largest_pan_cm for pan in found.pans)
        same = (ring.value.heat is Heat.GAS) == of_gas
        if takes_a_pan and same and ring.value.kw > left + _NEAR:
            allowed = (
                f"at most {left:g} kW, what [supply] {key} leaves beside jar oven and all that is always on"
            )
            remedy = f"Raise {key}, or write the kW that the ring is turned down to."
            faults.add(KITCHEN, ring.at("kw"), f"{ring.value.kw:g} kW", allowed, remedy)


def bottles(found: Gathered, faults: FaultList) -> None:
    """What is said of gas has something that burns it; passed over where a fault may hide a ring."""
    supply, oven = found.table("supply", keys.SupplyTable), found.table("jar_oven", keys.OvenTable)
    burns = any(ring.value.heat is Heat.GAS for ring in found.rings)
    if supply is None or oven is None or burns or faults.has(KITCHEN):
        return
    remedy = 'Remove it, or write heat = "gas" where gas is burnt.'
    if supply.gas_kg is not None:
        allowed = "none where no ring burns gas"
        faults.add(KITCHEN, "[supply], key gas_kg", f"{supply.gas_kg:g} kg", allowed, remedy)
    if supply.gas_kw is not None and not (oven.kw and oven.heat == Heat.GAS):
        allowed = "none where neither ring nor jar oven burns gas"
        faults.add(KITCHEN, "[supply], key gas_kw", f"{supply.gas_kw:g} kW", allowed, remedy)
