"""Margins: a step more where a day fails, less where it does not, within their limits."""

from __future__ import annotations

from scheduler.solve.margins import FIRST, MOST, STEP, less, more


def test_only_the_days_that_failed_keep_more_time_free() -> None:
    assert more([FIRST, FIRST, 0], (1,)) == [FIRST, FIRST + STEP, 0]


def test_no_day_keeps_more_than_the_most() -> None:
    assert more([MOST - STEP, MOST - STEP + 1, MOST], (0, 1, 2)) == [MOST, MOST, MOST]


def test_less_is_never_less_than_nothing() -> None:
    assert less([STEP + 1, STEP, STEP - 1, FIRST], (0, 1, 2)) == [1, 0, 0, FIRST]


def test_less_and_more_leave_what_they_are_given() -> None:
    before = [FIRST, FIRST]
    assert (less(before, (0,), by=4), more(before, (0,)), before) == (
        [FIRST - 4, FIRST],
        [FIRST + STEP, FIRST],
        [FIRST, FIRST],
    )
