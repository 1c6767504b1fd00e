"""The preserving pan: geometry, the largest batch, and numbers out of range."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from scheduler.physics import pan, solids


def test_depth_times_surface_is_the_volume() -> None:
    assert pan.surface_m2(36.0) == pytest.approx(math.pi * 0.18**2)
    assert pan.depth_cm(9.0, 30.0) / 100 * pan.surface_m2(30.0) == pytest.approx(0.009)


def test_the_largest_batch_fills_the_pan_to_its_safe_fill() -> None:
    kg = pan.largest_fruit_kg(9.0, 0.5, 0.9, 0.2)
    assert solids.mix_litres(kg, 0.9 * kg, 0.2 * kg) == pytest.approx(4.5)


def test_foam_water_and_sugar_leave_less_room_for_fruit() -> None:
    plain = pan.largest_fruit_kg(9.0, pan.MOST_FILL, 0.8)
    assert pan.largest_fruit_kg(9.0, pan.FOAMING_FILL, 0.8) < plain
    assert pan.largest_fruit_kg(9.0, pan.MOST_FILL, 1.0) < plain
    assert pan.largest_fruit_kg(9.0, pan.MOST_FILL, 0.8, 0.5) < plain
    assert pan.largest_fruit_kg(18.0, pan.MOST_FILL, 0.8) == pytest.approx(2 * plain)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: pan.surface_m2(0.36), r"pan diameter is 0\.36; .*in cm"),
        (lambda: pan.depth_cm(-1.0, 36.0), "litres in the pan is -1"),
        (lambda: pan.largest_fruit_kg(0.0, 0.5, 1.0), "volume of the pan is 0"),
        (lambda: pan.largest_fruit_kg(9.0, 50.0, 1.0), r"fill of the pan is 50; .*0\.5"),
        (lambda: pan.largest_fruit_kg(9.0, 0.5, -1.0), "sugar is -1"),
    ],
)
def test_out_of_range_is_named(call: Callable[[], float], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "; allowed: " in str(raised.value)
