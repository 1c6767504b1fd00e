"""Faults of jar sizes, ways to fill them, racks, shelves and washing; and what is just inside them."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.domain.recipes import JarSize
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import Case, Change, K, R, add, assert_told_once, columns, swap

SMALL = '[[recipe.size]]\njar = "jar 220 g"\nlid = "lid 63 mm"\njar_kg = 0.22'


def both(*changes: Change) -> Change:
    return lambda folder: [change(folder) for change in changes]


def in_two_sizes(*more: Change) -> Change:
    """The last recipe is potted in a second size, whose jar is in the store."""
    return both(add("store.csv", "jar 220 g,each,60,0.3,2"), add(R, SMALL), *more)


def ways(shares: str) -> Change:
    """The last recipe is shared out like this."""
    return swap(R, 'name = "blackberry jam"', f'name = "blackberry jam"\nfill_shares = {shares}')


def potting(line: str) -> Change:
    return swap(K, "[potting]", f"[potting]\n{line}")


CASES: dict[str, Case] = {
    "a size whose jar is not in the store": (
        add(R, SMALL), R, "recipe 3, size 1, key jar", "a good of store.csv",
    ),
    "a size twice": (
        in_two_sizes(add(R, SMALL)), R, "recipe 3, size 2, key jar", "another jar than those of the sizes",
    ),
    "a size that is its own lid": (
        in_two_sizes(swap(R, 'jar = "jar 220 g"\nlid = "lid 63 mm"', 'jar = "jar 220 g"\nlid = "jar 220 g"')),
        R, "recipe 3, size 1, key lid", "a good of its own",
    ),
    "a size in grams": (
        in_two_sizes(swap(R, "jar_kg = 0.22", "jar_kg = 220")), R, "recipe 3, size 1, key jar_kg", "0.22",
    ),
    "shares for one size of two": (
        in_two_sizes(ways("[[1]]")),
        R, "recipe 3, key fill_shares", "2 shares in each, for jar 340 g, jar 220 g",
    ),
    "shares for two sizes of one": (
        ways("[[0.5, 0.5]]"), R, "recipe 3, key fill_shares", "1 share in each",
    ),
    "shares that do not add to 1": (
        in_two_sizes(ways("[[0.5, 0.6]]")),
        R, "recipe 3, key fill_shares", "shares that add to 1",
    ),
    "no list of shares": (
        ways("[1.0]"), R, "recipe 3, key fill_shares", "lists in square brackets",
    ),
    "an order for a size that there is not": (
        columns("orders.csv", 2, jar="jar 220 g"),
        "orders.csv", "row 2, column jar", "a jar of strawberry jam: jar 340 g",
    ),
    "the shop asks for a size that is misspelt": (
        add("shop.csv", "date,recipe,jar,jars\n2026-08-25,strawberry jam,jar 340g,5"),
        "shop.csv", "row 2, column jar", "Did you mean 'jar 340 g'?",
    ),
    "the shop asks twice for the first size": (
        add("shop.csv", "date,recipe,jar,jars\n2026-08-25,strawberry jam,jar 340 g,5\n"
            "2026-08-25,strawberry jam,,5"),
        "shop.csv", "row 3", "Keep the row that is right",
    ),
    "racks for no jars": (potting("rack_jars = 0"), K, "[potting], key rack_jars", "Leave it out"),
    "shelves for fewer jars than there are": (
        potting("shelf_jars = 10"), K, "[potting], key shelf_jars", "jars on hand in recipes.toml",
    ),
    "racks overnight and jars shipped at once": (
        both(potting("rack_jars = 100"), swap(K, "[habits]", "[habits]\nsettle_days = 0")),
        K, "[habits], key settle_days", "until the next morning",
    ),
    "scrap in per cent": (potting("scrap_share = 2"), K, "[potting], key scrap_share", "Write 2 % as 0.02"),
    "jars washed by nobody": (
        swap(K, "[jar_oven]", "[jar_oven]\nwash_jars_per_hour = 0"),
        K, "[jar_oven], key wash_jars_per_hour", "jars an hour",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_fault_of_jars_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, CASES[name])


def test_sizes_and_their_ways_are_read(folder: Path) -> None:
    in_two_sizes(columns("orders.csv", 2, jar=""))(folder)
    scenario = read_scenario(folder).scenario
    *others, last = scenario.recipes
    assert last.more_sizes == (JarSize("jar 220 g", "lid 63 mm", 0.22, 0),)
    assert last.fill_shares == ((1.0, 0.0), (0.0, 1.0), (0.5, 0.5))
    assert {recipe.fill_shares for recipe in others} == {((1.0,),)}
    assert {order.jar for order in scenario.orders} == {"jar 340 g"}


def test_room_and_washing_just_inside_are_read(folder: Path) -> None:
    on_hand = sum(recipe.jars_on_hand for recipe in read_scenario(folder).scenario.recipes)
    potting(f"rack_jars = 1\nshelf_jars = {on_hand}\nsample_jars = 1\nscrap_share = 0.5")(folder)
    swap(K, "[jar_oven]", "[jar_oven]\nwash_jars_per_hour = 5")(folder)
    kitchen = read_scenario(folder).scenario.kitchen
    assert (kitchen.rack_jars, kitchen.shelf_jars) == (1, on_hand)
    assert (kitchen.sample_jars, kitchen.scrap_share, kitchen.oven.wash_jars_per_hour) == (1, 0.5, 5.0)
