"""The part of the dashboard's pages that offers papers: only those with anything on them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from scheduler.domain.scenario import Scenario
from scheduler.languages import speaking
from scheduler.paper.papers import PAPERS, Wish, empty
from scheduler.plan_rows import Plan
from scheduler.views.dashboard import printing, runs
from scheduler.views.dashboard.state import Shown
from scheduler.views.look import LIGHT
from tests.unit.paper.reading import text
from tests.unit.views import kilbrack_sample as sample

SHOWN = Shown(Path("week"), sample.situation(), sample.plan(), runs.Run("none"), Path("home"), LIGHT)


@pytest.fixture
def offered(monkeypatch: pytest.MonkeyPatch) -> dict[str, bytes]:
    """File name → PDF of each button drawn, as if it was pressed."""
    found: dict[str, bytes] = {}

    def draw(_label: str, data: object, file_name: str, mime: str, **_more: object) -> None:
        assert callable(data)
        assert mime == "application/pdf"
        found[file_name] = data()

    monkeypatch.setattr(printing.st, "download_button", draw)
    return found


def test_each_paper_is_made_when_its_button_is_pressed(offered: dict[str, bytes]) -> None:
    printing.download_buttons(SHOWN, "calendar", "thaw")
    assert list(offered) == [
        "sample-week-calendar-a4.pdf",
        "sample-week-calendar-a3.pdf",
        "sample-week-thaw.pdf",
    ]
    assert "From the freezer" in text(offered["sample-week-thaw.pdf"])


def test_a_paper_is_english_whatever_the_page_speaks(offered: dict[str, bytes]) -> None:
    printing.download_buttons(SHOWN, "thaw")
    english = dict(offered)
    offered.clear()
    with speaking("de"):
        printing.download_buttons(SHOWN, "thaw")
    assert offered == english


def test_labels_are_offered_for_each_grid(offered: dict[str, bytes]) -> None:
    one = replace(sample.plan(), batches=sample.plan().batches[:1])
    printing.download_buttons(replace(SHOWN, plan=one), "labels")
    assert list(offered) == [f"sample-week-labels-{grid}.pdf" for grid in ("2x7", "2x4", "3x8")]


def test_a_paper_with_nothing_on_it_is_not_offered(offered: dict[str, bytes]) -> None:
    printing.download_buttons(replace(SHOWN, plan=replace(sample.plan(), freezer=())), "thaw")
    assert not offered


WHOLE, FARM = sample.plan(), sample.situation().scenario
BARE = replace(FARM, picks=(), picked=(), deliveries=())


@pytest.mark.parametrize("what", PAPERS)
@pytest.mark.parametrize(
    ("plan", "farm"),
    [
        (WHOLE, FARM),
        (replace(WHOLE, batches=(), stages=()), FARM),
        (replace(WHOLE, freezer=()), BARE),
        (replace(WHOLE, purchases=()), BARE),
    ],
    ids=["whole", "nothing cooked", "nothing thawed or picked", "nothing bought"],
)
def test_a_paper_is_empty_where_it_would_have_no_page(what: str, plan: Plan, farm: Scenario) -> None:
    """Told without making it: two hundred batch sheets take as long as the calendar above them."""
    assert empty(what, plan, farm) is (PAPERS[what].made(plan, farm, Wish()) is None)


def test_no_paper_is_offered_of_a_plan_of_files_that_have_changed(offered: dict[str, bytes]) -> None:
    printing.download_buttons(replace(SHOWN, now=SHOWN.situation, changed=("orders.csv",)), "thaw")
    assert offered == {}
