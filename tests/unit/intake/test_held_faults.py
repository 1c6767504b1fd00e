"""What is out of use, held and ruled out: what is read, and what is wrong with it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.scenario import Scenario
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.planner import make_plan
from scheduler.solve.settings import Settings
from tests.unit.intake.spoil import Case, Change, add, assert_told_once

OUT, HELD = "date,pan,ring,why\n", "date,recipe,pan,ring,start,kg,hold\n"
MONDAY, TUESDAY = date(2026, 8, 24), date(2026, 8, 25)


def out(*rows: str) -> Change:
    return add("out.csv", OUT + "\n".join(rows))


def held(*rows: str) -> Change:
    return add("held.csv", HELD + "\n".join(rows))


def held_while_out(folder: Path) -> None:
    out("2026-08-24,big copper,,")(folder)
    held("2026-08-24,raspberry jam,big copper,,,,")(folder)


JAM = "2026-08-24,raspberry jam"
FAULTS: dict[str, Case] = {
    "out on a day that is not planned": (
        out("2026-08-31,big copper,,"), "out.csv", "row 2, column date", "2026-08-24 to 2026-08-30",
    ),
    "a pan that there is not": (
        out("2026-08-24,big coper,,"), "out.csv", "row 2, column pan", "Did you mean 'big copper'?",
    ),
    "a ring that there is not": (
        out("2026-08-24,,gas lef,"), "out.csv", "row 2, column ring", "Did you mean 'gas left'?",
    ),
    "neither pan nor ring": (out("2026-08-24,,,lent"), "out.csv", "row 2, column pan", "Name one of them"),
    "both pan and ring": (
        out("2026-08-24,big copper,gas left,"), "out.csv", "row 2, column pan", "both 'big copper' and",
    ),
    "out twice": (
        out("2026-08-24,big copper,,lent", "2026-08-25,big copper,,", "2026-08-24,big copper,,cracked"),
        "out.csv", "row 4", "the same as row 2",
    ),
    "held on a day that is not planned": (
        held("2026-08-23,raspberry jam,,,,,"), "held.csv", "row 2, column date", "planned day",
    ),
    "held of no recipe": (
        held("2026-08-24,rasberry jam,,,,,"), "held.csv", "row 2, column recipe", "'raspberry jam'?",
    ),
    "held in no pan": (held(f"{JAM},copper,,,,"), "held.csv", "row 2, column pan", "a pan of kitchen.toml"),
    "held on no ring": (held(f"{JAM},,gas,,,"), "held.csv", "row 2, column ring", "a ring of kitchen.toml"),
    "held on a ring too small for its pan": (
        held(f"{JAM},big copper,induction back,,,"),
        "held.csv", "row 2, column ring", "a ring for big copper of 38 cm",
    ),
    "held before the kitchen opens": (
        held(f"{JAM},,,06:00,,"), "held.csv", "row 2, column start", "a time from",
    ),
    "held when the kitchen closes": (
        held(f"{JAM},,,24:00,,"), "held.csv", "row 2, column start", "Mend the time",
    ),
    "held at half a step": (held(f"{JAM},,,09:02,,"), "held.csv", "row 2, column start", "steps of 5"),
    "held of a size that no pan makes": (
        held(f"{JAM},,,,1.0,"), "held.csv", "row 2, column kg", "Choose one of these",
    ),
    "held of grams": (held(f"{JAM},,,,4000,"), "held.csv", "row 2, column kg", "0.5 to 300 kg"),
    "held perhaps": (held(f"{JAM},,,,,maybe"), "held.csv", "row 2, column hold", "yes or no"),
    "ruled out at a time": (held(f"{JAM},,,09:00,,no"), "held.csv", "row 2, column start", "hold is no"),
    "ruled out of a size": (held(f"{JAM},,,,4.6,no"), "held.csv", "row 2, column kg", "write hold yes"),
    "ruled out twice": (
        held(f"{JAM},,gas left,,,no", f"{JAM},,gas left,,,no"), "held.csv", "row 3", "the same as row 2",
    ),
    "held and ruled out": (
        held(f"{JAM},big copper,gas left,,,no", f"{JAM},big copper,gas left,,,"),
        "held.csv", "row 3", "row 2 rules out",
    ),
    "held in a pan that is out": (
        held_while_out, "held.csv", "row 2, column pan", "out of use (out.csv, row 2)",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_once(folder: Path, name: str) -> None:
    assert_told_once(folder, FAULTS[name])


def read(folder: Path, *changes: Change) -> Scenario:
    for change in changes:
        change(folder)
    return read_scenario(folder).scenario


def test_rows_are_read_as_they_stand(folder: Path) -> None:
    assert read(folder).out == read(folder).held == ()
    scenario = read(
        folder,
        out("2026-08-24,big copper,,cracked", "2026-08-25,,gas left,"),
        held(f"{JAM},,gas left,09:00,,", f"{JAM},,,,,yes", f"{JAM},,,,,", f"{JAM},big copper,,,,no"),
    )
    assert scenario.out == (
        OutOfUse(MONDAY, "big copper", "", "cracked"),
        OutOfUse(TUESDAY, "", "gas left", ""),
    )
    jam = "raspberry jam"
    assert scenario.held == (
        HeldBatch(MONDAY, jam, "", "gas left", 540),
        HeldBatch(MONDAY, jam),
        HeldBatch(MONDAY, jam),
        HeldBatch(MONDAY, jam, "big copper", "", hold=False),
    )


def test_every_size_of_a_card_may_be_held(folder: Path) -> None:
    cards = make_cards(read_scenario(folder))
    rows = {
        f"2026-08-24,{cards.scenario.recipes[card.recipe].name},{cards.pans[card.pan].names[0]},,,"
        f"{card.kg / 10:g},"
        for card in cards.batches
    }
    assert len(read(folder, held(*sorted(rows))).held) == len(rows) >= 20


def test_all_pans_may_be_out_and_nothing_is_cooked_then(folder: Path) -> None:
    pans = [pan.name for pan in read(folder).kitchen.pans]
    days = [day for day in read(folder).dates() if day != TUESDAY]
    read(folder, out(*(f"{day},{pan},,away" for day in days for pan in pans)))
    plan = make_plan(read_scenario(folder), Settings("habit", 30.0, 1))
    assert {batch.day for batch in plan.batches} <= {TUESDAY}
