"""``maslin recipe``: batch sheets from a folder or its recipes.toml, JSON, and what is refused."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.commands import FARM, Done, maslin


def recipe(*words: str, cwd: Path) -> Done:
    return maslin(cwd, "recipe", *words)


@pytest.mark.parametrize("path", [FARM, FARM / "recipes.toml"], ids=["folder", "file"])
def test_all_recipes_are_shown_in_short(path: Path, tmp_path: Path) -> None:
    done = recipe(str(path), cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "largest safe batch" in done.stdout
    assert "strawberry" in done.stdout


def test_a_named_recipe_is_a_full_sheet_with_a_label_of_the_place(tmp_path: Path) -> None:
    done = recipe(str(FARM), "--name", "strawberry jam", "--where", "england", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "Draft of the label, England" in done.stdout
    assert "as picked" in done.stdout


@pytest.mark.parametrize("more", [(), ("--name", "strawberry jam")], ids=["all", "one"])
def test_json_is_one_object_and_nothing_else(more: tuple[str, ...], tmp_path: Path) -> None:
    done = recipe(str(FARM), "--json", *more, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("\n") == 1
    shown = json.loads(done.stdout)
    assert isinstance(shown, dict)
    assert len(shown["recipes"]) == (1 if more else len(_names()))
    assert shown["recipes"][0]["pans"][0]["largest"]["jars"] > 0


def _names() -> list[str]:
    lines = (FARM / "recipes.toml").read_text(encoding="utf-8").split("[[recipe]]")[1:]
    return [line.split('name = "')[1].split('"')[0] for line in lines]


@pytest.mark.parametrize(
    ("option", "given", "known"),
    [("--name", "moon jam", "strawberry"), ("--where", "Atlantis", "England")],
)
def test_an_unknown_name_or_place_names_the_known_ones(
    option: str, given: str, known: str, tmp_path: Path
) -> None:
    done = recipe(str(FARM), option, given, cwd=tmp_path)
    assert done.returncode == 2
    assert given in done.stderr
    assert known in done.stderr
    assert "Traceback" not in done.stderr + done.stdout


def test_faults_of_every_file_end_with_2(tmp_path: Path) -> None:
    spoilt = shutil.copytree(FARM, tmp_path / "spoilt")
    for name, old, new in (("picks.csv", "strawberry", "strawbery"), ("recipes.toml", "ph = 3.4", "ph = 5")):
        path = spoilt / name
        path.write_text(path.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    done = recipe(str(spoilt / "recipes.toml"), cwd=tmp_path)
    assert done.returncode == 2
    assert "picks.csv" in done.stderr
    assert "recipes.toml" in done.stderr
    assert done.stdout == ""


def test_a_file_that_is_no_scenario_is_refused(tmp_path: Path) -> None:
    done = recipe(str(FARM / "kitchen.toml"), cwd=tmp_path)
    assert done.returncode == 2
    assert "no such folder" in done.stderr


@pytest.fixture
def jelly(tmp_path: Path) -> Path:
    """The farm with drip stands and a jelly of its blackberries."""
    farm = shutil.copytree(FARM, tmp_path / "jelly")
    with (farm / "kitchen.toml").open("a", encoding="utf-8") as kitchen:
        kitchen.write("\n[drip_stands]\ncount = 2\nlitres = 10\n")
    before, jam = (farm / "recipes.toml").read_text(encoding="utf-8").split('name = "blackberry jam"\n')
    made = 'name = "blackberry jam"\nkind = "jelly"\nsoften_minutes = 20\nwater_per_kg = 0.3\n'
    text = f"{before}{made}strained_share = 0.6\n{jam.replace('sugar_per_kg = 1.0', 'sugar_per_kg = 0.6')}"
    (farm / "recipes.toml").write_text(text, encoding="utf-8")
    return farm


def test_a_jelly_is_shown_on_both_its_days(jelly: Path, tmp_path: Path) -> None:
    done = recipe(str(jelly), "--name", "blackberry jam", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    first, next_day = done.stdout.split("First day: soften and strain")[1].split("Next day: boil the juice")
    assert "juice by the morning" in first
    assert "sets here at" not in first
    assert "sets here at" in next_day
    assert "a jar, with pay" in next_day


def test_json_of_a_jelly_has_both_parts(jelly: Path, tmp_path: Path) -> None:
    done = recipe(str(jelly), "--name", "blackberry jam", "--json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    [shown] = json.loads(done.stdout)["recipes"]
    assert {pan["part"] for pan in shown["pans"]} == {"soften and strain", "boil the juice"}
    for pan in shown["pans"]:
        assert (pan["largest"]["jars"] > 0) == (pan["part"] == "boil the juice")
