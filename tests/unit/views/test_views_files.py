"""A plan as files: CSVs hold its rows, cells cannot become formulas, no folder is left half written."""

import csv
import io
import json
import os
from dataclasses import replace
from pathlib import Path

import kilbrack_sample as sample
import pandas as pd
import pytest

from scheduler.plan_json import from_json
from scheduler.views import files

PLAN, SITUATION = sample.plan(), sample.situation()
NAMES = {
    *(f"{name}.csv" for name in ("batches", "crates", "fruit", "freezer", "jars", "orders", "purchases")),
    *("plan.json", "shifts.csv", "shop.csv", "timetable.csv"),
}


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_all_files_are_written_and_nothing_else(tmp_path: Path) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path / "out")
    assert {path.name for path in (tmp_path / "out").iterdir()} == NAMES


def test_plan_json_reads_back_equal(tmp_path: Path) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path)
    assert from_json((tmp_path / "plan.json").read_text(encoding="utf-8")) == PLAN


def test_csv_rows_are_the_rows_of_the_plan(tmp_path: Path) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path)
    batches = _rows(tmp_path / "batches.csv")
    assert [(r["id"], r["day"], r["kg"], r["jars"]) for r in batches] == [
        (b.id, b.day.isoformat(), f"{b.kg:.1f}", str(b.jars)) for b in PLAN.batches
    ]
    stages = _rows(tmp_path / "timetable.csv")
    assert [(r["batch"], r["start"], r["people"]) for r in stages] == [
        (s.batch, f"{s.start // 60:02d}:{s.start % 60:02d}", "; ".join(s.people)) for s in PLAN.stages
    ]


def test_a_spreadsheet_reads_the_fruit_balance(tmp_path: Path) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path)
    frame = pd.read_csv(tmp_path / "fruit.csv")
    came = frame["opening"] + frame["arrived"]
    went = frame[["sold", "cooked", "frozen", "given_up", "spoiled", "left"]].sum(axis=1)
    # seven figures rounded to 0.1 kg may differ by 0.35 kg in all
    assert (came - went).abs().max() < 0.35
    assert frame["sold"].sum() == pytest.approx(sum(row.sold for row in PLAN.lots), abs=0.05 * len(frame))


@pytest.mark.parametrize("first", ["=", "+", "-", "@", "\t", "\r"])
def test_cells_cannot_become_formulas(first: str) -> None:
    # The characters that start a formula: OWASP, "CSV Injection".
    evil = replace(PLAN.orders[0], order=f"{first}HYPERLINK(1)")
    text = files.plan_texts(replace(PLAN, orders=(evil,)))["orders.csv"].removeprefix("\ufeff")
    [row] = csv.DictReader(io.StringIO(text, newline=""))
    assert row["order"] == f"'{first}HYPERLINK(1)"


def test_numbers_keep_their_minus(tmp_path: Path) -> None:
    bought = replace(PLAN.purchases[0], cost=-3.5)
    assert ",-3.50," in files.plan_texts(replace(PLAN, purchases=(bought,)))["purchases.csv"]


def test_a_second_plan_replaces_the_first_without_copies(tmp_path: Path) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path)
    files.write_plan(replace(PLAN, seed=7, batches=PLAN.batches[:2]), SITUATION, tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == NAMES
    assert json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))["seed"] == 7
    assert len(_rows(tmp_path / "batches.csv")) == 2


def test_a_file_that_somebody_changed_is_kept(tmp_path: Path) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path)
    (tmp_path / "orders.csv").write_text("my own notes", encoding="utf-8")
    (tmp_path / "notes.txt").write_text("mine too", encoding="utf-8")
    files.write_plan(PLAN, SITUATION, tmp_path)
    [kept] = [path for path in tmp_path.iterdir() if path.is_dir()]
    assert kept.name.startswith("kept ")
    assert {path.name for path in kept.iterdir()} == {"orders.csv"}
    assert (kept / "orders.csv").read_text(encoding="utf-8") == "my own notes"
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine too"
    assert len(_rows(tmp_path / "orders.csv")) == 3


def test_a_disk_that_refuses_leaves_the_old_plan_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files.write_plan(PLAN, SITUATION, tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    real, calls = os.replace, []

    def refusing(source: Path, target: Path) -> None:
        calls.append(target)
        if len(calls) == 6:
            raise OSError("no room")
        real(source, target)

    monkeypatch.setattr(os, "replace", refusing)
    with pytest.raises(OSError, match="no room"):
        files.write_plan(replace(PLAN, batches=(), purchases=()), SITUATION, tmp_path)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_plan_of_other_input_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="other input"):
        files.write_plan(replace(PLAN, input_hash="other"), SITUATION, tmp_path / "out")
    assert not (tmp_path / "out").exists()
