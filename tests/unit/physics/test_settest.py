"""The set test: the geometric distribution counted by hand and by drawing, and numbers out of range."""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest

from scheduler.physics import settest


def test_seven_in_ten_at_the_first_test() -> None:
    """0.7, 0.7 + 0.3 × 0.7 = 0.91, 0.91 + 0.09 × 0.7 = 0.973."""
    assert [settest.share_set(n) for n in range(3)] == pytest.approx([0.7, 0.91, 0.973])
    assert [settest.reboils_within(share) for share in (0.5, 0.7, 0.71, 0.91, 0.95, 0.973)] == [
        0,
        0,
        1,
        1,
        2,
        2,
    ]
    minutes = settest.reboil_minutes()
    assert (minutes.median, minutes.planned, minutes.most) == (0, 10, 20)


@pytest.mark.parametrize("first", [0.05, 0.3, 0.5, 0.7, 0.95])
@pytest.mark.parametrize("share", [0.0, 0.5, 0.8, 0.95, 0.99])
def test_the_fewest_reboils_are_enough_and_one_fewer_is_not(first: float, share: float) -> None:
    reboils = settest.reboils_within(share, first)
    assert settest.share_set(reboils, first) >= share - 1e-9
    assert reboils == 0 or settest.share_set(reboils - 1, first) < share


def test_a_batch_that_always_sets_needs_no_reboil() -> None:
    assert settest.reboils_within(0.9999, 1.0) == 0
    assert settest.reboil_minutes(first_set_share=1.0).most == 0


def test_shares_are_those_of_batches_drawn_one_by_one() -> None:
    draw = random.Random(7)
    reboils = []
    for _ in range(20_000):
        count = 0
        while draw.random() >= 0.6:
            count += 1
        reboils.append(count)
    for n in range(4):
        drawn = sum(count <= n for count in reboils) / len(reboils)
        assert settest.share_set(n, 0.6) == pytest.approx(drawn, abs=0.01)


def test_minutes_follow_the_kitchens_own_figures() -> None:
    minutes = settest.reboil_minutes(first_set_share=0.3, keep_share=0.8, minutes_each=15.0)
    assert (minutes.median, minutes.planned, minutes.most) == (15, 60, 120)


def test_odds_that_a_whole_day_keeps_to_its_plan() -> None:
    assert settest.odds_of_day([0.8] * 12) == pytest.approx(0.07, abs=0.005)
    assert settest.odds_of_day([0.9, 0.5]) == pytest.approx(0.45)
    assert settest.odds_of_day([]) == 1


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: settest.share_set(-1), "re-boils is -1"),
        (lambda: settest.share_set(1, 0.0), "share set at the first test is 0; .*never sets"),
        (lambda: settest.reboils_within(1.0), r"share of batches is 1; .*0\.8"),
        (lambda: settest.reboils_within(0.8, 70.0), "share set at the first test is 70"),
        (lambda: settest.reboil_minutes(minutes_each=-10.0), "minutes of a re-boil is -10"),
        (lambda: settest.odds_of_day([0.8, 80.0]), r"share of a batch\[1\] is 80"),
    ],
)
def test_out_of_range_is_named(call: Callable[[], object], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "; allowed: " in str(raised.value)
