"""Mass balances against published worked examples; the source stands beside each.

Tolerances are half of the last figure that the source prints, unless said otherwise.
"""

from __future__ import annotations

import pytest

from scheduler.physics import solids


def test_strawberry_jam_to_one_third_water() -> None:
    """Balances sin reaccion quimica (slides giving the answer): 0.486 lb of fruit per lb of jam.

    The fruit has 15 % solids, fruit to sugar 45:55.
    """
    assert solids.fruit_per_jam(0.15, 45, 55, 2 / 3) == pytest.approx(0.486, abs=0.0005)


def test_raspberry_jam_to_two_fifths_water() -> None:
    """Raspberry jam problem and answer: 1/54 kg of water boiled off per kg of raspberries.

    The fruit has 10 % solids, fruit to sugar 45:55.
    """
    assert solids.water_off_kg(1, 0.10, 55 / 45, 0.60) == pytest.approx(1 / 54, abs=1e-6)


def test_hundred_kg_of_preserve_with_pectin() -> None:
    """Jam formulation textbook problem (45:55, 65 % solids), as posted; its answer computed by hand.

    The fruit has 10 % solids; one part of 100-grade pectin sets 100 of sugar and is not counted as solids.
    """
    fruit = 100 * solids.fruit_per_jam(0.10, 45, 55, 0.65)
    sugar = fruit * 55 / 45
    assert fruit == pytest.approx(49.16, abs=0.01)
    assert sugar == pytest.approx(60.08, abs=0.01)
    assert sugar / 100 == pytest.approx(0.601, abs=0.0005)
    assert solids.jam_kg(fruit, 0.10, sugar, 0.65) == pytest.approx(100)
    assert solids.water_off_kg(fruit, 0.10, sugar, 0.65) == pytest.approx(9.24, abs=0.01)


def test_ten_and_ten_to_68_brix() -> None:
    """Practical Action brief KnO 100247, Jams, jellies and marmalades: 11.115 kg of solids, 16.4 kg of jam.

    10 kg of fruit at 10 %, 10 kg sugar, 0.060 kg pectin, 0.055 kg citric acid. The brief rounds 16.346
    up, hence 0.1 kg.
    """
    jam = solids.jam_kg(10, 0.10, 10, 0.68, other_solids_kg=0.060 + 0.055)
    assert jam * 0.68 == pytest.approx(11.115, abs=0.0005)
    assert jam == pytest.approx(16.4, abs=0.1)


def test_two_hundred_kg_of_fruit_into_jars() -> None:
    """Ejercicios mermelada (Spanish exercise): 193, 23.16, 227.74, 399.58 and 395.59 kg, 1130 jars.

    200 kg gross, 3.5 % preparation loss, 12 % solids; the exercise asks for 250.9 kg of solids in all, so
    227.74 kg of sugar; its pan mix of 429.59 kg at 60.46 % goes to 65 %, 1 % is lost, jars of 0.35 kg.
    """
    fruit = 200 * (1 - 0.035)
    assert fruit == pytest.approx(193, abs=0.01)
    assert solids.jam_kg(fruit, 0.12, 0, 0.65) * 0.65 == pytest.approx(23.16, abs=0.01)
    sugar = 250.9 - 23.16
    assert sugar == pytest.approx(227.74, abs=0.01)
    jam = solids.jam_kg(429.59, 0.6046, 0, 0.65)
    assert jam == pytest.approx(399.58, abs=0.01)
    assert jam * 0.99 == pytest.approx(395.59, abs=0.01)
    assert solids.jars(jam, 0.01, 0.35) == 1130


def test_a_recipe_that_promises_too_little_jam_is_found_out() -> None:
    """Practical Action brief KnO 100247 prints 1.0 kg of apple jam from 1.4 kg of sugar, which cannot be.

    At 68 °Brix the sugar alone makes 2.06 kg.
    """
    assert solids.jam_kg(0, 0.10, 1.4, 0.68) == pytest.approx(2.06, abs=0.005)
