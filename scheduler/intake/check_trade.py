"""Checks of orders, goods of the store, deliveries and what the shop asks for."""

from __future__ import annotations

import datetime as dt

from scheduler.domain.trade import PECTIN, SUGAR, Weekday
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


def packs(found: Gathered, faults: FaultList) -> None:
    """A least order in packs has its pack; packs are whole numbers of what the plan counts in."""
    for row in found.goods:
        good = row.value
        if good.pack is None:
            if good.least_packs > 1:
                remedy = "Fill in pack, or leave least_packs empty."
                allowed = "nothing for a good without a pack"
                faults.add(row.file, row.at("least_packs"), shown(good.least_packs), allowed, remedy)
        elif abs(good.pack - round(good.pack, 1 if good.good == SUGAR else 0)) > 1e-9:
            allowed = "kg with one decimal" if good.good == SUGAR else "a whole number"
            remedy = "Mend the pack, or leave it empty where any quantity can be bought."
            faults.add(row.file, row.at("pack"), shown(good.pack), allowed, remedy)


def deliveries(found: Gathered, faults: FaultList) -> None:
    """Deliveries are of known goods, on planned days on which the good is delivered."""
    days = {row.value.good: row.value.delivery_days for row in found.goods}
    for row in found.deliveries:
        weekday = list(Weekday)[row.value.date.weekday()]
        if weekday not in days.get(row.value.good, Weekday):
            known = " or ".join(day for day in Weekday if day in days[row.value.good])
            remedy = f"Mend the date, or add {weekday} to the good's delivery_days in store.csv."
            allowed = f"a {known}, as store.csv says of {row.value.good}"
            faults.add(row.file, row.at("date"), f"{row.value.date}, a {weekday}", allowed, remedy)
        note_unknown(row, "good", "store.csv", found, faults)
        note_outside(
            row, "date", found, faults, "Count it into on_hand in store.csv if it has come; else remove it."
        )


def shop(found: Gathered, faults: FaultList) -> None:
    """The shop asks for known recipes, on planned days, once for each recipe, size and day."""
    seen: dict[tuple[str, str | None, dt.date], str] = {}
    usual = {recipe.row.value.name: recipe.row.value.jar for recipe in found.recipes}
    for row in found.shop:
        note_unknown(row, "recipe", "recipes.toml", found, faults)
        note_outside(row, "date", found, faults, "Remove the row, or mend start and days in kitchen.toml.")
        jar = row.value.jar or usual.get(row.value.recipe)
        key = (row.value.recipe, jar, row.value.date)
        if key in seen:
            found_text = f"{row.value.recipe} of {row.value.date}, which {seen[key]} has too"
            remedy = "Keep the row that is right."
            faults.add(row.file, row.where, found_text, "one row for a recipe and day", remedy)
        seen.setdefault(key, row.where)
