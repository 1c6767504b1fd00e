"""``maslin print``: every paper of a real plan, and what is refused."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from scheduler.cli import app
from scheduler.paper import GRIDS, WHATS
from tests.commands import FARM, maslin, planned

GLUT = Path(__file__).parents[2] / "scenarios" / "glut-week"


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the farm's plan in ``plan``; its store of plans is ``plans``."""
    return planned(tmp_path_factory.mktemp("farm"))


@pytest.mark.parametrize("what", ["calendar", "batches", "picks", "labels", "all"])
def test_a_paper_is_written(place: Path, what: str) -> None:
    done = maslin(place, "print", what, str(FARM), "plan", "--out", f"{what}.pdf")
    assert done.returncode == 0, done.stderr
    assert done.stdout == f"Written to {what}.pdf\n"
    assert done.stderr == ""
    assert PdfReader(place / f"{what}.pdf").pages[0].extract_text()


def test_the_kitchens_address_is_a_square_only_where_phones_reach_it(place: Path) -> None:
    asked = ("print", "calendar", str(FARM), "plan", "--out", "square.pdf")
    said = "calendar for your phone"

    def shown(**more: str) -> str:
        done = maslin(place, *asked, **more)
        assert done.returncode == 0, done.stderr
        assert ("secret address" in done.stderr) == (said in _text(place / "square.pdf"))
        return _text(place / "square.pdf")

    assert said not in shown(MASLIN_ADDRESS="https://farm.example")  # no feed has an address yet
    maslin(place, "publish", str(FARM), "plan")
    maslin(place, "link", str(FARM), "the kitchen")
    assert said in shown(MASLIN_ADDRESS="https://farm.example")
    assert said not in shown(MASLIN_ADDRESS="http://localhost:8501")
    assert said not in shown()


def _text(path: Path) -> str:
    return " ".join(page.extract_text() for page in PdfReader(path).pages)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("newspaper", str(FARM), "plan", "--out", "no.pdf"), "calendar, batches, picks"),
        (("all", str(GLUT), "plan", "--out", "no.pdf"), "a plan of other input"),
        (("all", str(FARM), "nowhere", "--out", "no.pdf"), "cannot be read"),
        (("all", str(FARM), "plan", "--out", "plan"), "a folder"),
        (("all", str(FARM), "plan", "--out", "no.txt"), "does not end in .pdf"),
        (("all", str(FARM), "plan", "--out", "plan/plan.json/no.pdf"), "no place to write"),
        (("calendar", str(FARM), "plan", "--out", "no.pdf", "--size", "a5"), "a4, a3"),
        (("batches", str(FARM), "plan", "--out", "no.pdf", "--size", "a3"), "--size"),
        (("purchases", str(FARM), "plan", "--out", "no.pdf"), "nothing is bought or comes"),
        (("labels", str(FARM), "plan", "--out", "no.pdf", "--of", "000000-1"), "the lot mark of a batch"),
        (("labels", str(FARM), "plan", "--out", "no.pdf", "--labels", "9x9"), "2x7, 2x4, 3x8"),
        (("labels", str(FARM), "plan", "--out", "no.pdf", "--where", "Atlantis"), "European Union"),
    ],
)
def test_what_cannot_be_printed_is_told_in_one_message(
    place: Path, words: tuple[str, ...], told: str
) -> None:
    done = maslin(place, "print", *words)
    assert done.returncode == 2
    assert told in " ".join(done.stderr.split())
    assert "Traceback" not in done.stderr
    assert not (place / "no.pdf").exists()


def test_a_refused_print_leaves_the_file_that_is_there(place: Path) -> None:
    (place / "mine.pdf").write_bytes(b"mine")
    done = maslin(place, "print", "all", str(GLUT), "plan", "--out", "mine.pdf")
    assert done.returncode == 2
    assert (place / "mine.pdf").read_bytes() == b"mine"


@pytest.mark.parametrize("asked", [*WHATS, *GRIDS])
def test_help_names_all_that_can_be_asked(asked: str) -> None:
    helped = CliRunner().invoke(app, ["print", "--help"], env={"COLUMNS": "200"}).output
    assert re.search(rf"\b{asked}\b", helped)
