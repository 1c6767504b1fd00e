"""What must hold before any rule can be recomputed: sound rows, known names, planned days.

Rows that fail are reported and left out, so that every other check may trust what it reads.
"""

from __future__ import annotations

import types
from collections.abc import Container, Iterator
from dataclasses import fields, replace
from datetime import date
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints

from scheduler.auditor.farm import Farm
from scheduler.auditor.finding import Finding
from scheduler.plan_rows import (
    Batch,
    DayShift,
    Draw,
    Finish,
    FreezerDay,
    Goal,
    JarDay,
    LotDay,
    Mix,
    OrderLine,
    Plan,
    Purchase,
    ShopStock,
    Stage,
    Totals,
)

LARGEST = 1e9
"""No sound figure of a farm kitchen is larger, whatever its unit."""

TABLES: dict[str, type] = {
    "goals": Goal,
    "lots": LotDay,
    "mixes": Mix,
    "draws": Draw,
    "freezer": FreezerDay,
    "batches": Batch,
    "stages": Stage,
    "shifts": DayShift,
    "finishes": Finish,
    "jars": JarDay,
    "orders": OrderLine,
    "purchases": Purchase,
    "shop": ShopStock,
}

NAMES: dict[type, dict[str, str]] = {
    LotDay: {"lot": "fresh lot", "fruit": "fruit"},
    Mix: {"recipe": "recipe", "fruit": "fruit"},
    Draw: {"recipe": "recipe", "lot": "lot"},
    FreezerDay: {"lot": "frozen lot", "fruit": "fruit"},
    Batch: {"recipe": "recipe", "pan": "pan", "ring": "ring"},
    Stage: {"batch": "batch"},
    DayShift: {"person": "person"},
    JarDay: {"recipe": "recipe", "jar": "jar"},
    OrderLine: {"order": "order", "recipe": "recipe", "jar": "jar"},
    Purchase: {"good": "good"},
    ShopStock: {"recipe": "recipe", "jar": "jar"},
}
"""The fields of each row that name something, and what they name. (``juice_of`` is for rule 40 to say.)"""


def sound_rows(farm: Farm, plan: Plan) -> tuple[Plan, list[Finding]]:
    """The plan without its damaged rows, and a finding for each of them."""
    findings: list[Finding] = []
    whole: dict[str, list[tuple[str, Any]]] = {}
    for table, kind in TABLES.items():
        rows = getattr(plan, table)
        if not isinstance(rows, tuple):
            findings.append(Finding("damaged-row", table, repr(rows)[:80], "a table of rows"))
            rows = ()
        whole[table] = []
        for number, row in enumerate(rows, start=1):
            where = f"{table} row {number}"
            faults = list(_damage(where, row, kind))
            findings += faults
            if not faults:
                whole[table].append((where, row))
    known = _known_names(farm, {batch.id for _, batch in whole["batches"]})
    sound: dict[str, Any] = {}
    for table, placed in whole.items():
        kept = []
        for where, row in placed:
            faults = [*_unknown_names(known, where, row), *_unknown_days(farm, where, row)]
            findings += faults
            if not faults:
                kept.append(row)
        sound[table] = tuple(kept)
    if plan.habit is not None and (faults := list(_damage("habit", plan.habit, Totals))):
        findings += faults
        sound["habit"] = None
    return replace(plan, **sound), findings


def _damage(where: str, row: object, kind: type) -> Iterator[Finding]:
    """Fields whose value is not of their kind, or a number beyond all measure."""
    if not isinstance(row, kind):
        yield Finding("damaged-row", where, repr(row)[:80], f"a {kind.__name__}")
        return
    for name, hint in _hints(kind):
        value = getattr(row, name)
        if not _fits(value, hint):
            shown = hint.__name__ if isinstance(hint, type) else str(hint)
            yield Finding("damaged-row", f"{where}, {name}", repr(value)[:80], f"a sound {shown}")


@cache
def _hints(kind: type) -> tuple[tuple[str, Any], ...]:
    hints = get_type_hints(kind)
    return tuple((field.name, hints[field.name]) for field in fields(kind))


def _fits(value: Any, hint: Any) -> bool:
    if hint is float or hint is int:
        kinds = (float, int) if hint is float else int
        return isinstance(value, kinds) and not isinstance(value, bool) and bool(abs(value) <= LARGEST)
    if hint is date:
        return type(value) is date  # a datetime is a date too, but the two cannot be compared
    if get_origin(hint) in (types.UnionType, Union):
        return any(_fits(value, kind) for kind in get_args(hint))
    if get_origin(hint) is tuple:
        return isinstance(value, tuple) and all(_fits(item, get_args(hint)[0]) for item in value)
    return isinstance(value, hint)


def _known_names(farm: Farm, batches: set[str]) -> dict[str, Container[str]]:
    return {
        "fresh lot": farm.fresh,
        "frozen lot": farm.frozen,
        "lot": farm.lot_names,
        "fruit": farm.fruits,
        "recipe": farm.recipes,
        "jar": farm.jar_names,
        "pan": farm.pans,
        "ring": farm.rings,
        "person": farm.people,
        "order": farm.order_names,
        "good": farm.goods,
        "batch": batches | {""},  # a stage of the day as a whole is of no batch
    }


def _unknown_names(known: dict[str, Container[str]], where: str, row: object) -> Iterator[Finding]:
    """Names that the scenario (for a stage's batch: the plan) does not know."""
    named = [(kind, getattr(row, field)) for field, kind in NAMES.get(type(row), {}).items()]
    if isinstance(row, Stage):
        named += [("person", name) for name in row.people]
    for kind, name in named:
        if name not in known[kind]:
            source = "plan" if kind == "batch" else "scenario"
            yield Finding("unknown-name", where, f"{kind} {name!r}", f"a {kind} of the {source}")


def _unknown_days(farm: Farm, where: str, row: object) -> Iterator[Finding]:
    """Days outside the plan's reach. (An order's due day is the business of ``shipped``.)"""
    day = row.needed if isinstance(row, Purchase) else getattr(row, "day", None)
    if day is not None and day not in farm.planned:
        allowed = f"{farm.first.isoformat()} to {farm.last.isoformat()}"
        yield Finding("unknown-day", where, day.isoformat(), allowed)
