"""A preserve that cannot be is refused with what is allowed and the way out."""

from __future__ import annotations

import math

import pytest

from scheduler.law.composition import Composition, Ingredient, Kind, Role, plain
from tests.unit.law.jars import preserve


def test_numbers_out_of_range_name_what_is_allowed() -> None:
    for grams in (-1.0, 0.0, 1001.0, math.nan, math.inf):
        with pytest.raises(ValueError, match=r"grams of .*allowed: "):
            Ingredient("sugar", grams, Role.SUGAR)
    for solids in (0.0, 0.96, 65.0, math.nan):
        with pytest.raises(ValueError, match=r"soluble solids is .*Give 65 % as 0.65"):
            preserve({"strawberry": 50}, solids=solids)


def test_what_cannot_be_in_a_jar() -> None:
    with pytest.raises(ValueError, match="no fruit"):
        preserve({})
    with pytest.raises(ValueError, match="allowed: at least 100 g"):
        preserve({"strawberry": 20}, sugar=60, water=19.9)
    with pytest.raises(ValueError, match="stands twice"):
        preserve({"redcurrant": 20, "Red currants": 20})
    with pytest.raises(ValueError, match="no name"):
        Ingredient(" ", 1, Role.OTHER)
    with pytest.raises(ValueError, match="inside of the citrus"):
        preserve({"orange": 20}, kind=Kind.MARMALADE, endocarp=20.1)


def test_fruits_come_by_falling_mass() -> None:
    mix = preserve({"redcurrant": 10, "strawberry": 40})
    assert [fruit.name for fruit in mix.fruits] == ["strawberry", "redcurrant"]
    assert mix.grams(Role.FRUIT) == 50


@pytest.mark.parametrize(
    ("written", "meant"),
    [("Red currants", "redcurrant"), ("sea buckthorn", "sea-buckthorn"), ("Peaches", "peach"),
     ("tomatoes", "tomato"), ("GOOSEBERRIES", "gooseberry"), ("quinces", "quince")],
)  # fmt: skip
def test_a_fruit_is_known_however_it_is_written(written: str, meant: str) -> None:
    assert plain(written) == plain(meant)


def test_lower_sugar_begins_below_60_per_cent() -> None:
    """Source: Hampshire Trading Standards on the Jam and Similar Products (England) Regulations 2003."""
    fruit = (Ingredient("strawberry", 110, Role.FRUIT),)
    assert not Composition(Kind.JAM, fruit, 0.60).lower_sugar
    assert Composition(Kind.JAM, fruit, 0.599).lower_sugar


def test_only_juice_leaves_water_behind() -> None:
    assert preserve({"plum": 50}, kind=Kind.CORDIAL, left_out=20).fruit_at_least == 30
    assert preserve({"plum": 50}, kind=Kind.JELLY, left_out=60).fruit_at_least == 0
    assert preserve({"plum": 50}, kind=Kind.BUTTER).fruit_at_least == 50
    for kind, grams in ((Kind.JAM, 1.0), (Kind.BUTTER, 1.0), (Kind.JELLY, -1.0), (Kind.JELLY, math.nan)):
        with pytest.raises(ValueError, match="water left out"):
            preserve({"plum": 50}, kind=kind, left_out=grams)
