"""Boiling and set points against published tables; the source stands beside each."""

from __future__ import annotations

import pytest

from scheduler.physics import boil, setpoint

FOOT_M = 0.3048

# National Center for Home Food Preservation, Testing Jelly without Added Pectin (table of So Easy to
# Preserve): end point of jelly in whole degrees Fahrenheit by altitude in feet.
END_POINTS_F = {
    0: 220,
    1000: 218,
    2000: 216,
    3000: 214,
    4000: 212,
    5000: 211,
    6000: 209,
    7000: 207,
    8000: 205,
}


# Sugar-industry handbooks (Hugot; van der Poel; Batterham & Norgate), near 1 atm, by °Brix; from memory.
HANDBOOK_RISES_K = {10: 0.1, 20: 0.3, 30: 0.6, 40: 1.0, 50: 1.8, 60: 3.0, 65: 3.8, 70: 5.1}


def _celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(("feet", "fahrenheit"), END_POINTS_F.items())
def test_set_point_is_8_f_above_water(feet: float, fahrenheit: float) -> None:
    """The same source's rule, 8 °F above the boiling point of water; it rounds to 1 °F, so 0.4 K."""
    altitude = feet * FOOT_M
    assert setpoint.water_boils_c(altitude) + 8 / 1.8 == pytest.approx(_celsius(fahrenheit), abs=0.4)


@pytest.mark.parametrize(("feet", "fahrenheit"), END_POINTS_F.items())
def test_the_table_is_our_set_temperature_at_68_percent(feet: float, fahrenheit: float) -> None:
    altitude = feet * FOOT_M
    assert setpoint.set_temperature_c(0.68, altitude) == pytest.approx(_celsius(fahrenheit), abs=0.4)


@pytest.mark.parametrize(("altitude", "celsius"), [(0, 99.97), (1000, 96.65), (2000, 93.32)])
def test_boiling_point_of_water(altitude: float, celsius: float) -> None:
    """IAPWS Industrial Formulation 1997 at the pressures of the US Standard Atmosphere 1976."""
    assert setpoint.water_boils_c(altitude) == pytest.approx(celsius, abs=0.05)


@pytest.mark.parametrize(
    ("feet", "celsius"), [(0, 100.0), (1000, 99.01), (2000, 98.03), (3000, 97.05), (4000, 96.08)]
)
def test_boiling_point_of_the_canning_guide(feet: float, celsius: float) -> None:
    """USDA Complete Guide to Home Canning, adjustments at high altitudes. Its 0.98 K per 1000 ft is a
    rule of thumb that lies above the standard atmosphere's curve by up to 0.2 K, hence 0.25 K."""
    assert setpoint.water_boils_c(feet * FOOT_M) == pytest.approx(celsius, abs=0.25)


@pytest.mark.parametrize(("altitude", "kilopascal"), [(0, 101.325), (1000, 89.876), (2000, 79.501)])
def test_pressure_of_the_standard_atmosphere(altitude: float, kilopascal: float) -> None:
    """US Standard Atmosphere 1976, tables by geometric altitude."""
    assert setpoint.pressure_pa(altitude) / 1000 == pytest.approx(kilopascal, abs=0.005)


@pytest.mark.parametrize(("brix", "kelvin"), HANDBOOK_RISES_K.items())
def test_rise_of_sucrose_syrup(brix: float, kelvin: float) -> None:
    """Pure sucrose, as ours is; the handbooks are held from memory, so 0.3 K."""
    assert setpoint.rise_k(brix / 100, 0) == pytest.approx(kelvin, abs=0.3)


def test_jam_at_65_brix() -> None:
    """Experimental Cookery: at 65 % solids jelly boils 3.9 K above water; ours is pure sucrose, so 0.15 K."""
    assert setpoint.rise_k(0.65, 0) == pytest.approx(3.9, abs=0.15)


def test_latent_heat_of_water() -> None:
    """Steam tables (IAPWS): 2256.5 kJ/kg at 101.325 kPa."""
    assert boil.latent_kj_per_kg(0) == pytest.approx(2256.5, abs=0.5)
