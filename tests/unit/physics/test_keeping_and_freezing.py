"""Keeping and freezing: the table's integrity, directions, and numbers out of range."""

from __future__ import annotations

import csv
import math
from importlib.resources import files

import pytest

from scheduler.physics import freezing, keeping

ROWS = list(
    csv.DictReader(
        files("scheduler.physics").joinpath("data/respiration.csv").read_text(encoding="utf-8").splitlines()
    )
)


def test_soft_fruit_of_the_farm_is_known() -> None:
    known = keeping.known_fruits()
    assert {"strawberry", "raspberry", "blackcurrant", "gooseberry", "blackberry", "blueberry"} <= set(known)
    assert list(known) == sorted(known)


def test_every_row_has_a_source_and_says_how_it_is_known() -> None:
    assert all(row["source"] for row in ROWS)
    assert {row["provenance"] for row in ROWS} <= {"read", "computed", "memory"}
    places = [(row["fruit"], row["celsius"]) for row in ROWS]
    assert len(places) == len(set(places))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['fruit']} {row['celsius']}")
def test_published_points_are_met(row: dict[str, str]) -> None:
    rate = keeping.respiration(row["fruit"], float(row["celsius"]))
    assert rate == pytest.approx(float(row["mg_co2_per_kg_h"]))


@pytest.mark.parametrize("fruit", keeping.known_fruits())
def test_life_is_as_given_at_0_and_shorter_the_warmer(fruit: str) -> None:
    assert keeping.days_at(7, fruit, 0) == pytest.approx(7)
    lives = [keeping.days_at(7, fruit, tenths / 10) for tenths in range(0, 201)]
    assert lives == sorted(set(lives), reverse=True)


def test_between_points_the_rate_is_their_geometric_mean() -> None:
    expected = math.sqrt(keeping.respiration("raspberry", 0) * keeping.respiration("raspberry", 10))
    assert keeping.respiration("raspberry", 5) == pytest.approx(expected)


def test_an_unknown_fruit_is_told_which_are_known() -> None:
    with pytest.raises(
        ValueError, match=r"no respiration table for 'medlar'; allowed: .*strawberry.*Name the"
    ):
        keeping.days_at(7, "medlar", 3)


@pytest.mark.parametrize("celsius", [-0.5, 25, math.nan])
def test_a_temperature_outside_the_table_is_named(celsius: float) -> None:
    with pytest.raises(ValueError, match=r"temperature for strawberry is .*; allowed: 0 to 20 °C\. Keep"):
        keeping.days_at(7, "strawberry", celsius)


def test_days_below_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match=r"days at 0 °C is -1; allowed: 0 to 400 days"):
        keeping.days_at(-1, "strawberry", 3)


def test_a_larger_freezer_freezes_more() -> None:
    assert freezing.freeze_kg_per_day(400) == pytest.approx(4 * freezing.freeze_kg_per_day(100))


@pytest.mark.parametrize("litres", [0, -5, 1e6, math.nan])
def test_freezer_volume_out_of_range_is_named(litres: float) -> None:
    with pytest.raises(ValueError, match=r"freezer volume is .*; allowed: above 0 and at most 100000 litres"):
        freezing.freeze_kg_per_day(litres)
