"""Cooling off the heat: directions, Newton's law, and numbers out of range."""

from __future__ import annotations

import math

import pytest

from scheduler.physics.cooling import temperature_after


def test_nothing_has_cooled_at_once_and_all_has_in_the_end() -> None:
    assert temperature_after(0, 104.5, 10, 36, 22) == pytest.approx(104.5)
    assert temperature_after(1440, 104.5, 1, 36, 22, covered=False) == pytest.approx(22, abs=0.01)


def test_it_only_cools() -> None:
    course = [temperature_after(minutes, 104.5, 10, 36, 22) for minutes in range(0, 120, 5)]
    assert course == sorted(set(course), reverse=True)


def test_two_spells_are_one_long_spell() -> None:
    halfway = temperature_after(10, 104.5, 10, 36, 22)
    assert temperature_after(10, halfway, 10, 36, 22) == pytest.approx(
        temperature_after(20, 104.5, 10, 36, 22)
    )


def test_what_keeps_a_pan_hot() -> None:
    plain = temperature_after(20, 104.5, 8, 36, 22)
    assert temperature_after(20, 104.5, 8, 36, 22, covered=False) < plain
    assert temperature_after(20, 104.5, 12, 36, 22) > plain
    assert temperature_after(20, 104.5, 8, 30, 22) > plain
    assert temperature_after(20, 104.5, 8, 36, 28) > plain


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((-1, 104.5, 10, 36, 22), "minutes off the heat is -1"),
        ((20, 15, 10, 36, 22), "temperature at the start is 15"),
        ((20, 220, 10, 36, 22), "temperature at the start is 220"),
        ((20, 104.5, 0, 36, 22), "preserve in the pan is 0"),
        ((20, 104.5, 10, 360, 22), "pan diameter is 360"),
        ((20, 104.5, 10, 36, 72), "room temperature is 72"),
        ((math.nan, 104.5, 10, 36, 22), "minutes off the heat is nan"),
    ],
)
def test_out_of_range_is_named(arguments: tuple[float, float, float, float, float], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        temperature_after(*arguments)
    assert "; allowed: " in str(raised.value)
