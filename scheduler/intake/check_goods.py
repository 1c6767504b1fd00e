"""Checks of what is on hand of the goods of the store: its dates, and what of it is opened."""

from __future__ import annotations

from scheduler.intake.faults import FaultList, shown
from scheduler.intake.gathered import Gathered

_NEAR = 1e-9


def opened(found: Gathered, faults: FaultList) -> None:
    """What is opened is part of what is on hand and has a date; nothing else has that date."""
    for row in found.goods:
        good = row.value
        if good.opened > good.on_hand + _NEAR:
            allowed = f"at most on_hand ({good.on_hand:g}), which counts what is opened too"
            faults.add(row.file, row.at("opened"), f"{good.opened:g}", allowed, "Mend one of the two.")
        if good.opened > 0 and good.opened_use_by is None:
            allowed = f"a date for the {good.opened:g} {good.unit} that are opened"
            remedy = "Write the last day on which they may be used, or leave opened empty."
            faults.add(row.file, row.at("opened_use_by"), "nothing", allowed, remedy)
        if good.opened_use_by is not None and not good.opened:
            remedy = "Write how much is opened, or leave opened_use_by empty."
            faults.add(row.file, row.at("opened"), "nothing", "how much is opened, above 0", remedy)


def dates(found: Gathered, faults: FaultList) -> None:
    """What is on hand may be used on the first planned day; opened it keeps no longer than closed."""
    horizon = found.horizon()
    for row in found.goods:
        good = row.value
        last, of_opened = good.best_before, good.opened_use_by
        if last and of_opened and of_opened > last:
            remedy = "Mend one of the two dates: what is opened keeps no longer."
            allowed = f"a day up to {last} (best_before)"
            faults.add(row.file, row.at("opened_use_by"), shown(of_opened), allowed, remedy)
        for key, use_by, there in (
            ("best_before", last, good.on_hand), ("opened_use_by", of_opened, good.opened),
        ):  # fmt: skip
            if horizon and use_by and there > 0 and use_by < horizon[0]:
                allowed = f"{horizon[0]} (the first planned day) or later for what is on hand"
                remedy = "Count it out: take what is past its date off on_hand and opened, or mend the date."
                faults.add(row.file, row.at(key), shown(use_by), allowed, remedy)
