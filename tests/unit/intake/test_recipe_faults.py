"""Faults of recipes that show only against fruits, store and pans."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.intake.spoil import Case, R, add, again, assert_told_once, swap

OF_RECIPES: dict[str, Case] = {
    "recipe of an unknown fruit": (
        swap(R, 'fruit = "raspberry"', 'fruit = "rasberry"'),
        R,
        "recipe 2, fruit 1, key fruit",
        "Did you mean 'raspberry'?",
    ),
    "no fruit at all": (
        swap(R, '[[recipe.fruit]]\nfruit = "strawberry"', ""),
        R,
        "recipe 1, [[recipe.fruit]]",
        "at least one fruit",
    ),
    "mix that cannot add to 1": (
        swap(R, 'fruit = "strawberry"', 'fruit = "strawberry"\nhigh = 0.9\nlow = 0.2'),
        R,
        "recipe 1, [[recipe.fruit]]",
        "add to 1",
    ),
    "low above high": (
        swap(
            R,
            'fruit = "strawberry"',
            'fruit = "strawberry"\nlow = 0.8\nhigh = 0.6\n'
            '[[recipe.fruit]]\nfruit = "raspberry"\nlow = 0.1\nhigh = 0.9',
        ),
        R,
        "recipe 1, fruit 1, key low",
        "at most high",
    ),
    "fruit twice in a recipe": (
        swap(
            R,
            'fruit = "strawberry"',
            'fruit = "strawberry"\nlow = 0.5\n[[recipe.fruit]]\nfruit = "strawberry"\nlow = 0.5',
        ),
        R,
        "recipe 1, fruit 2, key fruit",
        "each fruit once",
    ),
    "two recipes of one name": (
        again(R, "[[recipe]]", 'name = "raspberry jam"'),
        R,
        "recipe 4, key name",
        "recipe 2",
    ),
    "more jam than goes in": (
        swap(R, "sugar_per_kg = 0.9", "sugar_per_kg = 2"),
        R,
        "recipe 1, key final_solids",
        "boiling only takes water away",
    ),
    "nearly all boiled away": (
        swap(R, "sugar_per_kg = 1.0\nlemons_per_kg = 0.5", "sugar_per_kg = 0\nwater_per_kg = 3"),
        R,
        "recipe 3, key final_solids",
        "less than 0.25: a tenth",  # 0.1 kg of solids in 4 kg, a tenth of which is 0.4 kg: 0.1 / 0.4
    ),
    "thirds that do not add to 1": (
        swap(
            R,
            'fruit = "blackberry"',
            "\n[[recipe.fruit]]\n".join(
                f'fruit = "{fruit}"\nlow = 0.333333\nhigh = 0.333333'
                for fruit in ("blackberry", "raspberry", "strawberry")
            ),
        ),
        R,
        "recipe 3, [[recipe.fruit]]",
        "0.999999",
    ),
    "other ingredient twice": (
        add(R, '[[recipe.other]]\nname = "cinnamon"\ng_per_kg = 1'),
        R,
        "recipe 3, other 2, key name",
        "add them up",
    ),
    "too much of other ingredients": (
        add(R, '[[recipe.other]]\nname = "rum"\ng_per_kg = 48.1'),
        R,
        "recipe 3, [[recipe.other]]",
        "50.1 g in all",
    ),
    "more jars than can be sold": (
        swap(R, "jars_on_hand = 24", "jars_on_hand = 251"),
        R,
        "recipe 1, key jars_on_hand",
        "most_jars (250)",
    ),
    "jar not in the store": (
        swap(R, 'jar = "jar 340 g"', 'jar = "jar 341 g"'),
        R,
        "recipe 1, key jar",
        "Did you mean 'jar 340 g'?",
    ),
    "jar is the lid": (
        swap(R, 'lid = "lid 63 mm"', 'lid = "jar 340 g"'),
        R,
        "recipe 1, key lid",
        "another good than the jar",
    ),
    "pectin not in the store": (
        swap("store.csv", "pectin,g", "pectine,g"),
        R,
        "recipe 1, key pectin_g_per_kg",
        "Add a row 'pectin'",
    ),
}


@pytest.mark.parametrize("name", OF_RECIPES)
def test_a_fault_of_a_recipe_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, OF_RECIPES[name])
