"""Checks of fruits, picks, lots on hand and punnet demand."""

from __future__ import annotations

import datetime as dt
from typing import Any

from scheduler.domain.fruit import Grade, Place
from scheduler.intake import keys, rows
from scheduler.intake.check_kitchen import note_repeats
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import KITCHEN, Gathered
from scheduler.intake.grading import graded_down_name, pick_name
from scheduler.intake.tables import Row
from scheduler.physics.keeping import known_celsius

_NEAR = 1e-9
OLDEST_FRESH_DAYS = 60
OLDEST_FROZEN_DAYS = 1100

WARMER = (
    "Mend it. Where it was warmer, give the highest that is allowed and more hours: count an hour that is "
    "10 °C above it as three."
)
"""Fruit goes over two to three times as fast for every 10 °C (Kader, Postharvest Technology of Horticultural
Crops, from memory); three is careful."""


def note_unknown(row: Row[Any], key: str, file: str, found: Gathered, faults: FaultList) -> None:
    """Note a name that ``file`` does not have."""
    name, known = getattr(row.value, key), found.names.get(file)
    if known is None or name in known or faults.full(row.file):
        return
    remedy = did_you_mean(name, known, f"Add it to {file}, or mend the name.")
    faults.add(row.file, row.at(key), shown(name), f"a name of {file}: {listed(known)}", remedy)


def note_outside(row: Row[Any], key: str, found: Gathered, faults: FaultList, remedy: str) -> None:
    """Note a date that is not a planned day."""
    horizon = found.horizon()
    day = getattr(row.value, key)
    if horizon and not horizon[0] <= day <= horizon[1]:
        allowed = f"a planned day, {horizon[0]} to {horizon[1]}"
        faults.add(row.file, row.at(key), shown(day), allowed, remedy)


def names_and_letters(found: Gathered, faults: FaultList) -> None:
    """Fruits differ in name and letter, and there is at least one."""
    if found.names.get("fruits.csv") == {}:
        faults.add("fruits.csv", "", "no fruit", "at least one row", "Add a row for each fruit.")
    note_repeats(found.fruits, "fruit", faults, "Remove one of the rows.")
    note_repeats(found.fruits, "letter", faults, "Choose another letter for one of them.")


def lives(found: Gathered, faults: FaultList) -> None:
    """Fruit may be sold and frozen only while it may be cooked."""
    for row in found.fruits:
        for key in ("sell_days", "peak_days"):
            days = getattr(row.value, key)
            if days > row.value.cook_days:
                allowed = f"at most cook_days ({row.value.cook_days:g})"
                faults.add(row.file, row.at(key), f"{days:g}", allowed, "Mend one of the two.")


def values(found: Gathered, faults: FaultList) -> None:
    """Fruit in a punnet is worth at least what it is worth in the kitchen."""
    for row in found.fruits:
        if row.value.table_value < row.value.kitchen_value:
            allowed = f"at least kitchen_value ({row.value.kitchen_value:g})"
            remedy = "Mend one of the two; for fruit that is never sold fresh give both the same value."
            faults.add(row.file, row.at("table_value"), f"{row.value.table_value:g}", allowed, remedy)


def grading(found: Gathered, faults: FaultList) -> None:
    """Grading leaves something of a table pick."""
    for row in found.fruits:
        loss, down = row.value.grading_loss, row.value.grade_down_share
        if loss + down > 1 - _NEAR:
            key = "grading_loss" if loss >= down else "grade_down_share"
            both = f"{down:g} graded down and {loss:g} lost, {down + loss:g} in all"
            remedy = "Mend one of the two; list fruit that is all kitchen grade as kitchen picks."
            faults.add(row.file, row.at(key), both, "less than 1 in all", remedy)


def freezer_life(found: Gathered, faults: FaultList) -> None:
    """Fruit frozen within the plan outlasts it: only lots on hand come to their date."""
    if found.farm is None:
        return
    days = found.farm.value.days
    for row in found.fruits:
        if row.value.freezer_months * 30.4 < days + 1:
            allowed = f"more than the {days} planned days (months of 30.4 days)"
            remedy = "Give it longer, or plan fewer days."
            faults.add(row.file, row.at("freezer_months"), f"{row.value.freezer_months:g}", allowed, remedy)


def chiller_within_table(found: Gathered, faults: FaultList) -> None:
    """Chiller and yard are usually at temperatures at which the life of every fruit is known."""
    chiller = found.table("chiller", keys.ChillerTable)
    known = _known_celsius(found)
    if chiller is None or not known:
        return
    low, high = max(low for low, _ in known.values()), min(high for _, high in known.values())
    for key, remedy in (("celsius", "Mend it."), ("warm_celsius", WARMER)):
        celsius = getattr(chiller, key)
        if not low <= celsius <= high:
            beyond = (name for name, (least, most) in known.items() if not least <= celsius <= most)
            allowed = f"{low:g} to {high:g} °C, where the life of {listed(beyond)} is known"
            faults.add(KITCHEN, f"[chiller], key {key}", f"{celsius:g}", allowed, remedy)


def picks(found: Gathered, faults: FaultList) -> None:
    """Picks are of known fruits, on planned days, once for each fruit, grade and day, and of a known life."""
    seen: dict[str, str] = {}
    known = _known_celsius(found)
    for row in found.picks:
        note_unknown(row, "fruit", "fruits.csv", found, faults)
        _note_beyond_table(row, known, faults)
        note_outside(row, "date", found, faults, "Remove the row, or mend start and days in kitchen.toml.")
        name = pick_name(row.value.fruit, row.value.grade, row.value.date)
        if name in seen:
            found_text = f"{shown(name)}, which {seen[name]} has too"
            faults.add(
                row.file, row.where, found_text, "one row for a fruit, grade and day", "Add the two rows up."
            )
        seen.setdefault(name, row.where)


def lots(found: Gathered, faults: FaultList) -> None:
    """Lots on hand have names of their own, known fruits, believable dates and known lives."""
    note_repeats(found.lots, "lot", faults, "Rename one of the lots: two lots cannot have one name.")
    taken, known = _names_to_come(found), _known_celsius(found)
    for row in found.lots:
        note_unknown(row, "fruit", "fruits.csv", found, faults)
        _note_use_by(row, faults)
        if row.value.place is Place.CHILLER:
            _note_beyond_table(row, known, faults)
        else:
            _note_warm_freezer(row, faults)
        _note_age(row, found, faults)
        if row.value.lot in taken:
            found_text = f"{shown(row.value.lot)}, a name that the plan gives to {taken[row.value.lot]}"
            faults.add(row.file, row.at("lot"), found_text, "another name", "Rename the lot.")


def punnets(found: Gathered, faults: FaultList) -> None:
    """Punnet demand is of known fruits, on planned days, once for each fruit and day."""
    seen: dict[tuple[str, dt.date], str] = {}
    for row in found.punnets:
        note_unknown(row, "fruit", "fruits.csv", found, faults)
        note_outside(row, "date", found, faults, "Remove the row, or mend start and days in kitchen.toml.")
        key = (row.value.fruit, row.value.date)
        if key in seen:
            found_text = f"{row.value.fruit} of {row.value.date}, which {seen[key]} has too"
            faults.add(row.file, row.where, found_text, "one row for a fruit and day", "Add the two rows up.")
        seen.setdefault(key, row.where)


def _names_to_come(found: Gathered) -> dict[str, str]:
    """Names of the lots that the plan itself makes: picks, and fruit frozen on a planned day."""
    taken: dict[str, str] = {}
    graded = {row.value.fruit for row in found.fruits if row.value.grade_down_share}
    for row in found.picks:
        fruit, grade, day = row.value.fruit, row.value.grade, row.value.date
        names = [pick_name(fruit, grade, day)]
        if fruit in graded:
            names += [pick_name(fruit, Grade.KITCHEN, day), graded_down_name(fruit, day)]
        taken |= dict.fromkeys(names, f"a pick ({row.file} {row.where})")
    horizon = found.horizon()
    if horizon:
        for number in range((horizon[1] - horizon[0]).days + 1):
            day = horizon[0] + dt.timedelta(days=number)
            for fruit in found.names.get("fruits.csv", ()):
                taken[f"{fruit} frozen {day.isoformat()}"] = "fruit frozen on that day"
    return taken


def _known_celsius(found: Gathered) -> dict[str, tuple[float, float]]:
    """For each fruit the temperatures between which its life is known."""
    return {row.value.fruit: known_celsius(row.value.keeps_like) for row in found.fruits}


def _note_beyond_table(
    row: Row[rows.PickRow] | Row[rows.LotRow], known: dict[str, tuple[float, float]], faults: FaultList
) -> None:
    fruit, celsius = row.value.fruit, row.value.warm_celsius
    if celsius is None or fruit not in known:
        return
    low, high = known[fruit]
    if not low <= celsius <= high:
        allowed = f"{low:g} to {high:g} °C, where the life of {fruit} is known"
        faults.add(row.file, row.at("warm_celsius"), f"{celsius:g}", allowed, WARMER)


def _note_warm_freezer(row: Row[rows.LotRow], faults: FaultList) -> None:
    for key in ("warm_hours", "warm_celsius"):
        given = getattr(row.value, key)
        if given is not None:
            remedy = "Leave it empty: a lot in the freezer keeps to its use_by."
            faults.add(row.file, row.at(key), f"{given:g}", "nothing for a lot in the freezer", remedy)


def _note_use_by(row: Row[rows.LotRow], faults: FaultList) -> None:
    lot = row.value
    if lot.place is Place.FREEZER and lot.use_by is None:
        remedy = "Write the last day on which the lot may be used."
        faults.add(row.file, row.at("use_by"), "nothing", "a date for a lot in the freezer", remedy)
    if lot.place is Place.CHILLER and lot.use_by is not None:
        remedy = "Leave it empty: the life of fresh fruit follows from its pick day and the chiller."
        faults.add(row.file, row.at("use_by"), shown(lot.use_by), "nothing for a lot in the chiller", remedy)
    if lot.use_by is not None and lot.use_by < lot.picked:
        allowed = f"a day from {lot.picked} (picked) on"
        faults.add(row.file, row.at("use_by"), shown(lot.use_by), allowed, "Mend one of the two dates.")


def _note_age(row: Row[rows.LotRow], found: Gathered, faults: FaultList) -> None:
    horizon = found.horizon()
    if horizon is None:
        return
    most = OLDEST_FRESH_DAYS if row.value.place is Place.CHILLER else OLDEST_FROZEN_DAYS
    oldest = horizon[0] - dt.timedelta(days=most)
    if not oldest <= row.value.picked <= horizon[0]:
        allowed = f"a day from {oldest} to {horizon[0]} (the first planned day) for the {row.value.place}"
        remedy = "Mend the date; what is still to be picked belongs in picks.csv."
        faults.add(row.file, row.at("picked"), shown(row.value.picked), allowed, remedy)
