"""Worked examples that take steps, were posted wrongly, or must be refused; the source stands beside each.

Examples with one printed answer (E01, E03, E05 to E14) stand in ``tests/outside/balances.py``.
Tolerances are half of the last figure of the answer, unless said otherwise.
"""

from __future__ import annotations

import pytest

from scheduler.physics import solids


def test_e02_strawberry_variant() -> None:
    """Material balance question (20 % solids, 40:60, boiled to a quarter water); answer computed by hand."""
    fruit = solids.fruit_per_jam(0.20, 40.0, 60.0, 0.75)
    assert fruit == pytest.approx(0.441176, abs=1e-6)
    assert solids.water_off_kg(fruit, 0.20, fruit * 1.5, 0.75) == pytest.approx(0.102941, abs=1e-6)


def test_e04_hundred_kg_of_preserve_with_pectin() -> None:
    """Jam formulation textbook problem (45:55, 65 % solids), as posted; its answer computed by hand.

    The fruit has 10 % solids; one part of 100-grade pectin sets 100 of sugar and is not counted as solids.
    """
    fruit = 100 * solids.fruit_per_jam(0.10, 45.0, 55.0, 0.65)
    sugar = fruit * 55 / 45
    assert fruit == pytest.approx(49.16, abs=0.01)
    assert sugar == pytest.approx(60.08, abs=0.01)
    assert sugar / 100 == pytest.approx(0.601, abs=0.0005)
    assert solids.jam_kg(fruit, 0.10, sugar, 0.65) == pytest.approx(100)
    assert solids.water_off_kg(fruit, 0.10, sugar, 0.65) == pytest.approx(9.24, abs=0.01)


def test_e05_ten_and_ten_boils_off_what_the_yield_leaves() -> None:
    """Practical Action brief KnO 100247, recipe 1: 16.346 kg from 20.115 kg, so 3.769 kg of water."""
    off = solids.water_off_kg(10.0, 0.10, 10.0, 0.68, other_solids_kg=0.115)
    assert off == pytest.approx(3.769, abs=0.0005)
    assert 10 / (20.115 - off) == pytest.approx(0.6118, abs=0.0001)


def test_e09_posted_working_does_not_balance() -> None:
    """Sweetened concentrated orange juice question: 375 kg of water, as posted, leave 8 %, not 10 %."""
    assert solids.solids_of(1000.0, 0.05, 0.0, 1000.0 - 375) == pytest.approx(0.08)
    assert solids.solids_of(1000.0, 0.05, 0.0, 1000.0 - 500) == pytest.approx(0.10)


@pytest.mark.parametrize(
    ("fruit", "fruit_solids", "sugar", "jam", "implied"),
    [
        (1.5, 0.10, 1.5, 2.5, 0.660),  # E11, sugar maker's recipe, blackberry jam
        (1.8, 0.14, 2.7, 4.5, 0.656),  # E12, blackcurrant jam recipe answer
        (1.5, 0.11, 1.5, 2.4, 0.694),  # E14, Practical Action brief, apricot jam
    ],
)
def test_solids_that_stated_yields_mean(
    fruit: float, fruit_solids: float, sugar: float, jam: float, implied: float
) -> None:
    """Recipes' own yields, solids computed by hand; all are preserves that keep by their sugar."""
    assert solids.solids_of(fruit, fruit_solids, sugar, jam) == pytest.approx(implied, abs=0.0005)


@pytest.mark.parametrize(
    ("sugar", "jam"),
    [(1.5, 2.5), (2.7, 4.5), (3.0, 5.0)],  # E11 and E12 in kg, E13 (a recipe card) in pounds
)
def test_british_recipes_are_three_fifths_sugar(sugar: float, jam: float) -> None:
    """Ministry of Agriculture Bulletin 21 (from memory): jam is added sugar ÷ 0.60, to 1 %."""
    fruit = jam - sugar
    assert solids.sugar_for_share(fruit, 0.60) == pytest.approx(sugar, rel=0.01)


def test_e15_cherry_jam_states_its_yield_low() -> None:
    """Practical Action brief, page 13: 2.3 kg from 1.8 kg of cherries (16 %) and 1.4 kg of sugar is 73 %."""
    assert solids.solids_of(1.8, 0.16, 1.4, 2.3) == pytest.approx(0.734, abs=0.0005)


@pytest.mark.parametrize(
    ("fruit", "fruit_solids", "sugar", "jam"),
    [
        (1.4, 0.10, 1.4, 1.0),  # E16, Practical Action brief, apple jam: at least 2.06 kg at 68 °Brix
        (2.0, 0.09, 1.7, 4 * 0.2 * 1.33),  # E24, smallholder forum: 3.7 kg into four jars of 200 ml
    ],
)
def test_impossible_yields_are_refused(fruit: float, fruit_solids: float, sugar: float, jam: float) -> None:
    with pytest.raises(ValueError, match=r"solids of the preserve is 1\.\d+; allowed: .*yield is too small"):
        solids.solids_of(fruit, fruit_solids, sugar, jam)


def test_e16_the_sugar_alone_makes_twice_the_stated_jam() -> None:
    """Practical Action brief, page 14: 1.0 kg from 1.4 kg of sugar; at 68 °Brix that sugar makes 2.06 kg."""
    assert solids.jam_kg(0.0, 0.10, 1.4, 0.68) == pytest.approx(2.06, abs=0.005)


def test_e22_pectin_counts_as_solids() -> None:
    """Balance question (14 % fruit, 9:11, 2.3 % pectin, to 67 %): 7.18 kg of water from 100 kg, by hand.

    The posted 33 kg takes 67 % for the mass of the jam; it would leave 93 % solids, which is refused.
    """
    fruit, sugar = 97.7 * 9 / 20, 97.7 * 11 / 20
    assert solids.jam_kg(fruit, 0.14, sugar, 0.67, other_solids_kg=2.3) == pytest.approx(92.82, abs=0.005)
    off = solids.water_off_kg(fruit, 0.14, sugar, 0.67, other_solids_kg=2.3)
    assert off == pytest.approx(7.18, abs=0.01)
    with pytest.raises(ValueError, match=r"solids of the preserve is 0\.928"):
        solids.solids_of(fruit, 0.14, sugar, 100 - 33, other_solids_kg=2.3)


def test_e23_two_tonnes_of_strawberry_jam() -> None:
    """Balance question (15 % fruit, 50:50, to 65 °Brix, pectin 1:100 of sugar): 1130.4 kg of fruit, by hand.

    With the pectin counted 1120.7 kg; the posted 4312 kg splits the solids and makes 7.6 tonnes.
    """
    fruit = 2000 * solids.fruit_per_jam(0.15, 50.0, 50.0, 0.65)
    assert fruit == pytest.approx(1130.4, abs=0.1)
    assert solids.jam_kg(1120.69, 0.15, 1120.69, 0.65, other_solids_kg=11.2069) == pytest.approx(
        2000, abs=0.1
    )
    assert solids.jam_kg(4312.0, 0.15, 4312.0, 0.65) == pytest.approx(7629, abs=1)
