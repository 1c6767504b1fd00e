"""Keeping: the table's integrity, directions, spells of life, and numbers out of range."""

from __future__ import annotations

import csv
import math
from importlib.resources import files

import pytest

from scheduler.physics import keeping

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
    assert {row["provenance"] for row in ROWS} <= {"published", "memory"}
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


@pytest.mark.parametrize("fruit", keeping.known_fruits())
def test_life_is_known_up_to_both_ends_of_the_table_and_no_further(fruit: str) -> None:
    low, high = keeping.known_celsius(fruit)
    assert (low, high) in {(0, 20), (0, 20.5)}
    assert keeping.days_at(7, fruit, high) > 0
    with pytest.raises(ValueError, match="temperature for"):
        keeping.days_at(7, fruit, high + 0.1)


def test_an_unknown_fruit_has_no_known_temperatures() -> None:
    with pytest.raises(ValueError, match="no respiration table for 'medlar'"):
        keeping.known_celsius("medlar")


@pytest.mark.parametrize("celsius", [-0.5, 25, math.nan])
def test_a_temperature_outside_the_table_is_named(celsius: float) -> None:
    with pytest.raises(ValueError, match=r"temperature for strawberry is .*; allowed: 0 to 20 °C\. Keep"):
        keeping.days_at(7, "strawberry", celsius)


def test_days_below_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match=r"days at 0 °C is -1; allowed: 0 to 400 days"):
        keeping.days_at(-1, "strawberry", 3)


def test_age_is_the_sum_of_its_spells_and_life_used_its_share() -> None:
    spells = [(6.0, 20.0), (18.0, 2.0)]
    age = keeping.age_days("strawberry", spells)
    assert age == pytest.approx(sum(keeping.age_days("strawberry", [spell]) for spell in spells))
    assert keeping.age_days("strawberry", reversed(spells)) == pytest.approx(age)
    assert keeping.life_used(5.0, "strawberry", spells) == pytest.approx(age / 5)
    assert keeping.age_days("strawberry", []) == 0


def test_a_life_spent_at_one_temperature_ends_when_the_days_there_do() -> None:
    days = keeping.days_at(7.0, "raspberry", 4.0)
    assert keeping.life_used(7.0, "raspberry", [(24 * days, 4.0)]) == pytest.approx(1)
    assert keeping.days_left(7.0, "raspberry", [(24 * days, 4.0)], 4.0) == pytest.approx(0, abs=1e-12)
    assert keeping.days_left(7.0, "raspberry", [(24 * days + 48, 4.0)], 4.0) == pytest.approx(-2)


def test_a_warm_morning_in_the_yard_costs_days_in_the_chiller() -> None:
    chilled = keeping.days_left(5.0, "strawberry", [(6.0, 2.0)], 2.0)
    warm = keeping.days_left(5.0, "strawberry", [(6.0, 20.0)], 2.0)
    assert chilled - warm > 1
    assert keeping.days_left(5.0, "strawberry", [], 2.0) == pytest.approx(
        keeping.days_at(5.0, "strawberry", 2.0)
    )


@pytest.mark.parametrize(
    ("spells", "named"),
    [
        ([(-1.0, 4.0)], "hours of a spell is -1"),
        ([(1.0, 4.0), (3.0, 35.0)], "temperature for strawberry is 35"),
    ],
)
def test_an_impossible_spell_is_named(spells: list[tuple[float, float]], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        keeping.life_used(5.0, "strawberry", spells)


def test_a_life_of_no_days_has_no_share() -> None:
    with pytest.raises(ValueError, match="days at 0 °C is 0; allowed: above 0"):
        keeping.life_used(0.0, "strawberry", [(6.0, 2.0)])
