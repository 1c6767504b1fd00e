"""Freezing and thawing: conservation, directions, and numbers out of range."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from scheduler.physics import freezing
from scheduler.physics.freezing import Shape

BERRY = {"kj_per_kg": 300.0, "surface_w_per_m2_k": 8.0, "frozen_w_per_m_k": 1.6, "kg_per_m3": 950.0}


def test_a_larger_freezer_freezes_more() -> None:
    assert freezing.freeze_kg_per_day(400) == pytest.approx(4 * freezing.freeze_kg_per_day(100))


@pytest.mark.parametrize("litres", [0, -5, 1e6, math.nan])
def test_freezer_volume_out_of_range_is_named(litres: float) -> None:
    with pytest.raises(ValueError, match=r"freezer volume is .*; allowed: above 0 and at most 100000 litres"):
        freezing.freeze_kg_per_day(litres)


def test_fruit_that_is_not_frozen_needs_no_thawing() -> None:
    assert freezing.thaw_kj_per_kg(0.9, 4.0) == 0
    assert freezing.thaw_kj_per_kg(0.9, freezing.FREEZES_C) == 0
    assert freezing.thaw_kj_per_kg(0.9, -1.01) == pytest.approx(freezing.latent_kj_per_kg(0.9), abs=0.1)


def test_freezing_is_cooling_freezing_and_cooling_on() -> None:
    parts = 21 * freezing.heat_above(0.9) + freezing.latent_kj_per_kg(0.9) + 17 * freezing.heat_below(0.9)
    assert freezing.freeze_kj_per_kg(0.9, 20.0, -18.0) == pytest.approx(parts)


def test_electricity_is_heat_over_the_coefficient() -> None:
    heat = freezing.freeze_kj_per_kg(0.9, 20.0, -18.0)
    assert freezing.freeze_kwh_per_kg(0.9, 20.0, -18.0, 2.0) * 2 * 3600 == pytest.approx(heat)
    assert freezing.freeze_kwh_per_kg(0.9, 20.0, -18.0) == pytest.approx(heat / 3600 / freezing.COEFFICIENT)


def test_what_freezes_sooner() -> None:
    plain = freezing.plank_hours(Shape.SPHERE, 0.025, -18.0, **BERRY)
    assert plain > 0
    assert freezing.plank_hours(Shape.SPHERE, 0.020, -18.0, **BERRY) < plain
    assert freezing.plank_hours(Shape.SPHERE, 0.025, -30.0, **BERRY) < plain
    assert freezing.plank_hours(Shape.SPHERE, 0.025, -18.0, **{**BERRY, "surface_w_per_m2_k": 30.0}) < plain
    assert freezing.plank_hours(Shape.CYLINDER, 0.025, -18.0, **BERRY) > plain


def test_trays_take_their_own_room_and_boxes_less() -> None:
    assert freezing.litres_taken(12.0, 0.0, 0.6, 4.0) == pytest.approx(20)
    assert freezing.litres_taken(0.0, 5.0, 0.6, 4.0) == pytest.approx(20)
    assert freezing.litres_taken(12.0, 5.0, 0.6, 4.0) == pytest.approx(40)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: freezing.latent_kj_per_kg(90.0), r"water in the fruit is 90; .*90 % as 0\.9"),
        (lambda: freezing.thaw_kj_per_kg(0.9, math.nan), "temperature of the fruit is nan"),
        (lambda: freezing.freeze_kj_per_kg(0.9, -5.0, -18.0), "temperature before freezing is -5"),
        (lambda: freezing.freeze_kj_per_kg(0.9, 20.0, 18.0), "temperature of the freezer is 18; .*sign"),
        (lambda: freezing.freeze_kwh_per_kg(0.9, 20.0, -18.0, 0.0), "coefficient of performance is 0"),
        (
            lambda: freezing.plank_hours(Shape.SPHERE, 25.0, -18.0, **BERRY),
            r"size of the fruit is 25; .*0\.025",
        ),
        (lambda: freezing.plank_hours(Shape.SPHERE, 0.025, 4.0, **BERRY), "temperature of the air is 4"),
        (lambda: freezing.litres_taken(1.0, 1.0, 600.0, 4.0), "packing density is 600"),
        (lambda: freezing.litres_taken(1.0, 1.0, 0.5, 1.0), "room on trays is 1; allowed: 2 to 50"),
        (lambda: freezing.litres_taken(-1.0, 1.0, 0.5, 4.0), "boxed fruit is -1"),
    ],
)
def test_out_of_range_is_named(call: Callable[[], float], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "; allowed: " in str(raised.value)


def test_an_unknown_shape_is_refused() -> None:
    with pytest.raises(ValueError, match="'cube' is not a valid Shape"):
        freezing.plank_hours("cube", 0.025, -18.0, **BERRY)
