"""A trade-off curve as files: ``curve.csv``, and each plan whole in a folder of its own."""

from __future__ import annotations

import csv
import io
import shutil
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from scheduler.domain.scenario import Situation
from scheduler.plan_json import from_json
from scheduler.plan_rows import Plan, totals
from scheduler.views import tables
from scheduler.views.curve_table import goal, is_close, minutes_of_work
from scheduler.views.files import PLAN_FILE, write_plan, write_whole

CURVE_FILE = "curve.csv"
COLUMNS = (
    "point",
    "value_lost_on_fruit",
    "jars_missing",
    "money",
    "money_at_least",
    "kg_lost",
    "jars_made",
    "hours_of_work",
    "proved",
    "folder",
)


def in_the_way(folder: Path, points: int) -> str:
    """What stands where a curve of at most so many points would be written; empty if nothing does."""
    if folder.exists() and not folder.is_dir():
        return f"a file {folder}"
    for name in map(point_folder, range(1, points + 1)):
        if (folder / name).exists() and not (folder / name).is_dir():
            return f"a file '{name}' in {folder}"
    return f"a folder {CURVE_FILE} in {folder}" if (folder / CURVE_FILE).is_dir() else ""


def point_folder(number: int) -> str:
    """The folder of a point's plan, beside ``curve.csv``."""
    return f"point {number}"


def write_curve(plans: Sequence[Plan], situation: Situation, folder: Path) -> None:
    """Write every plan and then ``curve.csv``: where that stands, the points beside it are those it lists.

    A ``curve.csv`` that is not this program's own writing, unchanged, and folders of points that the new
    curve does not have are kept in a dated folder ``kept YYYY-MM-DD HH.MM.SS``; for the files of a plan see
    ``write_plan``. Raises what that raises.
    """
    folder.mkdir(parents=True, exist_ok=True)
    _make_room(folder, len(plans))
    for number, plan in enumerate(plans, 1):
        write_plan(plan, situation, folder / point_folder(number))
    write_whole(folder / CURVE_FILE, curve_text(plans))


def curve_text(plans: Sequence[Plan]) -> str:
    """The text of ``curve.csv``: a row per point, in the order given."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for number, plan in enumerate(plans, 1):
        spoiled, short, money = (goal(plan, name) for name in ("spoiled", "short", "money"))
        writer.writerow(
            [
                number,
                f"{spoiled.value:.2f}",
                f"{short.value:.0f}",
                f"{money.value:.2f}",
                f"{money.bound:.2f}",
                f"{tables.lost(totals(plan)):.1f}",
                totals(plan).made,
                f"{minutes_of_work(plan) / 60:.1f}",
                "yes" if is_close(plan) else "no",
                point_folder(number),
            ]
        )
    return "\ufeff" + out.getvalue()


def _make_room(folder: Path, points: int) -> None:
    """Move away what the new curve would leave wrong or write over."""
    old = [path for path in folder.glob("point *") if path.is_dir() and _number(path) > points]
    csv_file = folder / CURVE_FILE
    if csv_file.exists():
        if csv_file.read_bytes() == curve_text(_points_in(folder)).encode("utf-8"):
            csv_file.unlink()
        else:
            old.append(csv_file)
    if old:
        kept = folder / f"kept {datetime.now().strftime('%Y-%m-%d %H.%M.%S.%f')[:-4]}"
        kept.mkdir()
        for path in old:
            shutil.move(path, kept / path.name)


def _number(path: Path) -> int:
    number = path.name.removeprefix("point ")
    return int(number) if number.isdecimal() else 0


def _points_in(folder: Path) -> list[Plan]:
    """The plans of the points that stand in a folder, up to the first that cannot be read."""
    plans: list[Plan] = []
    while True:
        path = folder / point_folder(len(plans) + 1) / PLAN_FILE
        try:
            plans.append(from_json(path.read_text(encoding="utf-8")))
        except (OSError, ValueError):
            return plans
