"""Checks of what is given beforehand: pans and rings out of use, batches held and ruled out."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.cards import SCALE, rounded_down
from scheduler.domain.kitchen import Pan
from scheduler.intake import build, keys, rows
from scheduler.intake.check_days import PLANNED
from scheduler.intake.check_fruit import note_outside, note_unknown
from scheduler.intake.check_kitchen import clock
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import Gathered
from scheduler.intake.tables import Row
from scheduler.panful import full_kg
from scheduler.physics import solids
from scheduler.plan_rows import Part

Given = Row[rows.OutRow] | Row[rows.HeldRow]


def out_of_use(found: Gathered, faults: FaultList) -> None:
    """Each row is of a planned day and a pan or a ring of the kitchen, told once."""
    first: dict[object, str] = {}
    for row in found.out:
        note_outside(row, "date", found, faults, PLANNED)
        _note_names(row, found, faults)
        pan, ring = row.value.pan, row.value.ring
        if (pan is None) == (ring is None):
            seen = "nothing" if pan is None else f"both {shown(pan)} and {shown(ring)}"
            faults.add(row.file, row.at("pan"), seen, "a pan or a ring", "Name one of them in each row.")
            continue
        _note_twice(row, row.value.model_copy(update={"why": ""}), first, faults)


def held(found: Gathered, faults: FaultList) -> None:
    """Each row is of a planned day, recipe, pan and ring, and asks for what can be."""
    first: dict[object, str] = {}
    for row in found.held:
        note_outside(row, "date", found, faults, PLANNED)
        note_unknown(row, "recipe", "recipes.toml", found, faults)
        if not _note_names(row, found, faults):
            _note_too_wide(row, found, faults)
        if row.value.hold:
            _note_start(row, found, faults)
            _note_size(row, found, faults)
            _note_out_of_use(row, found, faults)
            _note_ruled_out(row, found, faults)
        else:
            for key in ("start", "kg"):
                if getattr(row.value, key) is not None:
                    remedy = "Leave it empty, or write hold yes."
                    faults.add(row.file, row.at(key), "a value", "nothing where hold is no", remedy)
            _note_twice(row, row.value, first, faults)


def _note_names(row: Given, found: Gathered, faults: FaultList) -> bool:
    """Note names that kitchen.toml does not have; whether there are any."""
    unknown = False
    for key, known in (("pan", found.pans), ("ring", found.rings)):
        names = {each.value.name: None for each in known}
        name = getattr(row.value, key)
        if name is not None and name not in names:
            unknown = True
            remedy = did_you_mean(name, names, "Mend the name, or remove the row.")
            allowed = f"a {key} of kitchen.toml: {listed(names)}"
            faults.add(row.file, row.at(key), shown(name), allowed, remedy)
    return unknown


def _note_twice(row: Given, value: object, first: dict[object, str], faults: FaultList) -> None:
    if value in first:
        remedy = "Remove one of the rows."
        faults.add(row.file, row.where, f"the same as {first[value]}", "each of them once", remedy)
    first.setdefault(value, row.where)


def _note_too_wide(row: Row[rows.HeldRow], found: Gathered, faults: FaultList) -> None:
    pan = next((each.value for each in found.pans if each.value.name == row.value.pan), None)
    ring = next((each.value for each in found.rings if each.value.name == row.value.ring), None)
    if pan and ring and pan.diameter_cm > ring.largest_pan_cm:
        seen = f"{shown(ring.name)}, which takes {ring.largest_pan_cm:g} cm"
        allowed = f"a ring for {pan.name} of {pan.diameter_cm:g} cm"
        faults.add(row.file, row.at("ring"), seen, allowed, "Choose another ring, or leave it empty.")


def _note_start(row: Row[rows.HeldRow], found: Gathered, faults: FaultList) -> None:
    kitchen, start = found.table("kitchen", keys.KitchenTable), row.value.start
    if kitchen and start is not None and not kitchen.open <= start < kitchen.close:
        allowed = f"a time from {clock(kitchen.open)} on and before {clock(kitchen.close)}"
        faults.add(
            row.file, row.at("start"), shown(clock(start)), allowed, "Mend the time, or leave it empty."
        )


def _note_size(row: Row[rows.HeldRow], found: Gathered, faults: FaultList) -> None:
    kg = row.value.kg
    if kg is None:
        return
    sizes = sorted(set(_sizes(row.value, found)))
    if sizes and not any(abs(round(kg * SCALE) - units) <= 1 for units in sizes):
        allowed = " or ".join(f"{units / SCALE:g}" for units in sizes) + " kg, within 0.1"
        faults.add(row.file, row.at("kg"), f"{kg:g} kg", allowed, "Choose one of these, or leave it empty.")


def _sizes(row: rows.HeldRow, found: Gathered) -> Iterator[int]:
    """Sizes of the recipe's batches in the pan, or in any (0.1 kg); none where they cannot be worked out.

    Juice has the size of the fruit that was softened for it, in whatever pan.
    """
    recipe = next((each for each in found.recipes if each.row.value.name == row.recipe), None)
    habits = found.table("habits", keys.HabitsTable)
    if recipe is None or habits is None:
        return
    made = build.recipe(recipe)
    part = Part.SOFTEN if made.two_days else Part.WHOLE
    stands = found.table("drip_stands", keys.DripStandsTable)
    for pan in found.pans:
        if made.two_days or row.pan in (None, pan.value.name):
            full = full_kg(made, Pan(**pan.value.model_dump()), part)
            for step in habits.fill_steps:
                units = rounded_down(step * full, 1 / SCALE)
                if made.two_days and stands:
                    drips = stands.litres / solids.mix_litres(1.0, 0.0, made.water_per_kg)
                    units = min(units, rounded_down(drips, 1 / SCALE))
                yield units


def _note_out_of_use(row: Row[rows.HeldRow], found: Gathered, faults: FaultList) -> None:
    for other in found.out:
        for key in ("pan", "ring"):
            name = getattr(row.value, key)
            if name is not None and name == getattr(other.value, key) and other.value.date == row.value.date:
                remedy = "Choose another one, or remove one of the two rows."
                seen = f"{shown(name)}, which is out of use ({other.file}, {other.where})"
                faults.add(row.file, row.at(key), seen, f"a {key} in use that day", remedy)


def _note_ruled_out(row: Row[rows.HeldRow], found: Gathered, faults: FaultList) -> None:
    for other in found.held:
        mine, theirs = row.value, other.value
        same = (mine.date, mine.recipe) == (theirs.date, theirs.recipe)
        covered = theirs.pan in (None, mine.pan) and theirs.ring in (None, mine.ring)
        if not theirs.hold and same and covered:
            seen = f"a batch that {other.where} rules out"
            faults.add(row.file, row.where, seen, "one that is not ruled out", "Remove one of the two rows.")
