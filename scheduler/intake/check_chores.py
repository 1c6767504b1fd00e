"""Checks of work beside the batches: taking fruit out of the freezer."""

from __future__ import annotations

from scheduler.domain.kitchen import Thaw
from scheduler.intake import keys
from scheduler.intake.faults import FaultList
from scheduler.intake.gathered import KITCHEN, Gathered


def taking_out(found: Gathered, faults: FaultList) -> None:
    """No longer than the kitchen is open; fruit that thaws in the pan is not taken out the day before."""
    habits, kitchen = found.table("habits", keys.HabitsTable), found.table("kitchen", keys.KitchenTable)
    if habits is None or not habits.take_out_minutes:
        return
    where, seen = "[habits], key take_out_minutes", f"{habits.take_out_minutes} minutes"
    if habits.thaw is Thaw.PAN:
        remedy = "Remove it, or thaw overnight: its time counts on the day before fruit is cooked."
        faults.add(KITCHEN, where, seen, "0 where fruit thaws in the pan", remedy)
    elif kitchen and 0 < kitchen.close - kitchen.open < habits.take_out_minutes:
        allowed = f"at most the {kitchen.close - kitchen.open} minutes that the kitchen is open"
        faults.add(KITCHEN, where, seen, allowed, "Shorten it or open longer.")
