"""Checks of days with hours of their own, of busy times, and of the work that keeps the kitchen clean."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.scenario import Scenario
from scheduler.intake import keys, rows
from scheduler.intake.check_fruit import note_outside
from scheduler.intake.check_kitchen import clock, note_repeats
from scheduler.intake.faults import FaultList, shown
from scheduler.intake.gathered import KITCHEN, Gathered
from scheduler.intake.tables import Row

PLANNED = "Remove the row, or mend start and days in kitchen.toml."


def days(found: Gathered, faults: FaultList) -> None:
    """Hours of a day's own are of a planned day, told once, and within the kitchen's."""
    kitchen = found.table("kitchen", keys.KitchenTable)
    once = "Keep one row; a time within the day in which the kitchen is used otherwise belongs in busy.csv."
    note_repeats(found.days, "date", faults, once)
    for row in found.days:
        note_outside(row, "date", found, faults, PLANNED)
        _note_hours(row, kitchen, faults)


def _note_hours(row: Row[rows.DayRow], kitchen: keys.KitchenTable | None, faults: FaultList) -> None:
    opens, closes = row.value.open, row.value.close
    if opens is None or closes is None:
        if opens != closes:
            key = "open" if opens is None else "close"
            remedy = "Give both times, or neither where the kitchen is closed all day."
            faults.add(row.file, row.at(key), "nothing", "a time, as the other is given", remedy)
        return
    if closes <= opens:
        remedy = "Mend one of the two times; where the kitchen is closed all day, leave both empty."
        faults.add(row.file, row.at("close"), shown(clock(closes)), f"a time after {clock(opens)}", remedy)
    elif kitchen and kitchen.open < kitchen.close:
        remedy = "Widen open and close in kitchen.toml, and give the other days their narrower hours here."
        for key, time, outside in (
            ("open", opens, opens < kitchen.open),
            ("close", closes, closes > kitchen.close),
        ):
            if outside:
                allowed = f"within the kitchen's hours ({clock(kitchen.open)} to {clock(kitchen.close)})"
                faults.add(row.file, row.at(key), shown(clock(time)), allowed, remedy)


def busy(found: Gathered, faults: FaultList) -> None:
    """Busy times are of planned days, end after they start, and touch the kitchen's hours."""
    kitchen = found.table("kitchen", keys.KitchenTable)
    hours = (kitchen.open, kitchen.close) if kitchen and kitchen.open < kitchen.close else (0, 24 * 60)
    for row in found.busy:
        start, end = row.value.start, row.value.end
        note_outside(row, "date", found, faults, PLANNED)
        if end <= start:
            allowed = f"a time after start ({clock(start)})"
            faults.add(row.file, row.at("end"), shown(clock(end)), allowed, "Mend one of the two times.")
        elif not (start < hours[1] and end > hours[0]):
            found_text = f"{clock(start)} to {clock(end)}"
            allowed = f"a time that touches the kitchen's hours ({clock(hours[0])} to {clock(hours[1])})"
            faults.add(row.file, row.at("start"), found_text, allowed, "Mend the times or remove the row.")


def cleaning(found: Gathered, faults: FaultList) -> None:
    """A full wash is no shorter than any other, and the clean down leaves time to cook."""
    habits = found.table("habits", keys.HabitsTable)
    kitchen = found.table("kitchen", keys.KitchenTable)
    if habits is None:
        return
    full, wash, clean = habits.full_wash_minutes, habits.wash_minutes, habits.clean_down_minutes
    if full is not None and full < wash:
        remedy = "Raise it, or leave it out where all pans are washed alike."
        where = "[habits], key full_wash_minutes"
        faults.add(KITCHEN, where, f"{full} minutes", f"at least wash_minutes ({wash})", remedy)
    if kitchen and 0 < kitchen.close - kitchen.open <= clean:
        allowed = f"less than the {kitchen.close - kitchen.open} minutes that the kitchen is open"
        where = "[habits], key clean_down_minutes"
        faults.add(KITCHEN, where, f"{clean} minutes", allowed, "Shorten it or open longer.")


def idle_shifts(scenario: Scenario) -> Iterator[str]:
    """A line for each shift offered, overtime included, in which the kitchen is closed all the time."""
    for shift in scenario.shifts:
        if not scenario.open_minutes(shift.day, shift.start, shift.end + shift.overtime_minutes):
            yield (
                f"{shift.day.isoformat()}, {shift.person}: the kitchen is closed all through the shift from "
                f"{clock(shift.start)} to {clock(shift.end)}. The plan does not use it."
            )
