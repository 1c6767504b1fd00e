"""Composition of fruit: the table's integrity, and what a mix lacks to set."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from scheduler.physics import composition, keeping
from scheduler.physics.composition import Pectin, weak_in_pectin

ROWS = list(
    csv.DictReader(
        files("scheduler.physics").joinpath("data/fruits.csv").read_text(encoding="utf-8").splitlines()
    )
)


def test_every_fact_has_a_source_and_says_how_it_is_known() -> None:
    assert all(row["source"] for row in ROWS)
    assert {row["provenance"] for row in ROWS} == {"published", "memory"}
    facts = [(row["fruit"], row["property"]) for row in ROWS]
    assert len(facts) == len(set(facts))


def test_every_fruit_that_keeps_by_a_table_has_a_composition() -> None:
    assert set(keeping.known_fruits()) <= set(composition.known_fruits())


@pytest.mark.parametrize("fruit", composition.known_fruits())
def test_facts_are_possible(fruit: str) -> None:
    found = composition.composition(fruit)
    assert 0 < found.solids_low <= found.solids_high < 0.3
    assert found.solids_low + found.water <= 1
    assert 2.5 <= found.ph_low <= found.ph_high <= 4.6
    assert 0 <= found.loss_low <= found.loss_high < 0.5


def test_strawberries_hold_more_water_and_less_pectin_than_raspberries() -> None:
    """Common practice in the trade, no source."""
    strawberry, raspberry = composition.composition("strawberry"), composition.composition("raspberry")
    assert strawberry.water > raspberry.water
    assert (strawberry.pectin, raspberry.pectin) == (Pectin.LOW, Pectin.MEDIUM)


def test_ripe_apples_may_need_pectin_or_acid_to_set() -> None:
    """So Easy to Preserve, 5th ed.: ripe apples are of group II, sour ones of group I."""
    assert composition.composition("apple").pectin is Pectin.MEDIUM
    assert weak_in_pectin({"apple": 1.0}) is not None
    assert weak_in_pectin({"apple": 0.5, "gooseberry": 0.5}) is None


def test_a_fruit_with_no_composition_is_told_which_are_known() -> None:
    with pytest.raises(
        ValueError, match=r"no composition for 'medlar'; allowed: .*strawberry.*Name the fruit"
    ):
        composition.composition("medlar")
    with pytest.raises(ValueError, match="no composition for 'medlar'"):
        weak_in_pectin({"medlar": 1.0})


@pytest.mark.parametrize("fruit", ["blackcurrant", "redcurrant", "gooseberry"])
def test_high_pectin_fruit_sets_with_sugar_alone(fruit: str) -> None:
    assert weak_in_pectin({fruit: 1.0}) is None


def test_low_pectin_fruit_needs_help_of_one_kind_or_another() -> None:
    assert weak_in_pectin({"strawberry": 1.0}) == (Pectin.LOW, ("strawberry",))
    assert weak_in_pectin({"strawberry": 1.0}, lemons_per_kg=0.5) is None
    assert weak_in_pectin({"strawberry": 1.0}, pectin_g_per_kg=5.0) is None
    assert weak_in_pectin({"strawberry": 0.75, "gooseberry": 0.25}) is None
    assert weak_in_pectin({"strawberry": 0.9, "gooseberry": 0.1}) == (Pectin.LOW, ("strawberry",))
    assert weak_in_pectin({"strawberry": 0.5, "cherry": 0.5}) == (Pectin.LOW, ("strawberry", "cherry"))


def test_medium_fruit_may_need_help() -> None:
    assert weak_in_pectin({"blackberry": 1.0}) == (Pectin.MEDIUM, ("blackberry",))
    assert weak_in_pectin({"blackberry": 1.0}, lemons_per_kg=0.5) is None


def test_fruit_that_is_not_in_the_mix_needs_nothing() -> None:
    assert weak_in_pectin({"strawberry": 0.0, "gooseberry": 1.0}) is None


@pytest.mark.parametrize(
    ("shares", "lemons", "pectin", "named"),
    [
        ({"strawberry": 70.0}, 0.0, 0.0, r"share of strawberry is 70; .*0\.4"),
        ({"strawberry": 1.0}, -1.0, 0.0, "lemons is -1"),
        ({"strawberry": 1.0}, 0.0, 5000.0, "pectin is 5000"),
    ],
)
def test_out_of_range_is_named(shares: dict[str, float], lemons: float, pectin: float, named: str) -> None:
    with pytest.raises(ValueError, match=named):
        weak_in_pectin(shares, lemons, pectin)
