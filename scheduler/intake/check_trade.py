"""Checks of orders, goods of the store and deliveries."""

from __future__ import annotations

from scheduler.domain.trade import PECTIN, SUGAR
from scheduler.intake.check_fruit import note_outside, note_unknown
from scheduler.intake.check_kitchen import note_repeats
from scheduler.intake.faults import FaultList, shown
from scheduler.intake.gathered import Gathered

UNITS = {SUGAR: "kg", PECTIN: "g"}
"""Units in which the plan counts these goods."""


def orders(found: Gathered, faults: FaultList) -> None:
    """Orders have names of their own, known recipes and planned days."""
    note_repeats(found.orders, "order", faults, "Give each order its own name or number.")
    for row in found.orders:
        note_unknown(row, "recipe", "recipes.toml", found, faults)
        remedy = "Leave orders of other days out of this folder, or mend start and days in kitchen.toml."
        note_outside(row, "due", found, faults, remedy)


def goods(found: Gathered, faults: FaultList) -> None:
    """Goods have names of their own; sugar and pectin are counted in the plan's units."""
    note_repeats(found.goods, "good", faults, "Add the two rows up.")
    for row in found.goods:
        unit = UNITS.get(row.value.good)
        if unit and row.value.unit != unit:
            remedy = f"Give on_hand in {unit} and price per {unit}."
            faults.add(
                row.file, row.at("unit"), shown(row.value.unit), f"{unit} for {row.value.good}", remedy
            )


def deliveries(found: Gathered, faults: FaultList) -> None:
    """Deliveries are of known goods, on planned days."""
    for row in found.deliveries:
        note_unknown(row, "good", "store.csv", found, faults)
        note_outside(
            row, "date", found, faults, "Count it into on_hand in store.csv if it has come; else remove it."
        )
