"""Checks of the freezers: their names and days, room kept free, and what lies in them at the start."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.fruit import Place
from scheduler.domain.kitchen import FreezerBox
from scheduler.domain.scenario import Scenario
from scheduler.intake import keys
from scheduler.intake.check_fruit import note_outside
from scheduler.intake.check_kitchen import note_repeats
from scheduler.intake.faults import FaultList, did_you_mean, listed, shown
from scheduler.intake.gathered import KITCHEN, Gathered
from scheduler.intake.tables import Row

_NEAR = 1e-6
_SECOND = "second_freezer"


def names(found: Gathered, faults: FaultList) -> None:
    """Two freezers have names of their own."""
    note_repeats(_freezers(found), "name", faults, "Rename one of the freezers.")


def days(found: Gathered, faults: FaultList) -> None:
    """What happens to a freezer happens on a planned day."""
    for row in _freezers(found):
        for key in ("defrost_on", "fails_on"):
            _note_day(row, key, found, faults)


def room_kept_free(found: Gathered, faults: FaultList) -> None:
    """Room is kept free from a planned day on, no more than there is."""
    freezer = found.table("freezer", keys.FreezerTable)
    if freezer is None or _SECOND in found.unsound:
        return
    row = found.tables["freezer"]
    if freezer.room_free_from is None and freezer.room_free_kg > 0:
        remedy = "Write the first day on which so much must be free, or remove room_free_kg."
        faults.add(KITCHEN, row.at("room_free_from"), "nothing", "a planned day", remedy)
    if freezer.room_free_from is not None and freezer.room_free_kg == 0:
        remedy = "Write how many kg must be free, or remove room_free_from."
        faults.add(KITCHEN, row.at("room_free_kg"), "nothing", "kg above 0", remedy)
    _note_day(row, "room_free_from", found, faults)
    kg = sum(each.value.kg for each in _freezers(found))
    if freezer.room_free_kg > kg + _NEAR:
        allowed = f"at most {kg:g} kg, all that the freezers hold"
        remedy = "Keep less room free, or mend the freezers' kg."
        faults.add(KITCHEN, row.at("room_free_kg"), f"{freezer.room_free_kg:g} kg", allowed, remedy)


def load(found: Gathered, faults: FaultList) -> None:
    """What lies in the freezers at the start fits into them, in kg and in litres.

    One that is defrosted on the first day has been emptied the evening before.
    """
    frozen = [row.value for row in found.lots if row.value.place is Place.FREEZER]
    told = faults.has("lots.csv") or faults.has("fruits.csv") or _SECOND in found.unsound
    if told or found.farm is None or not _freezers(found):
        return
    start = found.farm.value.start
    cold = [row.value for row in _freezers(found) if row.value.defrost_on != start]
    density = {row.value.fruit: row.value.frozen_kg_per_litre for row in found.fruits}
    kg = sum(lot.kg for lot in frozen)
    litres = sum(lot.kg / density[lot.fruit] for lot in frozen if lot.fruit in density)
    remedy = "Count the freezer lots again, or mend the freezers in kitchen.toml."
    if kg > (room := sum(freezer.kg for freezer in cold)) + _NEAR:
        faults.add("lots.csv", "column kg", f"{kg:.1f} kg in the freezer", f"at most {room:g} kg", remedy)
    if litres > (room := sum(freezer.litres for freezer in cold)) + _NEAR:
        found_text, allowed = f"{litres:.0f} litres in the freezer", f"at most {room:g} litres"
        faults.add("lots.csv", "column kg", found_text, allowed, remedy)


def boxes(found: Gathered, faults: FaultList) -> None:
    """Each fruit's box is one of the kitchen's, and what lies in the freezers fits into their number."""
    # Rows with faults of their own are not among those found: a name may be that of one of them.
    all_boxes, all_fruits = not faults.has(KITCHEN), not faults.has("fruits.csv")
    note_repeats(found.boxes, "name", faults, "Rename one of the boxes.")
    known = {box.value.name: box for box in found.boxes}
    if len(known) < len(found.boxes):
        return
    for row in found.fruits:
        name = row.value.freezer_box
        if name and name not in known and all_boxes:
            remedy = did_you_mean(name, known, f"Add a [[freezer_box]] to {KITCHEN}, or mend the name.")
            allowed = f"a box of {KITCHEN}: {listed(known)}" if known else f"nothing: {KITCHEN} has no boxes"
            faults.add(row.file, row.at("freezer_box"), shown(name), allowed, remedy)
    for name, box in known.items():
        fruits = [row.value.fruit for row in found.fruits if row.value.freezer_box == name]
        if not fruits and all_fruits:
            remedy = "Name it in column freezer_box of fruits.csv, or remove it."
            faults.add(KITCHEN, box.at("name"), shown(name), "a box that some fruit is packed in", remedy)
        size = FreezerBox(**box.value.model_dump())
        used = sum(size.needed(_frozen_kg(found, fruit)) for fruit in fruits)
        if used > box.value.count:
            seen = f"{box.value.count}, and {used} are full at the start"
            remedy = f"Mend it, or count the freezer lots of {listed(fruits)} again."
            faults.add(KITCHEN, box.at("count"), seen, f"at least {used}", remedy)


def _frozen_kg(found: Gathered, fruit: str) -> float:
    lots = (row.value for row in found.lots if row.value.place is Place.FREEZER)
    return sum(lot.kg for lot in lots if lot.fruit == fruit)


def trays_no_closer_than_boxes(found: Gathered, faults: FaultList) -> None:
    """Fruit on trays takes at least the room of the box that follows."""
    if not _freezers(found):
        return
    trays = min(row.value.tray_litres_per_kg for row in _freezers(found))
    for row in found.fruits:
        density = row.value.frozen_kg_per_litre
        if trays < 1 / density:
            allowed = (
                f"at least {1 / trays:.4g}: boxed, a kg takes no more than its {trays:g} litres on trays"
            )
            remedy = "Mend it, or tray_litres_per_kg in kitchen.toml."
            faults.add(row.file, row.at("frozen_kg_per_litre"), f"{density:g}", allowed, remedy)


def still_to_leave(scenario: Scenario) -> Iterator[str]:
    """A warning for each limit to come that what lies in the freezers now would break.

    It is no fault: fruit may be cooked until then. Whether it can be is for the plan to find out.
    """
    kitchen = scenario.kitchen
    whole = sum(freezer.kg for freezer in kitchen.freezers)
    out = "The rest must be cooked before, or no plan is possible."
    limits = [(kitchen.room_free_from, whole - kitchen.room_free_kg, "room is to be kept free", out)]
    out = "The rest must be cooked before, or is thrown away on the evening before."
    limits += [
        (each.defrost_on, whole - each.kg, f"{each.name} is defrosted", out) for each in kitchen.freezers
    ]
    for day, most, why, rest in limits:
        lots = [lot for lot in scenario.lots if lot.use_by is not None and day and lot.use_by >= day]
        kg = sum(lot.kg for lot in lots)
        if kg > most + _NEAR:
            yield f"Freezer. {kg:.1f} kg in it keep until {day}, when {why}: {most:.1f} kg may stay. {rest}"


def _freezers(found: Gathered) -> list[Row[keys.SecondFreezerTable]]:
    """The sound tables of freezers."""
    return [found.tables[name] for name in ("freezer", _SECOND) if name in found.tables]


def _note_day(row: Row[keys.SecondFreezerTable], key: str, found: Gathered, faults: FaultList) -> None:
    if getattr(row.value, key) is not None:
        remedy = "Mend the date, or remove it: it says nothing about the planned days."
        note_outside(row, key, found, faults, remedy)
