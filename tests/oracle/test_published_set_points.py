"""Boiling and set points: what published rules imply, beyond ``tests/outside/set_points.py``."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from scheduler.physics import setpoint, water
from tests.outside.set_points import BROWN_RISES_K, END_POINTS_F, FOOT_M, HANDBOOK_RISES_K, celsius


@pytest.mark.parametrize(("feet", "fahrenheit"), END_POINTS_F.items())
def test_the_table_is_our_set_temperature_at_68_percent(feet: float, fahrenheit: float) -> None:
    """National Center for Home Food Preservation, Testing Jelly without Added Pectin: whole °F, so 0.4 K."""
    ours = setpoint.set_temperature_c(0.68, feet * FOOT_M)
    assert ours == pytest.approx(celsius(fahrenheit), abs=0.4)


def test_eight_fahrenheit_above_water_are_67_to_68_brix() -> None:
    """The same source's rule, on the modern curve of sucrose at sea level; the old kitchen table makes it 65.

    Higher up the same 8 °F mean a little more, because cooler boils rise less: below 69 at 8000 ft.
    """
    feet = sorted(END_POINTS_F)
    boils = [setpoint.water_boils_c(f * FOOT_M) + setpoint.RISE_BY_RULE_K for f in feet]
    found = [setpoint.solids_at(c, f * FOOT_M) for c, f in zip(boils, feet, strict=True)]
    assert 0.67 <= found[0] <= 0.68
    assert found == sorted(found)
    assert found[-1] < 0.69


@pytest.mark.parametrize(("brix", "kelvin"), HANDBOOK_RISES_K.items())
def test_the_rise_under_90_kpa_is_the_handbooks_scaled(brix: float, kelvin: float) -> None:
    """Cane-sugar handbooks near 1 atm (from memory), scaled as dilute solutions are, by T² ÷ latent heat."""
    boils = setpoint.water_boils_c(hpa=900.0) + 273.15
    scale = (boils / 373.12) ** 2 * 2256.5 / water.latent_kj_per_kg(hpa=900.0)
    assert setpoint.rise_k(brix / 100, hpa=900.0) == pytest.approx(kelvin * scale, abs=0.5)


def test_boiling_point_at_90_kpa() -> None:
    """IAPWS steam tables, 0.09 MPa: 96.687 °C; from memory."""
    assert setpoint.water_boils_c(hpa=900.0) == pytest.approx(96.687, abs=0.005)


def test_the_old_kitchen_table_runs_high() -> None:
    """Brown (1912): 4.0 K at 64 %, 5.6 K at 68 %, 6.5 K at 70 %. Modern data are 0.4, 1.1 and 1.5 K lower."""
    old = {**BROWN_RISES_K, 68: 5.6, 70: 6.5}
    excess = [old[percent] - setpoint.rise_k(percent / 100, 0.0) for percent in (64, 68, 70)]
    assert excess == pytest.approx([0.4, 1.1, 1.5], abs=0.1)


def test_jam_at_65_brix() -> None:
    """Experimental Cookery: at 65 % solids jelly boils 3.9 K above water; ours is pure sucrose, so 0.15 K."""
    assert setpoint.rise_k(0.65, 0.0) == pytest.approx(3.9, abs=0.15)


def test_a_forecast_pressure_of_the_standard_is_the_standard_altitude() -> None:
    """ICAO: 1013.25 hPa at the sea is the standard atmosphere at every height."""
    assert water.station_hpa(1013.25, 300.0) == pytest.approx(water.pressure_pa(300.0) / 100)


@pytest.mark.parametrize("altitude_m", [0, 300, 1500, 3000, 5000])
def test_water_is_that_of_another_library(altitude_m: float) -> None:
    """IAPWS-95 as computed by CoolProp, a reference library that the program itself does not use."""
    pressure = water.pressure_pa(altitude_m)
    assert water.boils_k(pressure) == pytest.approx(PropsSI("T", "P", pressure, "Q", 0, "Water"), abs=1e-3)
    vapour, liquid = (PropsSI("H", "P", pressure, "Q", quality, "Water") for quality in (1, 0))
    assert water.latent_kj_per_kg(altitude_m) == pytest.approx((vapour - liquid) / 1000, rel=1e-4)
