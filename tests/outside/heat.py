"""Heat on the ring, heat in the fruit, cooling, and the tables behind a kitchen's own measurements."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.physics import boil, calibration, composition, cooling, freezing, gas
from tests.outside.check import MEMORY, PRACTICE, Check

QUART_KG = 0.946353 * 0.999
START_C, BOILING_C = (60 - 32) / 1.8, 100.0
"""60 and 212 °F, which the quart-boiling test does not print but its 317 BTU imply."""
BTU_KJ = 1.05506

TABLE = "Freezing point and properties of foods (ASHRAE-type table)"
ABOVE = {
    "strawberry": 4.02,
    "raspberry": 3.98,
    "blackberry": 3.89,
    "blueberry": 3.81,
    "sour cherry": 3.85,
    "cherry": 3.73,
}
BELOW = {"strawberry": 1.84, "raspberry": 1.93, "blackberry": 1.93, "blueberry": 2.05, "sour cherry": 2.05}
LATENT = {
    "strawberry": 307,
    "raspberry": 288,
    "blackberry": 286,
    "blueberry": 284,
    "sour cherry": 288,
    "cherry": 270,
}
HANDBOOK_66 = {
    "strawberry": 3.85,
    "raspberry": 3.56,
    "blackberry": 3.68,
    "blueberry": 3.60,
    "gooseberry": 3.81,
    "blackcurrant": 3.68,
}
STUDENT_T = {4: 2.132, 5: 2.015, 6: 1.943, 8: 1.860, 10: 1.812, 20: 1.725}


def checks() -> Iterator[Check]:
    yield from _rings()
    yield from _fruit()
    yield from _pans()
    yield from _gas()
    source = "Student's t distribution, one-sided 95 %, statistical tables"
    for freedom, t in STUDENT_T.items():
        ours = calibration.student_t(0.95, freedom)
        yield Check(f"t at {freedom} degrees", "Student's t", "", t, ours, 0.002, source, MEMORY)


def _rings() -> Iterator[Check]:
    source = "Fast Company, induction versus gas: a quart of water to the boil"
    kilojoules = 60 * boil.heat_up_minutes(0.0, 0.1, 0.0, QUART_KG, START_C, BOILING_C, 1.0, 1.0)
    yield Check("quart of water", "heat to boil a US quart", "BTU", 317, kilojoules / BTU_KJ, 2, source)
    for heat, kw, minutes, percent in (("gas", 2.05149, 8.5, 32.0), ("induction", 1.3, 5.83333, 73.7)):
        ours = 100 * boil.measured_efficiency(QUART_KG, START_C, BOILING_C, minutes, kw)
        yield Check(f"quart on {heat}", "efficiency of the ring", "%", percent, ours, 0.5, source)
    schott = "SCHOTT, putting induction, electric and gas to the test"
    calmta = "CalMTA fact sheet, induction cooking (after ENERGY STAR)"
    for heat, percent, tolerance, source in (
        ("gas", 44, 8, schott),
        ("electric", 80, 8, schott),
        ("gas", 32, 8, calmta),
        ("induction", 85, 8, calmta),
    ):
        name = f"{heat}, {source.split(',')[0].split()[0]}"
        ours = 100 * boil.EFFICIENCY[heat]
        yield Check(name, "usual efficiency of a ring", "%", percent, ours, tolerance, source)


def _fruit() -> Iterator[Check]:
    """Water content as in the composition of the package; the tables differ in their fruit."""
    waters = {fruit: composition.composition(fruit).water for fruit in composition.known_fruits()}
    for fruit, heat in ABOVE.items():
        ours = boil.specific_heat(1 - waters[fruit], 20.0)
        yield Check(f"{fruit} on the ring", "specific heat at 20 °C", "kJ/(kg K)", heat, ours, 0.27, TABLE)
    for fruit, heat in BELOW.items():
        ours = freezing.heat_below(waters[fruit])
        yield Check(f"{fruit} frozen", "specific heat when frozen", "kJ/(kg K)", heat, ours, 0.2, TABLE)
    for fruit, heat in LATENT.items():
        ours = freezing.latent_kj_per_kg(waters[fruit])
        yield Check(f"{fruit} freezing", "latent heat", "kJ/kg", heat, ours, 20, TABLE)
    source = "USDA Agriculture Handbook 66 (1968), Table L3.3"
    for fruit, heat in HANDBOOK_66.items():
        ours = freezing.heat_above(waters[fruit])
        yield Check(f"{fruit} chilled", "specific heat above freezing", "kJ/(kg K)", heat, ours, 0.03, source)


def _pans() -> Iterator[Check]:
    source = "common practice: 1 to 2.5 kg/h from a 9 litre pan on a strong domestic ring"
    ours = 60 / boil.boil_minutes(1.0, 3.0, boil.EFFICIENCY["gas"], 30.0, 0.0)
    yield Check("water off a 9 litre pan", "water boiled off", "kg/h", 1.75, ours, 0.75, source, PRACTICE)
    source = "common practice: 14 to 28 K in 10 to 15 minutes, 8 kg in an open wide pan"
    for minutes in (10.0, 15.0):
        ours = 104.5 - cooling.temperature_after(minutes, 104.5, 8.0, 36.0, 22.0, covered=False)
        yield Check(f"open pan, {minutes:g} min", "cooling off the heat", "K", 21, ours, 7, source, PRACTICE)
    source = "common practice: 88 to 92 °C after 20 minutes, 10 kg in a covered pan"
    ours = cooling.temperature_after(20.0, 104.5, 10.0, 36.0, 22.0)
    yield Check("covered pan, 20 min", "temperature off the heat", "°C", 90, ours, 2, source, PRACTICE)


def _gas() -> Iterator[Check]:
    source = "World Nuclear Association, heat values of various fuels"
    yield Check("liquefied petroleum gas, least", "heat", "MJ/kg", 46, 3.6 * gas.kwh(1.0), 0.5, source)
