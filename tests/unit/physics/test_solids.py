"""Mass balance: conservation, the extremes of a mix, jars, and numbers out of range."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import pytest

from scheduler.physics import solids


def test_mass_is_conserved() -> None:
    jam = solids.jam_kg(6, 0.09, 6, 0.65, other_solids_kg=0.05)
    off = solids.water_off_kg(6, 0.09, 6, 0.65, water_kg=0.5, other_solids_kg=0.05)
    assert jam + off == pytest.approx(6 + 6 + 0.5 + 0.05)
    assert jam * 0.65 == pytest.approx(6 * 0.09 + 6 + 0.05)


def test_water_added_is_water_to_boil_off() -> None:
    dry = solids.water_off_kg(6, 0.09, 6, 0.65)
    assert solids.water_off_kg(6, 0.09, 6, 0.65, water_kg=1.25) - dry == pytest.approx(1.25)


def test_a_mix_already_too_thick_gives_less_than_no_water() -> None:
    assert solids.water_off_kg(1, 0.10, 4, 0.60) < 0


def test_thicker_preserve_is_less_preserve() -> None:
    kilograms = [solids.jam_kg(6, 0.09, 6, final) for final in (0.60, 0.65, 0.68, 0.70)]
    assert kilograms == sorted(kilograms, reverse=True)


def test_fruit_per_jam_undoes_jam_kg() -> None:
    assert solids.fruit_per_jam(0.09, 6, 5, 0.65) * solids.jam_kg(6, 0.09, 5, 0.65) == pytest.approx(6)


def test_picked_fruit_undoes_prepared_fruit() -> None:
    assert solids.prepared_kg(10.0, 0.08) == pytest.approx(9.2)
    assert solids.picked_kg(solids.prepared_kg(10.0, 0.08), 0.08) == pytest.approx(10)
    assert solids.prepared_kg(10.0, 0.0) == 10


def test_solids_of_a_yield_undo_jam_kg() -> None:
    jam = solids.jam_kg(6, 0.09, 6, 0.65, other_solids_kg=0.05)
    assert solids.solids_of(6, 0.09, 6, jam, other_solids_kg=0.05) == pytest.approx(0.65)


def test_sugar_for_a_share_is_that_share_of_the_whole() -> None:
    sugar = solids.sugar_for_share(3.0, 0.4)
    assert sugar / (3 + sugar) == pytest.approx(0.4)
    assert solids.sugar_for_share(3.0, 0.0) == 0


def test_a_mix_of_two_fruits_is_their_weighted_mean() -> None:
    assert solids.mix_of([0.7, 0.3], [0.08, 0.12]) == pytest.approx(0.092)
    extremes = [
        solids.mix_extreme([(0.6, 0.8), (0.2, 0.4)], [0.08, 0.12], largest) for largest in (False, True)
    ]
    assert extremes[0] < solids.mix_of([0.7, 0.3], [0.08, 0.12]) < extremes[1]


def test_two_fruits_in_the_pan_balance_as_one_of_their_mean() -> None:
    mean = solids.mix_of([0.7, 0.3], [0.08, 0.12])
    apart = (4.2 * 0.08 + 1.8 * 0.12 + 6) / 0.65
    assert solids.jam_kg(6.0, mean, 6.0, 0.65) == pytest.approx(apart)


def test_mix_litres_adds_each_part_at_its_density() -> None:
    assert solids.mix_litres(4, 1.587, 0.5) == pytest.approx(5.5)


@pytest.mark.parametrize("largest", [True, False])
def test_mix_extreme_is_the_best_of_all_mixes_on_a_grid(largest: bool) -> None:
    bands = [(0.2, 0.6), (0.1, 0.5), (0.0, 0.3)]
    values = [0.09, 0.12, 0.15]
    hundredths = [range(round(100 * low), round(100 * high) + 1) for low, high in bands]
    mixes = (mix for mix in itertools.product(*hundredths) if sum(mix) == 100)
    every = [sum(s / 100 * v for s, v in zip(mix, values, strict=True)) for mix in mixes]
    expected = max(every) if largest else min(every)
    assert solids.mix_extreme(bands, values, largest) == pytest.approx(expected)


def test_mix_extreme_of_one_fruit_is_its_value() -> None:
    assert solids.mix_extreme([(1, 1)], [0.09], largest=True) == pytest.approx(0.09)
    assert solids.mix_extreme([(0.5, 1)], [0.09], largest=False) == pytest.approx(0.09)


def test_mix_extreme_forgives_thirds() -> None:
    third = 0.3333333333
    with pytest.raises(ValueError, match="no mix"):
        solids.mix_extreme([(third - 1e-6, third - 1e-6)] * 3, [1, 2, 3], largest=True)
    share = 1 / 3 - 1e-10
    assert solids.mix_extreme([(share, share)] * 3, [1, 2, 3], largest=True) == pytest.approx(2)


@pytest.mark.parametrize("bands", [[(0.6, 0.8), (0.5, 0.9)], [(0.1, 0.3), (0.2, 0.4)], []])
def test_bands_without_a_mix_are_refused(bands: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match=r"no mix: the shares add to .* allowed: .*"):
        solids.mix_extreme(bands, [0.1] * len(bands), largest=False)


def test_bands_and_values_must_match() -> None:
    with pytest.raises(ValueError, match="2 bands but 1 values"):
        solids.mix_extreme([(0, 1), (0, 1)], [0.1], largest=True)
    with pytest.raises(ValueError, match="high share of a fruit"):
        solids.mix_extreme([(0.6, 0.4)], [0.1], largest=True)


def test_shares_and_values_must_match() -> None:
    with pytest.raises(ValueError, match="2 shares but 1 values"):
        solids.mix_of([0.5, 0.5], [0.1])


def test_jars_are_full_jars_and_forgive_a_millionth() -> None:
    assert solids.jars(3.4, 0, 0.34) == 10
    assert solids.jars(3.4 - 1e-7, 0, 0.34) == 10
    assert solids.jars(3.399, 0, 0.34) == 9
    assert solids.jars(10, 0.02, 0.34) == math.floor(9.8 / 0.34)
    assert solids.jars(0, 0, 0.34) == 0


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: solids.jam_kg(-1, 0.1, 1, 0.65), "fruit is -1"),
        (lambda: solids.jam_kg(1, 0, 1, 0.65), "solids of the fruit is 0"),
        (lambda: solids.jam_kg(1, 9, 1, 0.65), r"solids of the fruit is 9; .*Give 65 % as 0.65"),
        (lambda: solids.jam_kg(1, 0.1, 1, 0.9), "final solids is 0.9"),
        (lambda: solids.jam_kg(1, 0.1, math.nan, 0.65), "sugar is nan"),
        (lambda: solids.jam_kg(1, 0.1, 1, 0.65, -0.1), "other solids is -0.1"),
        (lambda: solids.water_off_kg(1, 0.1, 1, 0.65, -1), "water is -1"),
        (lambda: solids.fruit_per_jam(0.1, 0, 1, 0.65), "parts of fruit is 0"),
        (lambda: solids.fruit_per_jam(0.1, 1, -1, 0.65), "parts of sugar is -1"),
        (lambda: solids.mix_litres(1, -1, 1), "sugar is -1"),
        (lambda: solids.jars(1, 1, 0.34), "pan loss is 1"),
        (lambda: solids.prepared_kg(1, 8), r"preparation loss is 8; .*2 % as 0\.02"),
        (lambda: solids.picked_kg(-1, 0.08), "prepared fruit is -1"),
        (lambda: solids.solids_of(1, 0.1, 1, 0), "preserve is 0"),
        (lambda: solids.solids_of(1, 0.1, 1, 1), r"solids of the preserve is 1\.1; .*yield is too small"),
        (lambda: solids.sugar_for_share(1, 60), "share of sugar is 60"),
        (lambda: solids.mix_of([0.7, 0.4], [0.1, 0.1]), r"sum of the shares is 1\.1"),
        (lambda: solids.mix_of([-0.1, 1.1], [0.1, 0.1]), r"share of a fruit is -0\.1"),
        (lambda: solids.jars(1, 0.02, 0), "net mass of a jar is 0"),
    ],
)
def test_out_of_range_is_named(call: Callable[[], float], named: str) -> None:
    with pytest.raises(ValueError, match=named) as raised:
        call()
    assert "; allowed: " in str(raised.value)
