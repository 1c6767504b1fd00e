"""Faults of part deliveries, packs, delivery days and what the shop asks for."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.intake.spoil import Case, add, assert_told_once, columns

SHOP = "date,recipe,jars\n"

CASES: dict[str, Case] = {
    "neither yes nor no": (
        columns("orders.csv", 2, parts="true"),
        "orders.csv",
        "row 2, column parts",
        "yes or no",
    ),
    "a pack of nothing": (
        columns("store.csv", 2, pack="0"),
        "store.csv",
        "row 2, column pack",
        "Leave it empty where any quantity can be bought",
    ),
    "half a jar in a pack": (
        columns("store.csv", 5, pack="12.5"),
        "store.csv",
        "row 5, column pack",
        "a whole number",
    ),
    "sugar to 50 g": (
        columns("store.csv", 2, pack="0.25"),
        "store.csv",
        "row 2, column pack",
        "kg with one decimal",
    ),
    "a least order without a pack": (
        columns("store.csv", 2, pack="", least_packs="2"),
        "store.csv",
        "row 2, column least_packs",
        "Fill in pack",
    ),
    "a least order of no pack": (
        columns("store.csv", 2, pack="25", least_packs="0"),
        "store.csv",
        "row 2, column least_packs",
        "a whole number from 1 to 10000 packs",
    ),
    "a day that no week has": (
        columns("store.csv", 2, delivery_days="Mon Thur"),
        "store.csv",
        "row 2, column delivery_days",
        "Did you mean 'Thu'?",
    ),
    "a delivery on another day of the week": (  # 2026-08-26 is a Wednesday
        lambda folder: (
            columns("store.csv", 2, delivery_days="Thu Mon")(folder),
            add("deliveries.csv", "date,good,quantity\n2026-08-26,sugar,5")(folder),
        ),
        "deliveries.csv",
        "row 2, column date",
        "a Wed; allowed: a Mon or Thu, as store.csv says of sugar",
    ),
    "the shop asks for an unknown recipe": (
        add("shop.csv", SHOP + "2026-08-25,strawbery jam,5"),
        "shop.csv",
        "row 2, column recipe",
        "'strawberry jam'?",
    ),
    "the shop asks outside the horizon": (
        add("shop.csv", SHOP + "2026-08-31,strawberry jam,5"),
        "shop.csv",
        "row 2, column date",
        "2026-08-24 to 2026-08-30",
    ),
    "the shop asks twice": (
        add("shop.csv", SHOP + "2026-08-25,strawberry jam,5\n2026-08-25,strawberry jam,6"),
        "shop.csv",
        "row 3",
        "Keep the row that is right",
    ),
    "the shop asks for nothing": (
        add("shop.csv", SHOP + "2026-08-25,strawberry jam,0"),
        "shop.csv",
        "row 2, column jars",
        "Leave the row out",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_fault_of_trade_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, CASES[name])
