"""Checks of people and of the shifts that they offer."""

from __future__ import annotations

import datetime as dt

from scheduler.domain.kitchen import STEP
from scheduler.domain.people import OVERTIME_STEP, WorkRules
from scheduler.intake import build, keys, rows
from scheduler.intake.check_fruit import note_outside, note_unknown
from scheduler.intake.check_kitchen import clock, note_repeats
from scheduler.intake.faults import FaultList
from scheduler.intake.gathered import Gathered
from scheduler.intake.tables import Row


def names(found: Gathered, faults: FaultList) -> None:
    """People have names of their own."""
    note_repeats(found.people, "person", faults, "Tell the two apart, as in 'Maeve K' and 'Maeve R'.")


def shifts(found: Gathered, faults: FaultList) -> None:
    """Shifts are of known people, on planned days, inside the day, each offered once."""
    kitchen = found.table("kitchen", keys.KitchenTable)
    seen: dict[tuple[str, dt.date, int, int], str] = {}
    for row in found.shifts:
        shift = row.value
        note_unknown(row, "person", "people.csv", found, faults)
        note_outside(row, "date", found, faults, "Remove the row, or mend start and days in kitchen.toml.")
        _note_times(row, kitchen, faults)
        key = (shift.person, shift.date, shift.start, shift.end)
        if key in seen:
            found_text = (
                f"{shift.person} from {clock(shift.start)} to {clock(shift.end)}, which {seen[key]} has too"
            )
            remedy = (
                "Remove one of the two (a person may offer shifts of other times on the day; one is used)."
            )
            faults.add(row.file, row.where, found_text, "each shift once", remedy)
        seen.setdefault(key, row.where)


def work_rules(found: Gathered, faults: FaultList) -> None:
    """For every length that a shift can have, with overtime, some break keeps the work rules."""
    rules = build.work_rules(found)
    if rules is None or faults.has("kitchen.toml"):
        return
    for row in found.shifts:
        shift = row.value
        for overtime in range(0, shift.overtime_minutes + 1, OVERTIME_STEP):
            present = shift.end - shift.start + overtime
            if present > 0 and not break_fits(rules, present):
                _note_no_break(row, present, overtime, rules, faults)
                break


def break_fits(rules: WorkRules, present: int) -> bool:
    """Whether ``present`` minutes can hold the break owed with no stretch of work too long."""
    owed = rules.break_minutes(present)
    worked = present - owed
    longest = rules.longest_stretch_minutes // STEP * STEP
    if not owed:
        return worked <= longest
    return 2 * STEP <= worked <= 2 * longest


def _note_times(row: Row[rows.ShiftRow], kitchen: keys.KitchenTable | None, faults: FaultList) -> None:
    shift = row.value
    if shift.end <= shift.start:
        allowed = f"a time after start ({clock(shift.start)})"
        faults.add(row.file, row.at("end"), f"'{clock(shift.end)}'", allowed, "Mend one of the two times.")
    elif shift.end + shift.overtime_minutes > 24 * 60:
        found_text = f"overtime to {clock(shift.end + shift.overtime_minutes)}"
        faults.add(row.file, row.at("overtime_minutes"), found_text, "an end by 24:00", "Lower the overtime.")
    elif (
        kitchen
        and kitchen.open < kitchen.close
        and not (shift.start < kitchen.close and shift.end > kitchen.open)
    ):
        found_text = f"a shift from {clock(shift.start)} to {clock(shift.end)}"
        allowed = (
            f"a shift that touches the kitchen's hours ({clock(kitchen.open)} to {clock(kitchen.close)})"
        )
        faults.add(row.file, row.at("start"), found_text, allowed, "Mend the times or remove the shift.")


def _note_no_break(
    row: Row[rows.ShiftRow], present: int, overtime: int, rules: WorkRules, faults: FaultList
) -> None:
    owed = rules.break_minutes(present)
    with_overtime = f", {overtime} of them overtime," if overtime else ""
    found_text = f"{present} minutes{with_overtime} with a break of {owed}"
    longest = rules.longest_stretch_minutes
    most = (
        f"two stretches of work of at most {longest} minutes"
        if owed
        else f"at most {longest} without a break"
    )
    remedy = "Shorten the shift or its overtime, or mend [work] in kitchen.toml if local law allows."
    faults.add(row.file, row.at("overtime_minutes" if overtime else "end"), found_text, most, remedy)
