"""Pressure at the kitchen and water at the boil: agreement of its parts, and numbers out of range."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from scheduler.physics import water


def test_vapour_pressure_undoes_the_boiling_point() -> None:
    for pressure in (54_000.0, 90_000.0, 101_325.0):
        assert water.vapour_pressure_pa(water.boils_k(pressure)) == pytest.approx(pressure, rel=1e-6)


def test_a_forecast_is_turned_into_the_pressure_of_the_kitchen() -> None:
    assert water.station_hpa(1000.0, 0.0) == pytest.approx(1000)
    assert water.station_hpa(1000.0, 300.0) < 970
    low, high = (water.station_hpa(hpa, 300.0) for hpa in (970.0, 1040.0))
    assert low < water.pressure_pa(300.0) / 100 < high


def test_pressure_comes_from_altitude_or_barometer() -> None:
    assert water.here_pa(300.0, None) == water.pressure_pa(300.0)
    assert water.here_pa(None, 970.0) == 97_000


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: water.station_hpa(970.0, -5.0), "altitude is -5"),
        (lambda: water.station_hpa(97.0, 300.0), "pressure at sea level is 97"),
        (lambda: water.here_pa(None, 1500.0), "barometer is 1500; allowed: 500 to 1085 hPa"),
        (lambda: water.boils_k(1013.0 / 1000), r"pressure is 1\.013; .*pascals"),
        (lambda: water.vapour_pressure_pa(104.0), "temperature is 104; .*kelvin"),
        (water.latent_kj_per_kg, "neither of altitude and barometer"),
    ],
)
def test_out_of_range_is_named(call: Callable[[], float], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        call()
