"""Amounts typed with a unit: worked examples, and what is refused.

Pound, stone, gallon and pint: Weights and Measures Act 1985 (United Kingdom), schedule 1 as enacted. Inch and
degree Fahrenheit: NIST Special Publication 811, appendix B.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.intake import read_scenario
from scheduler.intake.measures import NoSuchAmount, amount
from tests.unit.intake.spoil import Case, K, assert_told_once, swap

WORKED = {
    ("3 st 4 lb", "kg"): 46 * 0.45359237,
    ("12 lb", "kg"): 5.44310844,
    ("8 oz", "kg"): 0.226796185,
    ("2 lb 8", "kg"): 1.133980925,
    ("11 stone 4", "kg"): 158 * 0.45359237,
    ("340 g", "kg"): 0.34,
    ("22 kg", "kg"): 22.0,
    ("1 oz", "g"): 28.349523125,
    ("20 lb an hour", "kg an hour"): 9.0718474,
    ("20 lb", "kg a day"): 9.0718474,
    ("5 pints", "litres"): 2.84130625,
    ("2 gal", "litres"): 9.09218,
    ("1 gallon 2 pints", "litres"): 5.6826125,
    ("10 fl oz", "litres"): 0.284130625,
    ("212 °F", "°C"): 100.0,
    ("32F", "°C"): 0.0,
    ("-40 °F", "°C"): -40.0,
    ("220 °F", "°C"): 104.44444444444444,
    ("3 °C", "°C"): 3.0,
    ("9 in", "cm"): 22.86,
    ('15"', "cm"): 38.1,
    ("200 ft", "m"): 60.96,
    ("1 h 30", "minutes"): 90.0,
    ("1h30", "hours"): 1.5,
    ("90 min", "hours"): 1.5,
}


@pytest.mark.parametrize(("typed", "unit"), WORKED)
def test_an_amount_turns_into_the_unit_of_its_column(typed: str, unit: str) -> None:
    assert amount(typed, unit) == pytest.approx(WORKED[typed, unit], abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("2 US pints", "litres", "US measures are not read"),
        ("1 U.S. gallon", "litres", "US measures are not read"),
        ("3 pints", "kg", "'pints' is a volume"),
        ("3 lb", "litres", "'lb' is a mass"),
        ("4 lb 3 st", "kg", "larger unit first"),
        ("4 lb 3 lb", "kg", "each unit once"),
        ("2 cups", "litres", "'cups' is no unit known here"),
        ("300 K", "°C", "°C, or °F"),
    ],
)
def test_what_has_no_meaning_there_is_refused_with_the_way_out(typed: str, unit: str, said: str) -> None:
    with pytest.raises(NoSuchAmount, match=said):
        amount(typed, unit)


@pytest.mark.parametrize(
    ("typed", "unit"), [("many", "kg"), ("12,5 kg", "kg"), ("3 lb", "jars"), ("4 5", "kg")]
)
def test_what_is_no_amount_is_left_to_the_column(typed: str, unit: str) -> None:
    assert amount(typed, unit) is None


def test_the_files_may_carry_units(folder: Path) -> None:
    swap("picks.csv", "table,22.0", "table,3 st 4 lb")(folder)
    swap(K, "celsius = 3", 'celsius = "37.4 °F"')(folder)
    swap(K, "hot_minutes = 90", 'hot_minutes = "1 h 30"')(folder)
    scenario = read_scenario(folder).scenario
    assert scenario.picks[0].kg == 20.9
    assert scenario.kitchen.chiller.celsius == pytest.approx(3.0)
    assert scenario.kitchen.oven.hot_minutes == 90


FAULTY: dict[str, Case] = {
    "a US pint": (
        swap(K, "litres = 22", 'litres = "30 US pints"'),
        K,
        "pan 1, key litres",
        "A US pint is 0.473 litres, an imperial one 0.568",
    ),
    "out of range": (
        swap("picks.csv", "table,22.0", "table,4000 st"),
        "picks.csv",
        "row 2, column kg",
        "0 to 20000 kg",
    ),
    # Sugar for a kg of fruit is a ratio: a pound of it would be taken for a pound on each kg.
    "a ratio": (
        swap("recipes.toml", "sugar_per_kg = 0.9", 'sugar_per_kg = "1 lb"'),
        "recipes.toml",
        "recipe 1, key sugar_per_kg",
        "without units",
    ),
}


@pytest.mark.parametrize("name", FAULTY)
def test_faulty_amounts_are_told(folder: Path, name: str) -> None:
    assert_told_once(folder, FAULTY[name])
