"""A recipe's batch sheet as tables and sentences, the same in a terminal and on the dashboard."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from scheduler.cards import SCALE
from scheduler.domain.scenario import Scenario
from scheduler.law.naming import Finding, Verdict
from scheduler.sheet import BatchSheet, PanSheet, Sheet, Stage
from scheduler.views import words

MINUTES_READ = (
    "Where three stand: half of the batches stay within the first, the plan keeps the second free, "
    "95 in 100 stay within the third. Preparing is counted for one pair of hands."
)
FRUIT_READ = "Fruit at the middle of its bands; jars and minutes allow for the worst mix within them."
_LEAST_KG = 0.05


def batches(sheet: Sheet) -> list[tuple[str, BatchSheet]]:
    """The batches to show, each under its name: the full pan, and the largest safe batch if that is less."""
    found = []
    for pan in sheet.pans:
        name = pan_name(pan, sheet)
        if isinstance(pan.full, BatchSheet):
            found.append((f"{name}, full" + (", refused" if pan.full.refusal else ""), pan.full))
        if pan.largest and pan.largest != pan.full:
            found.append((f"{name}, largest safe", pan.largest))
    return found


def pan_name(pan: PanSheet, sheet: Sheet) -> str:
    """Its equal pans, and the heat where the kitchen has several."""
    several = len({each.ring.ring.heat for each in sheet.pans if each.ring}) > 1
    heat = f" on {pan.ring.ring.heat}" if several and pan.ring else ""
    return " or ".join(pan.pan.names) + heat


def quantity_table(sheet: Sheet, scenario: Scenario) -> pd.DataFrame:
    """What goes into each batch and what comes out, a column for each."""
    shown = batches(sheet)
    rows: dict[str, list[str]] = {}
    for place, share in enumerate(sheet.recipe.fruits):
        parts = [batch.parts[place] for _, batch in shown]
        rows[f"{share.fruit}, prepared"] = [words.kg(part.prepared_kg) for part in parts]
        rows[f"{share.fruit}, as picked"] = [words.kg(part.picked_kg) for part in parts]
    cards = [batch.card for _, batch in shown]
    rows["sugar"] = [words.kg(card.sugar / SCALE) for card in cards]
    if sheet.recipe.water_per_kg:
        rows["water"] = [words.kg(batch.water_kg) for _, batch in shown]
    if sheet.recipe.lemons_per_kg:
        rows["lemons"] = [f"{card.lemons}" for card in cards]
    if sheet.recipe.pectin_g_per_kg:
        rows["pectin"] = [f"{card.pectin} g" for card in cards]
    rows["full jars"] = [f"{card.jars}" for card in cards]
    rows["preserve made"] = [words.kg(batch.panful.jam_kg) for _, batch in shown]
    rows["water to drive off"] = [words.kg(batch.panful.water_off_kg) for _, batch in shown]
    rows["sets here at"] = [f"{card.set_c:.1f} °C" for card in cards]
    rows["last jar"] = [f"{card.last_jar_c:.1f} °C" for card in cards]
    rows["potted at least at"] = [f"{scenario.kitchen.potting_limit_c:g} °C"] * len(shown)
    return _frame(rows, shown)


def minutes_table(sheet: Sheet) -> pd.DataFrame:
    """Minutes by stage, a column for each batch; see ``MINUTES_READ``."""
    shown = batches(sheet)
    rows: dict[str, list[str]] = {}
    for _, batch in shown:
        for stage in (*batch.minutes, batch.total):
            rows.setdefault(stage.name, []).append(minutes(stage))
    return _frame(rows, shown)


def cost_table(sheet: Sheet, currency: str) -> pd.DataFrame:
    """Money for each batch, and for a jar without and with pay."""
    shown = batches(sheet)
    rows: dict[str, list[str]] = {}
    for _, batch in shown:
        cost = batch.cost
        for name, amount in (
            *cost.materials,
            ("pay", cost.pay),
            ("a jar, without pay", cost.a_jar),
            ("a jar, with pay", cost.a_jar_with_pay),
        ):
            told = "nobody can do it" if amount is None else words.money(amount, currency)
            rows.setdefault(name, []).append(told)
    return _frame(rows, shown)


def minutes(stage: Stage) -> str:
    """Median, planned and 95 % minutes, or the one number where they are the same."""
    found = (stage.median, stage.planned, stage.most)
    return f"{found[0]}" if len(set(found)) == 1 else " / ".join(map(str, found))


def remarks(sheet: Sheet) -> list[str]:
    """What stands in the way of a full pan, and what to know of the recipe."""
    told = []
    for pan in sheet.pans:
        name = pan_name(pan, sheet)
        if pan.largest is None:
            told.append(f"{name}: no safe batch. {' '.join(map(str, pan.refused_by))}")
            continue
        refusal = pan.full.refusal if isinstance(pan.full, BatchSheet) else pan.full
        if refusal is not None:
            told.append(f"{name}: a full pan is refused, {words.kg(pan.largest.kg)} is the most. {refusal}")
    return [*told, *sheet.warnings]


def pottable(pan: PanSheet) -> str:
    """How much preserve is potted in time."""
    least, most = pan.pottable_kg
    if most < _LEAST_KG:
        return "no batch is potted in time"
    return f"a batch of {words.kg(least)} to {words.kg(most)} of preserve is potted in time"


def by_place(names: Sequence[Finding]) -> dict[str, dict[Verdict, list[Finding]]]:
    """Findings by jurisdiction and verdict."""
    found: dict[str, dict[Verdict, list[Finding]]] = {}
    for name in names:
        found.setdefault(name.jurisdiction, {}).setdefault(name.verdict, []).append(name)
    return found


def verdicts(findings: dict[Verdict, list[Finding]]) -> str:
    """``may be called jam or extra jam; may not be called reduced sugar jam``."""
    said = {
        Verdict.MAY: "may be called",
        Verdict.MAY_NOT: "may not be called",
        Verdict.NOT_KNOWN: "not known whether it may be called",
    }
    told = [f"{said[v]} {' or '.join(f.name for f in findings[v])}" for v in Verdict if v in findings]
    return "; ".join(told)


def standing(findings: dict[Verdict, list[Finding]]) -> str:
    """Whether the figures behind the findings were read."""
    return "" if all(f.verified for fs in findings.values() for f in fs) else "not verified"


def _frame(rows: dict[str, list[str]], shown: Sequence[tuple[str, BatchSheet]]) -> pd.DataFrame:
    frame = pd.DataFrame.from_dict(rows, orient="index", columns=[name for name, _ in shown])
    return frame.reset_index(names="")
