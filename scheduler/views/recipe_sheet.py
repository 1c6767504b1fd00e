"""Batch sheets in a terminal, and as the one JSON object of ``--json``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd
from rich import box
from rich.console import Group, RenderableType
from rich.panel import Panel
from rich.table import Table
from rich.text import Text

from scheduler.batch_sheet import BatchSheet
from scheduler.cards import SCALE
from scheduler.domain.scenario import Scenario
from scheduler.law.cautions import CAUTIONS
from scheduler.law.label import Draft
from scheduler.law.naming import ADVICE
from scheduler.pan_sheets import PanSheet
from scheduler.plan_rows import Part
from scheduler.sheet import Sheet
from scheduler.views import recipe_tables as tables
from scheduler.views import words

_BATCHES_ABREAST = 3
_DOES = {Part.WHOLE: "", Part.SOFTEN: ": soften", Part.BOIL: ": boil"}


def short(sheets: Sequence[Sheet], scenario: Scenario) -> RenderableType:
    """All recipes, a row for each pan: the largest safe batch."""
    table = _table(f"Recipes of {scenario.farm}, {scenario.name}: the largest safe batch in each pan")
    table.add_column("recipe", min_width=12)
    table.add_column("pan")
    for name in (
        "fruit",
        "jars",
        "min\n80 %",
        "min\n95 %",
        "boiled\nto °C",
        "last\n°C",
        "a jar\nno pay",
        "a jar\n+ pay",
    ):
        table.add_column(name, justify="right", no_wrap=True)
    for sheet in sheets:
        for pan in sheet.pans:
            name = sheet.recipe.name + _DOES[pan.part]
            table.add_row(name, tables.pan_name(pan, sheet), *_short_row(pan, scenario.currency))
    notes = [f"{sheet.recipe.name}. {remark}" for sheet in sheets for remark in tables.remarks(sheet)]
    return Group(table, _lines("Take note", notes), _note("--name RECIPE shows the full sheet."))


def full(sheet: Sheet, draft: Draft, scenario: Scenario) -> RenderableType:
    """The whole batch sheet of one recipe."""
    return Group(
        Text(f"{sheet.recipe.name}, {scenario.farm}, {scenario.name}\n", style="bold green"),
        *([_note(tables.TWO_DAYS)] if sheet.recipe.two_days else []),
        *(_part(sheet, part, scenario) for part in sheet.parts),
        _lines("Take note", tables.remarks(sheet)),
        _names(sheet, draft.jurisdiction),
        _label(draft),
        _cautions(),
    )


def _part(sheet: Sheet, part: Part, scenario: Scenario) -> RenderableType:
    """Quantities, minutes and cost of one part of a recipe."""
    title = tables.DAY_TITLES[part]
    potted = [pan for pan in sheet.of(part) if tables.pottable(pan)]
    return Group(
        *([Text(f"{title}\n", style="bold")] if title else []),
        _rich("What goes in and what comes out", tables.quantity_table(sheet, scenario, part)),
        *([] if part is Part.BOIL else [_note(tables.FRUIT_READ)]),
        *(_note(f"{tables.pan_name(pan, sheet)}: {tables.pottable(pan)}.") for pan in potted),
        _rich("Minutes", tables.minutes_table(sheet, part)),
        _note(tables.minutes_read(sheet.recipe, part, scenario.kitchen)),
        _rich("Cost", tables.cost_table(sheet, scenario.currency, part)),
        *([_note(tables.BOTH_DAYS)] if part is Part.BOIL else []),
    )


def as_json(sheets: Sequence[Sheet], drafts: Sequence[Draft], scenario: Scenario) -> dict[str, Any]:
    """The object that ``maslin recipe --json`` prints.

    Keys: ``scenario``, ``currency``, ``potting_limit_c``, ``where``, and ``recipes`` with ``name``, ``kind``,
    ``pans`` (``part``, ``pans``, ``ring``, ``heat``, ``room_kg``, ``limit_kg``, ``full``, ``largest``,
    ``refused`` as text, ``pottable_kg``), ``names``, ``label``, ``to_check``, ``warnings``. kg, °C, minutes
    and money of one batch (of both days where it boils juice); null where there is none.
    """
    return {
        "scenario": scenario.name,
        "currency": scenario.currency,
        "potting_limit_c": scenario.kitchen.potting_limit_c,
        "where": drafts[0].jurisdiction if drafts else None,
        "recipes": [_recipe(sheet, draft) for sheet, draft in zip(sheets, drafts, strict=True)],
    }


def _recipe(sheet: Sheet, draft: Draft) -> dict[str, Any]:
    return {
        "name": sheet.recipe.name,
        "kind": sheet.recipe.kind.value,
        "pans": [_pan(pan, sheet) for pan in sheet.pans],
        "names": [
            {
                "jurisdiction": f.jurisdiction,
                "name": f.name,
                "verdict": f.verdict.value,
                "verified": f.verified,
                "why": [str(check) for check in f.checks],
            }
            for f in sheet.names
        ],
        "label": {line.what: line.text for line in draft.lines},
        "to_check": list(draft.to_check),
        "warnings": list(sheet.warnings),
    }


def _pan(pan: PanSheet, sheet: Sheet) -> dict[str, Any]:
    refused = pan.refused_by or ((pan.refusal,) if pan.refusal else ())
    return {
        "part": pan.part.value,
        "pans": list(pan.pan.names),
        "ring": pan.ring.names[0] if pan.ring else None,
        "heat": pan.ring.ring.heat.value if pan.ring else None,
        "room_kg": pan.room_kg,
        "limit_kg": pan.limit_kg,
        "full": _batch(pan.full, sheet) if isinstance(pan.full, BatchSheet) else None,
        "largest": _batch(pan.largest, sheet) if pan.largest else None,
        "refused": [str(refusal) for refusal in refused],
        "pottable_kg": None if pan.pottable_kg is None else list(pan.pottable_kg),
    }


def _batch(batch: BatchSheet, sheet: Sheet) -> dict[str, Any]:
    card, cost = batch.card, batch.cost
    return {
        "kg": batch.kg,
        "fruit": [
            {"fruit": each.fruit, "prepared_kg": each.prepared_kg, "picked_kg": each.picked_kg}
            for each in batch.fruit
        ],
        "sugar_kg": card.sugar / SCALE,
        "water_kg": batch.water_kg,
        "strained_kg": batch.strained_kg if sheet.recipe.strained_share is not None else None,
        "softened_in": tables.softened_in(batch, sheet) if batch.softened else None,
        "lemons": card.lemons,
        "pectin_g": card.pectin,
        "jars": card.jars,
        "filled": {size.jar: n for size, n in zip(sheet.recipe.sizes, card.filled, strict=False)},
        "for_sale": {size.jar: n for size, n in zip(sheet.recipe.sizes, card.kept, strict=False)},
        "preserve_kg": batch.panful.jam_kg,
        "water_off_kg": batch.panful.water_off_kg,
        "set_c": card.set_c if card.jars else None,
        "last_jar_c": card.last_jar_c if card.jars else None,
        "minutes": {
            stage.name: {"median": stage.median, "planned": stage.planned, "most": stage.most}
            for stage in (*batch.minutes, batch.total)
        },
        "cost": dict(cost.materials) | {"pay": cost.pay},
        "cost_a_jar": {"without_pay": cost.a_jar, "with_pay": cost.a_jar_with_pay},
    }


def _short_row(pan: PanSheet, currency: str) -> list[str]:
    best = pan.largest
    if best is None:
        return ["none", *[""] * 7]
    card, cost = best.card, best.cost
    told = [words.mass(best.kg), "", f"{best.total.planned}", f"{best.total.most}", *[""] * 4]
    if card.jars:
        told[1] = f"{card.jars}"
        told[4:] = [f"{card.set_c:.1f}", f"{card.last_jar_c:.1f}"] + [
            "" if amount is None else words.money(amount, currency)
            for amount in (cost.a_jar, cost.a_jar_with_pay)
        ]
    return told


def _names(sheet: Sheet, where: str) -> RenderableType:
    table = _table("What it may be called, on the first day of the scenario")
    for heading in ("place", "name", ""):
        table.add_column(heading)
    places = tables.by_place(sheet.names)
    for place, findings in places.items():
        table.add_row(place, tables.verdicts(findings), Text(tables.standing(findings), style="dim"))
    why = [f"{f.name}: {check}." for fs in places[where].values() for f in fs for check in f.checks]
    return Group(table, _lines(f"Why, in {where}", why), _note(ADVICE))


def _label(draft: Draft) -> RenderableType:
    text = Text("\n".join(line.text for line in draft.lines) + "\n")
    for line in draft.lines:
        said = "read" if line.verified else "not verified"
        text.append(f"\n{line.what}: {line.source}, {said}. {line.remark}".rstrip(), style="dim")
    text.append("\n\nTo check\n" + "\n".join(f"• {check}" for check in draft.to_check))
    return Panel(
        text, title=f"Draft of the label, {draft.jurisdiction}", border_style="green", box=box.ROUNDED
    )


def _cautions() -> Panel:
    lines = "\n".join(f"• {', '.join(each.stages)}: {each.text} ({each.source})" for each in CAUTIONS)
    return Panel(lines, title="Take care", border_style="yellow", box=box.ROUNDED)


def _lines(title: str, lines: Sequence[str]) -> RenderableType:
    return Text(f"{title}\n" + "".join(f"  • {line}\n" for line in lines)) if lines else Text("")


def _note(line: str) -> Text:
    return Text(line + "\n", style="dim")


def _rich(title: str, frame: pd.DataFrame) -> RenderableType:
    """A frame as tables of a few batches each, which fit a narrow terminal."""
    parts = []
    for first in range(1, len(frame.columns), _BATCHES_ABREAST):
        shown = frame.iloc[:, [0, *range(first, min(first + _BATCHES_ABREAST, len(frame.columns)))]]
        table = _table(title if first == 1 else "")
        table.add_column("", no_wrap=True)
        for name in shown.columns[1:]:
            table.add_column(str(name), justify="right")
        for row in shown.itertuples(index=False):
            table.add_row(*row)
        parts.append(table)
    return Group(*parts)


def _table(title: str) -> Table:
    return Table(
        title=title, box=box.SIMPLE_HEAD, title_justify="left", title_style="bold", header_style="dim",
        pad_edge=False, padding=(0, 1, 0, 0),
    )  # fmt: skip
