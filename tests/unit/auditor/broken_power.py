"""Worked plans in kitchens with too little power or gas, and with just enough: rules 42 and 43.

The day of two pans: the large one cooks from 8:30 to 10:05 on the left ring (gas, 3 kW), the small one from
9:25 to 10:25 on the right one (induction, 3 kW); on gas it costs 3 × 50 ÷ 60 × 0.12 = 0.30 instead of 1.00.
The left ring burns 3 × (35 + 40 + 10) ÷ 60 = 4.25 kWh; ÷ 12.8 kWh/kg = 0.33203 kg.
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.kitchen import Heat, Supply

from . import day_of_two_pans as two_pans
from . import three_days_of_jelly as jelly
from . import worked_days as hand
from .breaking import Breaks, Change, goal, kitchen, moved, rows
from .broken_juice import leaving
from .worked_days import TUESDAY, at

NONE = ""
TWO = Breaks(two_pans.SITUATION, two_pans.PLAN)
THREE = Breaks(jelly.SITUATION, jelly.PLAN)
INSIDE = Breaks(two_pans.SITUATION, two_pans.PLAN)
INSIDE_THREE = Breaks(jelly.SITUATION, jelly.PLAN)
"""Each of the inside ones breaks no rule."""


def supply(**given: float) -> Change:
    return kitchen(supply=Supply(**given))


def oven(kw: float, heat: Heat, base: Breaks = TWO) -> Change:
    return kitchen(oven=replace(base.situation.scenario.kitchen.oven, kw=kw, heat=heat))


BOTH_ON_GAS = (kitchen(rings=(hand.LEFT, replace(hand.RIGHT, heat=Heat.GAS))), goal("money", 101.81))

# ---- kW at once: rule 42 ----

INSIDE.add(NONE, "gas and electricity for one ring each", supply(electric_kw=3.0, gas_kw=3.0))
TWO.add("power", "electricity for less than the ring", supply(electric_kw=2.9))
TWO.add("power", "gas for less than the ring", supply(gas_kw=2.9))
INSIDE.add(NONE, "beside what is always on", supply(electric_kw=3.5, other_electric_kw=0.5))
TWO.add("power", "not beside what is always on", supply(electric_kw=3.4, other_electric_kw=0.5))
INSIDE.add(NONE, "beside an electric oven", oven(1.5, Heat.ELECTRIC), supply(electric_kw=4.5, gas_kw=3.0))
TWO.add("power", "not beside an electric oven", oven(1.5, Heat.ELECTRIC), supply(electric_kw=4.4))
INSIDE.add(NONE, "beside a gas oven", oven(1.5, Heat.GAS), supply(electric_kw=3.0, gas_kw=4.5))
TWO.add("power", "not beside a gas oven", oven(1.5, Heat.GAS), supply(gas_kw=4.4))
INSIDE.add(NONE, "gas for two rings", *BOTH_ON_GAS, supply(gas_kw=6.0))
TWO.add("power", "gas for less than two rings", *BOTH_ON_GAS, supply(gas_kw=5.9))
A_LITTLE_MORE = kitchen(rings=(replace(hand.LEFT, kw=3.0004), hand.RIGHT))  # 3001 W
INSIDE.add(NONE, "a watt more for a ring rounded up", A_LITTLE_MORE, supply(gas_kw=3.001))
TWO.add("power", "a ring rounded up, gas rounded down", A_LITTLE_MORE, supply(gas_kw=3.0005))


def one_ring_after_the_other(minutes: int) -> tuple[Change, ...]:
    """Gas feeds one ring: on Tuesday the right one until 9:20, the left one so many minutes after 8:00."""
    before = (moved(-20, batch="b3", kind=kind) for kind, *_ in SECOND)
    after = (moved(minutes, batch="b2", kind=kind) for kind, *_ in jelly.JUICE_LINES)
    return (
        kitchen(rings=(hand.LEFT, replace(hand.RIGHT, heat=Heat.GAS))),
        *before,
        *after,
        *leaving("11:30", TUESDAY, "Ann", "Ben"),
        rows("finishes", {"day": TUESDAY}, ends=at("10:10") + minutes, bound=at("10:10") + minutes),
        goal("money", 231.36),  # softened on gas 0.33 instead of 1.10, 1 h × 27 more of pay
        supply(gas_kw=3.0),
    )


SECOND = [(stage.kind,) for stage in jelly.SECOND_STAGES if stage.kind != "prepare"]
INSIDE_THREE.add(NONE, "a ring goes on when straining ends", *one_ring_after_the_other(80))
THREE.add("power", "a ring goes on while fruit is strained", *one_ring_after_the_other(75))
INSIDE_THREE.add(NONE, "beside a gas oven on days of potting", oven(1.5, Heat.GAS, THREE), supply(gas_kw=4.5))

# ---- gas of all days: rule 43 ----

INSIDE.add(NONE, "gas for the left ring, none for the right one", supply(gas_kg=0.3321))
TWO.add("gas", "too little gas for the left ring", supply(gas_kg=0.3319))
# on gas the right ring burns 3 × 50 ÷ 60 = 2.5 kWh: 6.75 kWh ÷ 12.8 = 0.52734 kg
INSIDE.add(NONE, "gas for both rings", *BOTH_ON_GAS, supply(gas_kg=0.5274))
TWO.add("gas", "too little gas for both rings", *BOTH_ON_GAS, supply(gas_kg=0.5272))
# softened 3 × 55 ÷ 60 = 2.75, the juice of each 3 × 100 ÷ 60 = 5.00 kWh: 12.75 ÷ 12.8 = 0.99609 kg
INSIDE_THREE.add(NONE, "gas for softening and both boils", supply(gas_kg=0.9962))
THREE.add("gas", "too little gas over three days", supply(gas_kg=0.9960))

BREAKS = [*TWO.all, *THREE.all]
