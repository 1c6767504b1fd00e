"""The course of a search: what gets better is taken down, and read off at a time or a gap."""

from __future__ import annotations

import pytest

from scheduler.bench.course import Course


def course(*moments: tuple[float, float | None, float | None], floor: float = 1.0) -> Course:
    noted = Course(floor)
    for moment in moments:
        noted.note(*moment)
    return noted


def test_nothing_is_known_at_first() -> None:
    empty = course()
    assert (empty.value, empty.bound, empty.gap, empty.first, empty.proof) == (None, 0.0, None, None, None)
    assert empty.gap_at(5) is None


def test_value_and_bound_of_different_moments_make_the_gap() -> None:
    noted = course((1, None, 40.0), (2, 100.0, None), (3, None, 90.0), (8, 91.0, None))
    assert noted.first == 2
    assert noted.gap_at(1.9) is None
    assert noted.gap_at(2.5) == pytest.approx(0.6)
    assert noted.gap_at(5) == pytest.approx(0.1)
    assert noted.gap == pytest.approx(1 / 91)
    assert noted.reached(0.1) == 3
    assert noted.reached(0.01) is None


def test_what_is_worse_changes_nothing() -> None:
    noted = course((1, 50.0, 40.0), (2, 60.0, 30.0), (3, None, None))
    assert (noted.value, noted.bound, len(noted.moments)) == (50.0, 40.0, 2)


def test_a_proof_is_a_gap_that_is_closed() -> None:
    assert course((1, 50.0, 40.0), (4, None, 49.9999)).proof == 4


def test_small_values_are_measured_against_the_floor() -> None:
    assert course((1, 0.5, 0.0), floor=2.0).gap == pytest.approx(0.25)
    assert course((1, 0.0, 0.0), floor=2.0).proof == 1
