"""Heat on the ring: proportions, the cap of the open surface, and numbers out of range."""

from __future__ import annotations

import math

import pytest

from scheduler.physics import boil, pan, setpoint, water

JAM = {"fruit_kg": 6.0, "fruit_solids": 0.09, "sugar_kg": 6.0, "water_kg": 0.0, "from_c": 4.0, "to_c": 100.0}


def test_heat_up_is_energy_over_power() -> None:
    minutes = boil.heat_up_minutes(**JAM, kw=3.5, efficiency=0.84)
    kilojoules = 12 * boil.specific_heat((6 * 0.09 + 6) / 12, 52) * 96 + 6 * boil.DISSOLVE_KJ_PER_KG
    assert minutes * 60 * 3.5 * 0.84 == pytest.approx(kilojoules)
    assert boil.heat_up_minutes(**JAM, kw=7, efficiency=0.42) == pytest.approx(minutes)


def test_more_in_the_pan_takes_longer() -> None:
    plain = boil.heat_up_minutes(**JAM, kw=3.5, efficiency=0.84)
    for more in ({"fruit_kg": 7.0}, {"sugar_kg": 7.0}, {"water_kg": 1.0}, {"from_c": 1.0}, {"to_c": 104.0}):
        assert boil.heat_up_minutes(**{**JAM, **more}, kw=3.5, efficiency=0.84) > plain


def test_at_the_boil_only_the_sugar_still_takes_heat() -> None:
    dissolving = boil.heat_up_minutes(**{**JAM, "from_c": 100.0}, kw=3.5, efficiency=0.84)
    assert dissolving * 60 * 3.5 * 0.84 == pytest.approx(6 * boil.DISSOLVE_KJ_PER_KG)
    assert boil.heat_up_minutes(**{**JAM, "from_c": 100.0, "sugar_kg": 0.0}, kw=3.5, efficiency=0.84) == 0


def test_fresh_chilled_and_frozen_fruit_take_longer_in_turn() -> None:
    minutes = [
        boil.heat_up_minutes(**{**JAM, "from_c": celsius}, kw=3.5, efficiency=0.84)
        for celsius in (20.0, 4.0, -18.0, -25.0)
    ]
    assert minutes == sorted(set(minutes))
    assert minutes[2] > 1.4 * minutes[1]


def test_a_weak_ring_sets_the_pace_of_the_boil() -> None:
    minutes = boil.boil_minutes(2, kw=2, efficiency=0.5, diameter_cm=60, altitude_m=0)
    assert minutes == pytest.approx(2 * water.latent_kj_per_kg(0.0) / 60)
    assert boil.boil_minutes(2, 4, 0.5, 60, 0) == pytest.approx(minutes / 2)


def test_a_small_surface_sets_the_pace_under_a_strong_ring() -> None:
    minutes = boil.boil_minutes(2, kw=12, efficiency=0.84, diameter_cm=36, altitude_m=0)
    assert minutes == pytest.approx(2 * 60 / (boil.SURFACE_KG_PER_H_M2 * pan.surface_m2(36.0)))
    assert boil.boil_minutes(2, 20, 0.84, 36, 0) == pytest.approx(minutes)
    assert boil.boil_minutes(2, 20, 0.84, 72, 0) == pytest.approx(minutes / 4)


def test_boiling_is_in_proportion_to_the_water() -> None:
    one = boil.boil_minutes(1, 3.5, 0.84, 36, 0)
    assert boil.boil_minutes(3, 3.5, 0.84, 36, 0) == pytest.approx(3 * one)
    assert boil.boil_minutes(0, 3.5, 0.84, 36, 0) == 0


def test_latent_heat_grows_with_altitude() -> None:
    values = [water.latent_kj_per_kg(altitude) for altitude in (0, 500, 2000, 5000)]
    assert values == sorted(set(values))


def test_specific_heat_falls_with_solids_and_grows_with_temperature() -> None:
    assert boil.specific_heat(0.1, 50) > boil.specific_heat(0.5, 50) > boil.specific_heat(0.65, 50)
    assert boil.specific_heat(0.5, 90) > boil.specific_heat(0.5, 20)
    assert boil.specific_heat(0, 20) == pytest.approx(4.1868)


def test_every_kind_of_heat_has_an_efficiency() -> None:
    assert set(boil.EFFICIENCY) == {"gas", "electric", "induction"}
    assert 0 < boil.EFFICIENCY["gas"] < boil.EFFICIENCY["electric"] < boil.EFFICIENCY["induction"] < 1


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"kw": 0.0}, "power of the ring is 0"),
        ({"kw": 3500.0}, r"power of the ring is 3500; .*3500 W as 3\.5"),
        ({"efficiency": 84.0}, r"efficiency of the ring is 84; .*84 % as 0\.84"),
        ({"from_c": -180.0}, "temperature at the start is -180"),
        ({"from_c": -18.0, "to_c": -10.0}, "temperature at the end is -10; .*stay frozen"),
        ({"to_c": 3.0}, "temperature at the end is 3"),
        ({"fruit_solids": 0.0}, "solids of the fruit is 0"),
        ({"fruit_kg": 0.0, "sugar_kg": 0.0}, "the mix is 0"),
        ({"fruit_kg": 0.0}, r"solids is 1; .*no dry sugar"),
    ],
)
def test_heat_up_out_of_range_is_named(changed: dict[str, float], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        boil.heat_up_minutes(**{**JAM, "kw": 3.5, "efficiency": 0.84, **changed})
    assert "; allowed: " in str(raised.value)


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((-1, 3.5, 0.84, 36, 0), "water to boil off is -1"),
        ((1, math.nan, 0.84, 36, 0), "power of the ring is nan"),
        ((1, 3.5, 0, 36, 0), "efficiency of the ring is 0"),
        ((1, 3.5, 0.84, 0.36, 0), "pan diameter is 0.36"),
        ((1, 3.5, 0.84, 36, 9000), "altitude is 9000"),
    ],
)
def test_boil_out_of_range_is_named(arguments: tuple[float, ...], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        boil.boil_minutes(*arguments)
    assert "; allowed: " in str(raised.value)


def test_a_barometer_takes_the_place_of_the_altitude() -> None:
    by_altitude = boil.boil_minutes(2.0, 2.0, 0.5, 60.0, 500.0)
    hpa = water.pressure_pa(500.0) / 100
    assert boil.boil_minutes(2.0, 2.0, 0.5, 60.0, hpa=hpa) == pytest.approx(by_altitude)


def test_a_measured_efficiency_gives_back_the_minutes_of_the_test() -> None:
    boils = setpoint.water_boils_c(50.0)
    efficiency = boil.measured_efficiency(5.0, 12.0, boils, 16.0, 3.5)
    assert 0 < efficiency < 1
    assert boil.heat_up_minutes(0.0, 0.1, 0.0, 5.0, 12.0, boils, 3.5, efficiency) == pytest.approx(16.0)


def test_a_measurement_that_makes_heat_of_nothing_is_refused() -> None:
    with pytest.raises(
        ValueError, match=r"measured efficiency is .*; allowed: above 0 and at most 1 .*check kW"
    ):
        boil.measured_efficiency(5.0, 12.0, 100.0, 5.0, 3.5)
    with pytest.raises(ValueError, match=r"temperature at the end is 12; allowed: above 12"):
        boil.measured_efficiency(5.0, 12.0, 12.0, 16.0, 3.5)
