"""Cooling off the heat: directions, Newton's law, and numbers out of range."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from scheduler.physics.cooling import minutes_until, potted_in_time_kg, temperature_after


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


@pytest.mark.parametrize("kg", [3.0, 10.0, 25.0])
@pytest.mark.parametrize("covered", [True, False])
def test_minutes_until_undo_temperature_after(kg: float, covered: bool) -> None:
    minutes = minutes_until(85.0, 104.5, kg, 36.0, 22.0, covered)
    assert temperature_after(minutes, 104.5, kg, 36.0, 22.0, covered) == pytest.approx(85)
    assert minutes_until(104.5, 104.5, kg, 36.0, 22.0, covered) == 0


def test_the_largest_batch_is_just_potted_in_time() -> None:
    """At both ends minutes of cooling are minutes of waiting and potting; between them there is time left."""
    wait, rate = 15.0, 0.85
    least, most = potted_in_time_kg(wait, rate, 85.0, 104.5, 36.0, 22.0)
    assert 0 < least < most
    for kg in (least, most):
        assert minutes_until(85.0, 104.5, kg, 36.0, 22.0) == pytest.approx(wait + kg / rate)
    middle = (least + most) / 2
    assert minutes_until(85.0, 104.5, middle, 36.0, 22.0) > wait + middle / rate
    for kg in (0.9 * least, 1.1 * most):
        assert minutes_until(85.0, 104.5, kg, 36.0, 22.0) < wait + kg / rate


def test_more_hands_a_lower_limit_and_less_waiting_pot_more() -> None:
    _, plain = potted_in_time_kg(15.0, 0.85, 85.0, 104.5, 36.0, 22.0)
    for more in (
        potted_in_time_kg(15.0, 1.3, 85.0, 104.5, 36.0, 22.0),
        potted_in_time_kg(15.0, 0.85, 80.0, 104.5, 36.0, 22.0),
        potted_in_time_kg(10.0, 0.85, 85.0, 104.5, 36.0, 22.0),
        potted_in_time_kg(15.0, 0.85, 85.0, 104.5, 30.0, 22.0),
        potted_in_time_kg(15.0, 0.85, 85.0, 104.5, 36.0, 30.0),
    ):
        assert more[1] > plain


def test_without_waiting_the_smallest_batch_is_potted_too() -> None:
    least, most = potted_in_time_kg(0.0, 0.85, 85.0, 104.5, 36.0, 22.0)
    assert least == pytest.approx(0)
    assert most > 0


def test_where_no_batch_is_potted_in_time_there_is_none() -> None:
    assert potted_in_time_kg(60.0, 0.85, 85.0, 104.5, 36.0, 22.0) == (0, 0)
    assert potted_in_time_kg(15.0, 0.01, 85.0, 104.5, 36.0, 22.0) == (0, 0)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: minutes_until(22.0, 104.5, 10.0, 36.0, 22.0), "potting limit is 22; allowed: above 22"),
        (lambda: minutes_until(105.0, 104.5, 10.0, 36.0, 22.0), "potting limit is 105"),
        (lambda: potted_in_time_kg(-1.0, 0.85, 85.0, 104.5, 36.0, 22.0), "minutes before potting is -1"),
        (lambda: potted_in_time_kg(15.0, 0.0, 85.0, 104.5, 36.0, 22.0), "kg potted in a minute is 0"),
        (lambda: potted_in_time_kg(15.0, 0.85, 85.0, 104.5, 360.0, 22.0), "pan diameter is 360"),
    ],
)
def test_potting_out_of_range_is_named(call: Callable[[], object], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "; allowed: " in str(raised.value)
