"""Set point: directions, agreement of its parts, and numbers out of range."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from scheduler.physics import setpoint, water

ALTITUDES = [0, 50, 500, 1000, 2500, 5000]
SOLIDS = [0.05, 0.2, 0.4, 0.6, 0.65, 0.68, 0.75, 0.85]


def test_higher_up_everything_boils_cooler() -> None:
    for boils in (
        water.pressure_pa,
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
    assert vapour_pa == pytest.approx(water.pressure_pa(altitude), rel=0.005)


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
        lambda: water.pressure_pa(altitude),
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


@pytest.mark.parametrize("altitude", ALTITUDES)
def test_a_barometer_takes_the_place_of_the_altitude(altitude: float) -> None:
    hpa = water.pressure_pa(altitude) / 100
    assert setpoint.water_boils_c(hpa=hpa) == pytest.approx(setpoint.water_boils_c(altitude))
    assert setpoint.set_temperature_c(0.65, hpa=hpa) == pytest.approx(
        setpoint.set_temperature_c(0.65, altitude)
    )
    assert setpoint.rise_k(0.65, hpa=hpa) == pytest.approx(setpoint.rise_k(0.65, altitude))


def test_low_pressure_weather_lowers_the_set_temperature() -> None:
    stormy, fine = (setpoint.set_temperature_c(0.65, hpa=hpa) for hpa in (970.0, 1040.0))
    assert 1.5 < fine - stormy < 2.5


@pytest.mark.parametrize("altitude", ALTITUDES)
@pytest.mark.parametrize("solids", SOLIDS)
def test_solids_undo_the_set_temperature(solids: float, altitude: float) -> None:
    celsius = setpoint.set_temperature_c(solids, altitude)
    assert setpoint.solids_at(celsius, altitude) == pytest.approx(solids, abs=1e-6)


def test_a_shift_moves_the_curve_and_is_undone_by_solids() -> None:
    plain = setpoint.set_temperature_c(0.65, 50.0)
    shifted = setpoint.set_temperature_c(0.65, 50.0, offset_k=0.7)
    assert shifted - plain == pytest.approx(0.7)
    assert setpoint.solids_at(shifted, 50.0, offset_k=0.7) == pytest.approx(0.65)
    assert setpoint.solids_at(plain, 50.0, offset_k=0.7) < 0.65


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: setpoint.solids_at(99.0, 0.0), r"temperature of the boil is 99; allowed: above 99\.97"),
        (lambda: setpoint.solids_at(140.0, 0.0), "temperature of the boil is 140; .*Check the thermometer"),
        (lambda: setpoint.set_temperature_c(0.65, 0.0, offset_k=8.0), "shift of the set temperature is 8"),
        (lambda: setpoint.set_temperature_c(0.65, hpa=90.0), "barometer is 90; .*station_hpa"),
        (lambda: setpoint.water_boils_c(hpa=101_325.0), "barometer is 101325"),
        (setpoint.water_boils_c, "neither of altitude and barometer given; allowed: one"),
        (lambda: setpoint.water_boils_c(0.0, hpa=1013.0), "both of altitude and barometer given"),
    ],
)
def test_what_cannot_be_is_named(call: Callable[[], float], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "allowed: " in str(raised.value)
