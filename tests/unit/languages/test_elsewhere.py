"""Texts of rooms that say none themselves: marked as those rooms have them; English where they are kept."""

from __future__ import annotations

import ast
import shutil
from pathlib import Path

import pytest

from scheduler.errors import InputFaults
from scheduler.finished import warnings_of
from scheduler.intake import read_scenario
from scheduler.languages import ENGLISH, catalogues, languages, speaking, spoken
from scheduler.law.acts import table
from scheduler.law.safety import PLAN_PH
from scheduler.panful import Refusal, Rule
from scheduler.views import elsewhere
from scheduler.views.elsewhere import of_a_run
from tests.browser.served import ROOT
from tests.unit.views import kilbrack_sample as sample

PACKAGE = catalogues.HERE.parent
OTHERS = [language for language in languages() if language != ENGLISH]


def literals(*but: Path) -> set[str]:
    """Every text that stands in the package's code, but for some files."""
    return {
        node.value
        for path in PACKAGE.rglob("*.py")
        if path not in but
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def test_texts_marked_elsewhere_are_those_of_the_rooms() -> None:
    here = Path(elsewhere.__file__)
    tree = ast.parse(here.read_text(encoding="utf-8"))
    marked = {
        node.args[0].value
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "message"
        and isinstance(node.args[0], ast.Constant)
    }
    known = (
        literals(here)
        | {act["jurisdiction"] for act in table("acts")}
        | {f"with the finished pH at most {PLAN_PH:g}", "litre", "litres"}
    )
    assert marked - known == set()


def test_what_a_search_says_is_said_in_parts() -> None:
    with speaking("de"):
        assert of_a_run("planning by habit") == "nach Gewohnheit planen"
        assert of_a_run("least money, dealing batches out to days") == (
            "am wenigsten Geld, Chargen auf Tage verteilen"
        )
        assert of_a_run("what fruit is worth, day by day") == "was Obst wert ist, Tag für Tag"
        assert of_a_run("something new") == "something new"


def test_a_refusal_speaks_the_language_with_its_numbers() -> None:
    refusal = Refusal(Rule.LAST_JAR_COLD, 82.46, 85.5)
    assert str(refusal).startswith("Last jar too cold: last jar 82.5 °C; allowed: at least 85.5 °C.")
    with speaking("de"):
        assert str(refusal).startswith("Glas zu kalt: letztes Glas 82,5 °C; erlaubt: mindestens 85,5 °C.")


@pytest.mark.parametrize("language", OTHERS)
def test_faults_are_kept_in_english_for_every_reader(language: str, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(ROOT / "scenarios" / "quiet-week", tmp_path / "week"))
    recipes = folder / "recipes.toml"
    recipes.write_text(recipes.read_text(encoding="utf-8").replace("ph = 3", "ph = 4", 1), encoding="utf-8")
    found = []
    for said in (ENGLISH, language):
        with speaking(said), pytest.raises(InputFaults) as error:
            read_scenario(folder)
        found.append(error.value.faults)
    assert found[0] == found[1]


@pytest.mark.parametrize("language", OTHERS)
def test_warnings_of_a_recipe_speak_the_language(language: str) -> None:
    scenario = sample.situation().scenario
    english = warnings_of(scenario)
    with speaking(language):
        said = warnings_of(scenario)
        care = spoken("Take care")
    assert len(said) == len(english)
    assert all(care in line for line in said)
