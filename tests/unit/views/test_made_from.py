"""The files a plan was made from are kept beside it and found again by their folder."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from scheduler.intake import read_scenario
from scheduler.views.dashboard.made_from import changed_since, keep_files, last_planned
from scheduler.views.files import PLAN_FILE

QUIET = Path(__file__).parents[2] / "farm" / "quiet-week"


def kept(home: Path, folder: Path, name: str, at: int) -> Path:
    place = home / name
    place.mkdir(parents=True, exist_ok=True)
    keep_files(folder, place)
    (place / PLAN_FILE).write_text("{}", encoding="utf-8")
    os.utime(place / PLAN_FILE, (at, at))
    return place


def test_the_newest_plan_of_a_folder_is_found_with_its_files(tmp_path: Path) -> None:
    folder, home = Path(shutil.copytree(QUIET, tmp_path / "week")), tmp_path / "plans"
    other = Path(shutil.copytree(QUIET, tmp_path / "elsewhere" / "week"))
    assert last_planned(home, folder) is None
    then = read_scenario(folder)
    kept(home, folder, "a", 300)
    kept(home, folder, "b", 200)
    kept(home, other, "c", 400)
    (folder / "held.csv").write_text("date,recipe\n2026-08-25,strawberry jam\n", encoding="utf-8")
    found = last_planned(home, folder)
    assert found is not None
    assert found.input_hash == "a"
    assert read_scenario(found.files).input_hash == then.input_hash
    assert read_scenario(found.files).scenario.name == "week"
    assert changed_since(found.files, folder) == ("held.csv",)


def test_a_place_without_a_plan_yet_is_passed_over(tmp_path: Path) -> None:
    folder, home = Path(shutil.copytree(QUIET, tmp_path / "week")), tmp_path / "plans"
    (home / "a").mkdir(parents=True)
    keep_files(folder, home / "a")
    (home / "b").mkdir()
    (home / "b" / "of.json").write_text("{", encoding="utf-8")
    assert last_planned(home, folder) is None


def test_files_are_kept_as_they_are_now_and_none_that_is_gone(tmp_path: Path) -> None:
    folder, home = Path(shutil.copytree(QUIET, tmp_path / "week")), tmp_path / "plans"
    (folder / "held.csv").write_text("date,recipe\n2026-08-25,strawberry jam\n", encoding="utf-8")
    kept(home, folder, "a", 300)
    (folder / "held.csv").unlink()
    kept(home, folder, "a", 400)
    found = last_planned(home, folder)
    assert found is not None
    assert changed_since(found.files, folder) == ()
    assert not (found.files / "held.csv").exists()
