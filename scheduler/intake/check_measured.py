"""Checks of the kitchen's own record: known names, past days, and figures that can be true."""

from __future__ import annotations

from scheduler.intake import build
from scheduler.intake.check_fruit import note_unknown
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import Gathered
from scheduler.intake.measured import measured
from scheduler.intake.rows import BoilRow, ReadingRow
from scheduler.intake.tables import Row

Record = Row[ReadingRow] | Row[BoilRow]


def readings(found: Gathered, faults: FaultList) -> None:
    """Each reading was made before the plan and lies near the computed curve."""
    for row in found.readings:
        _note_future(row, found, faults)
        kitchen = found.tables.get("kitchen")
        if kitchen is None:
            continue
        try:
            measured([row.value], [], kitchen.value.altitude_m)
        except ValueError as refused:
            _note(row, "celsius", f"{row.value.celsius:g} °C at {row.value.solids:g} solids", refused, faults)


def boils(found: Gathered, faults: FaultList) -> None:
    """Each logged boil was made before the plan, of a known recipe, pan and ring, in a believable time."""
    pans = {row.value.name: None for row in found.pans}
    rings = {row.value.name: None for row in found.rings}
    for row in found.boils:
        _note_future(row, found, faults)
        note_unknown(row, "recipe", "recipes.toml", found, faults)
        for key, known in (("pan", pans), ("ring", rings)):
            name = getattr(row.value, key)
            if name not in known:
                remedy = did_you_mean(name, known, "Mend the name, or remove the row.")
                faults.add(
                    row.file, row.at(key), shown(name), f"a {key} of kitchen.toml: {listed(known)}", remedy
                )
        boil = build.boil(row.value, found)
        if boil is not None:
            try:
                measured([], [boil], found.tables["kitchen"].value.altitude_m)
            except ValueError as refused:
                text = f"{row.value.minutes:g} min, computed are {boil[0]:.0f}"
                _note(row, "minutes", text, refused, faults)


def _note_future(row: Record, found: Gathered, faults: FaultList) -> None:
    day = row.value.date
    if found.farm and day >= found.farm.value.start:
        remedy = "Mend the date, or start in kitchen.toml."
        faults.add(row.file, row.at("date"), shown(day), f"before {found.farm.value.start}", remedy)


def _note(row: Record, key: str, text: str, refused: ValueError, faults: FaultList) -> None:
    said, _, rest = str(refused).partition("; allowed: ")
    allowed, _, remedy = rest.partition(". ")
    faults.add(
        row.file, row.at(key), text, f"{said.partition(' is ')[0].partition('[')[0]} {allowed}", remedy
    )
