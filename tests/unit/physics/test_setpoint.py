"""Set point: directions, agreement of its parts, and numbers out of range."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from scheduler.physics import setpoint

ALTITUDES = [0, 50, 500, 1000, 2500, 5000]
SOLIDS = [0.05, 0.2, 0.4, 0.6, 0.65, 0.68, 0.75, 0.85]


def test_higher_up_everything_boils_cooler() -> None:
    for boils in (
        setpoint.pressure_pa,
        setpoint.water_boils_c,
        lambda m: setpoint.set_temperature_c(0.65, m),
    ):
        values = [boils(altitude) for altitude in ALTITUDES]
        assert values == sorted(set(values), reverse=True)


@pytest.mark.parametrize("altitude", ALTITUDES)
def test_thicker_boils_hotter_and_always_above_water(altitude: float) -> None:
    rises = [setpoint.rise_k(solids, altitude) for solids in SOLIDS]
    assert rises == sorted(set(rises))
    assert rises[0] > 0


@pytest.mark.parametrize("altitude", ALTITUDES)
@pytest.mark.parametrize("solids", SOLIDS)
def test_at_the_set_temperature_vapour_pressure_is_the_air_pressure(solids: float, altitude: float) -> None:
    """Buck's equation for the vapour pressure of water (from memory; good to 0.5 % at these temperatures)."""
    celsius = setpoint.set_temperature_c(solids, altitude)
    water_pa = 611.21 * math.exp((18.678 - celsius / 234.5) * celsius / (257.14 + celsius))
    vapour_pa = water_pa * setpoint.water_activity(solids, celsius + 273.15)
    assert vapour_pa == pytest.approx(setpoint.pressure_pa(altitude), rel=0.005)


def test_set_temperature_is_water_plus_rise() -> None:
    expected = setpoint.water_boils_c(300) + setpoint.rise_k(0.65, 300)
    assert setpoint.set_temperature_c(0.65, 300) == pytest.approx(expected)


def test_water_activity_falls_from_one() -> None:
    activities = [setpoint.water_activity(solids, 373.15) for solids in SOLIDS]
    assert activities == sorted(activities, reverse=True)
    assert setpoint.water_activity(1e-9, 373.15) == pytest.approx(1)
    assert activities[-1] > 0


@pytest.mark.parametrize("altitude", [-1, 5001, math.nan])
def test_altitude_out_of_range_is_named(altitude: float) -> None:
    calls: list[Callable[[], float]] = [
        lambda: setpoint.pressure_pa(altitude),
        lambda: setpoint.water_boils_c(altitude),
        lambda: setpoint.set_temperature_c(0.65, altitude),
        lambda: setpoint.rise_k(0.65, altitude),
    ]
    for call in calls:
        with pytest.raises(ValueError, match=r"altitude is .*; allowed: 0 to 5000 m\. Give metres"):
            call()


@pytest.mark.parametrize("solids", [0, 0.9, 65, -0.1, math.nan])
def test_solids_out_of_range_is_named(solids: float) -> None:
    with pytest.raises(ValueError, match=r"solids is .*; allowed: above 0 and below 0\.9 .*65 % as 0\.65"):
        setpoint.set_temperature_c(solids, 0)


def test_degrees_celsius_are_not_taken_for_kelvin() -> None:
    with pytest.raises(ValueError, match=r"temperature is 104; allowed: 250 to 450 K\. Give kelvin"):
        setpoint.water_activity(0.65, 104)
