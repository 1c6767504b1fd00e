"""A plan as files: plan.json that reads back, and CSVs for a spreadsheet; whole or not at all."""

from __future__ import annotations

import csv
import io
import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import date, datetime
from pathlib import Path
from typing import Any

from scheduler.crates import Crate
from scheduler.domain.scenario import Situation
from scheduler.plan_json import from_json, to_json
from scheduler.plan_rows import (
    Batch,
    DayShift,
    FreezerDay,
    JarDay,
    LotDay,
    OrderLine,
    Plan,
    Purchase,
    ShopStock,
    Stage,
)
from scheduler.views.words import clock

PLAN_FILE = "plan.json"
_CLOCKS = {"start", "end", "break_start"}
_TWO_DECIMALS = {"fill_step", "cost", "loses"}
_IF_POTTED = {"set_temperature_c", "last_jar_c"}
"""Temperatures that are 0 where nothing is potted: a cell of that is left empty."""
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""First characters that spreadsheets take for the start of a formula."""


def write_plan(plan: Plan, situation: Situation, folder: Path) -> None:
    """Write ``plan`` into ``folder`` (made if missing).

    All files are first written beside their place; if one cannot be put in place, those already
    moved are put back. A file of the same name that is not this program's own writing, unchanged,
    is kept in a dated folder ``kept YYYY-MM-DD HH.MM.SS``; other files are never touched.
    Raises ValueError if the plan was not made from ``situation``, OSError if the disk refuses.
    """
    if plan.input_hash != situation.input_hash:
        raise ValueError("the plan was made from other input than this situation")
    texts = plan_texts(plan)
    write_texts(folder, texts, _not_ours(folder, texts))


def write_texts(
    folder: Path, texts: Mapping[str, str | bytes], theirs: Sequence[Path], kept: Path | None = None
) -> None:
    """Write files by name into ``folder`` (made if missing), all or none; copies of ``theirs``, files in the
    way that are not to be lost, are put into ``kept``, a dated folder if it is not named. Raises OSError if
    the disk refuses."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=folder, prefix=".writing-") as staging:
        new, old = Path(staging, "new"), Path(staging, "old")
        new.mkdir()
        old.mkdir()
        for name, text in texts.items():
            (new / name).write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        if theirs:
            _keep_copies(kept or folder / f"kept {dated(datetime.now())}", theirs)
        _swap(folder, new, old, list(texts))


def write_whole(path: Path, text: str) -> None:
    """Replace a file of this program's own whole. Raises OSError if the disk refuses."""
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    beside.write_bytes(text.encode("utf-8"))
    os.replace(beside, path)


def plans_home() -> Path:
    """Where plans are kept: the folder named by MASLIN_PLANS, else ``.maslin/plans`` of the user."""
    named = os.environ.get("MASLIN_PLANS")
    return Path(named) if named else Path.home() / ".maslin" / "plans"


def plan_texts(plan: Plan) -> dict[str, str]:
    """File name → text of every file of a plan; the same plan always gives the same text."""
    tables: dict[str, tuple[type[Any], Iterable[Any]]] = {
        "batches.csv": (Batch, plan.batches),
        "timetable.csv": (Stage, plan.stages),
        "fruit.csv": (LotDay, plan.lots),
        "freezer.csv": (FreezerDay, plan.freezer),
        "jars.csv": (JarDay, plan.jars),
        "orders.csv": (OrderLine, plan.orders),
        "shop.csv": (ShopStock, plan.shop),
        "purchases.csv": (Purchase, plan.purchases),
        "shifts.csv": (DayShift, plan.shifts),
        "crates.csv": (Crate, plan.crates),
    }
    # The byte-order mark lets common spreadsheets read names with accents rightly.
    texts = {name: "\ufeff" + _csv(kind, rows) for name, (kind, rows) in tables.items()}
    return texts | {PLAN_FILE: to_json(plan)}


def _csv(kind: type[Any], rows: Iterable[Any]) -> str:
    names = [field.name for field in fields(kind)]
    if kind is Batch:
        names.insert(names.index("filled"), "jars")
    out = io.StringIO(newline="")
    # Lines end as in RFC 4180; it also makes the writer quote a stray carriage return.
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(names)
    writer.writerows([_cell(name, getattr(row, name)) for name in names] for row in rows)
    return out.getvalue()


def _cell(name: str, value: object) -> str:
    if value is None or (name in _IF_POTTED and value == 0):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, int):
        return clock(value) if name in _CLOCKS else str(value)
    if isinstance(value, float):
        return f"{value + 0.0:.2f}" if name in _TWO_DECIMALS else f"{value + 0.0:.1f}"
    text = "; ".join(map(str, value)) if isinstance(value, tuple) else str(value)
    return "'" + text if text.startswith(_FORMULA) else text


def _not_ours(folder: Path, texts: dict[str, str]) -> list[Path]:
    """Files that stand in the way and are not exactly what the plan.json beside them would give."""
    present = [folder / name for name in texts if (folder / name).exists()]
    try:
        ours = plan_texts(from_json((folder / PLAN_FILE).read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return present
    return [path for path in present if path.read_bytes() != ours[path.name].encode("utf-8")]


def dated(moment: datetime) -> str:
    """A moment as a folder is named by it, to a hundredth of a second."""
    return moment.strftime("%Y-%m-%d %H.%M.%S.%f")[:-4]


def _keep_copies(kept: Path, paths: Sequence[Path]) -> None:
    kept.mkdir(parents=True)
    for path in paths:
        shutil.copy2(path, kept / path.name)


def _swap(folder: Path, new: Path, old: Path, names: Sequence[str]) -> None:
    """Move the new files in and the old ones out; on failure put everything back."""
    moved: list[str] = []
    try:
        for name in names:
            if (folder / name).exists():
                os.replace(folder / name, old / name)
            moved.append(name)
            os.replace(new / name, folder / name)
    except OSError:
        for name in moved:
            (folder / name).unlink(missing_ok=True)
            if (old / name).exists():
                os.replace(old / name, folder / name)
        raise
