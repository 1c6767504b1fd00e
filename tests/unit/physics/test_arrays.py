"""Every function takes arrays: a thousand recipes at once are a thousand recipes one by one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from scheduler.physics import boil, cooling, freezing, keeping, pan, setpoint, settest, solids, water

DRAW = np.random.default_rng(11)


def drawn(low: float, high: float) -> np.ndarray[Any, np.dtype[np.float64]]:
    return DRAW.uniform(low, high, 40)


PLANK = {
    "kj_per_kg": drawn(250, 450),
    "surface_w_per_m2_k": drawn(5, 50),
    "frozen_w_per_m_k": drawn(1, 2),
    "kg_per_m3": drawn(500, 1000),
}

CALLS: dict[str, tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any]]] = {
    "pressure": (water.pressure_pa, (drawn(0, 3000),), {}),
    "station": (water.station_hpa, (drawn(950, 1040), drawn(0, 1000)), {}),
    "boiling point": (setpoint.water_boils_c, (), {"hpa": drawn(850, 1040)}),
    "latent heat": (water.latent_kj_per_kg, (drawn(0, 3000),), {}),
    "set temperature": (setpoint.set_temperature_c, (drawn(0.3, 0.8), drawn(0, 3000)), {}),
    "set temperature, one pressure": (setpoint.set_temperature_c, (drawn(0.3, 0.8),), {"hpa": 990.0}),
    "rise": (setpoint.rise_k, (0.65, drawn(0, 3000)), {}),
    "solids": (setpoint.solids_at, (drawn(101, 106), 50.0), {"offset_k": drawn(-0.5, 0.5)}),
    "activity": (setpoint.water_activity, (drawn(0.1, 0.8), drawn(350, 390)), {}),
    "surface": (pan.surface_m2, (drawn(20, 60),), {}),
    "depth": (pan.depth_cm, (drawn(2, 20), drawn(20, 60)), {}),
    "largest batch": (pan.largest_fruit_kg, (drawn(5, 30), 0.5, drawn(0.5, 1.2), drawn(0, 1)), {}),
    "heat up": (
        boil.heat_up_minutes,
        (drawn(2, 9), drawn(0.07, 0.2), drawn(2, 9), drawn(0, 2), drawn(-20, 20), 100.0, drawn(2, 6), 0.84),
        {},
    ),
    "boil": (boil.boil_minutes, (drawn(0.5, 4), drawn(2, 12), 0.84, drawn(25, 50), drawn(0, 800)), {}),
    "efficiency": (boil.measured_efficiency, (5.0, drawn(8, 15), drawn(85, 95), drawn(18, 25), 3.5), {}),
    "re-boils": (settest.reboils_within, (drawn(0.5, 0.95), drawn(0.2, 0.9)), {}),
    "share set": (settest.share_set, (np.arange(40.0), drawn(0.2, 0.9)), {}),
    "cooling": (cooling.temperature_after, (drawn(0, 40), 104.5, drawn(2, 15), drawn(25, 45), 22.0), {}),
    "minutes until": (cooling.minutes_until, (drawn(75, 90), 104.5, drawn(2, 15), 36.0, 22.0), {}),
    "days": (keeping.days_at, (drawn(2, 14), "raspberry", drawn(0, 20)), {}),
    "life used": (keeping.life_used, (drawn(2, 14), "raspberry", [(drawn(1, 9), 20.0), (8.0, 2.0)]), {}),
    "thaw": (freezing.thaw_kj_per_kg, (drawn(0.8, 0.95), drawn(-25, 15)), {}),
    "freeze": (freezing.freeze_kwh_per_kg, (drawn(0.8, 0.95), drawn(2, 25), drawn(-25, -15)), {}),
    "Plank": (freezing.plank_hours, ("sphere", drawn(0.01, 0.04), drawn(-40, -15)), PLANK),
    "loading": (freezing.freeze_kg_per_day, (drawn(100, 600),), {}),
    "room": (freezing.litres_taken, (drawn(0, 90), drawn(0, 9), 0.6, drawn(3, 9)), {}),
    "jam": (solids.jam_kg, (drawn(2, 9), drawn(0.07, 0.2), drawn(2, 9), drawn(0.6, 0.7)), {}),
    "water off": (solids.water_off_kg, (drawn(2, 9), 0.1, drawn(2, 5), drawn(0.6, 0.7), drawn(0, 1)), {}),
    "stated yield": (solids.solids_of, (drawn(2, 4), 0.1, drawn(2, 4), drawn(5, 6)), {}),
    "jars": (solids.jars, (drawn(2, 9), 0.02, drawn(0.2, 0.4)), {}),
    "prepared": (solids.prepared_kg, (drawn(2, 9), drawn(0.02, 0.2)), {}),
    "sugar": (solids.sugar_for_share, (drawn(2, 9), drawn(0.1, 0.6)), {}),
}


def entry(value: Any, place: int) -> Any:
    if isinstance(value, np.ndarray):
        return float(value[place])
    if isinstance(value, list):
        return [tuple(entry(part, place) for part in spell) for spell in value]
    return value


@pytest.mark.parametrize("named", CALLS)
def test_an_array_is_its_entries_one_by_one(named: str) -> None:
    function, arguments, keywords = CALLS[named]
    at_once = function(*arguments, **keywords)
    assert isinstance(at_once, np.ndarray)
    one_by_one = [
        function(*(entry(a, n) for a in arguments), **{key: entry(a, n) for key, a in keywords.items()})
        for n in range(len(at_once))
    ]
    assert all(isinstance(one, float | int) for one in one_by_one)
    assert at_once == pytest.approx(np.array(one_by_one))


def test_least_and_most_kg_are_found_at_once_where_some_have_none() -> None:
    waits = np.array([0.0, 10.0, 20.0, 60.0])
    least, most = cooling.potted_in_time_kg(waits, 0.85, 85.0, 104.5, 36.0, 22.0)
    apart = [cooling.potted_in_time_kg(float(wait), 0.85, 85.0, 104.5, 36.0, 22.0) for wait in waits]
    assert least == pytest.approx([one[0] for one in apart])
    assert most == pytest.approx([one[1] for one in apart])
    assert most[-1] == 0


def test_re_boil_minutes_of_many_recipes() -> None:
    found = settest.reboil_minutes(first_set_share=np.array([0.9, 0.7, 0.3]))
    assert found.planned == pytest.approx([0, 10, 40])


def test_a_mix_of_arrays() -> None:
    shares = np.array([0.6, 0.7])
    assert solids.mix_of([shares, 1 - shares], [0.08, 0.12]) == pytest.approx([0.096, 0.092])


def test_tables_of_two_dimensions_keep_their_shape() -> None:
    grid = setpoint.set_temperature_c(np.array([[0.60], [0.65]]), np.array([0.0, 500.0, 1000.0]))
    assert isinstance(grid, np.ndarray)
    assert grid.shape == (2, 3)
    assert grid[1, 2] == pytest.approx(setpoint.set_temperature_c(0.65, 1000.0))


def test_the_first_entry_out_of_range_is_named_with_its_place() -> None:
    kilograms = np.array([1.0, 2.0, -3.0, -4.0])
    with pytest.raises(ValueError, match=r"fruit\[2\] is -3; allowed: 0 to 100000 kg\. Give"):
        solids.jam_kg(kilograms, 0.1, 1.0, 0.65)
    with pytest.raises(ValueError, match=r"temperature at the end\[1\] is 10; allowed: 20 to 130"):
        boil.heat_up_minutes(5.0, 0.1, 5.0, 0.0, np.array([5.0, 20.0]), 10.0, 3.5, 0.84)
    with pytest.raises(ValueError, match=r"solids\[1\] is nan"):
        setpoint.set_temperature_c(np.array([0.65, np.nan]), 0.0)
