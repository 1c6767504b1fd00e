"""A field of a page that was drawn anew in the meantime tells its old value late: nobody typed that."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from scheduler.drafts.draft import Draft
from scheduler.views.dashboard import cells
from tests.commands import FARM


@pytest.fixture
def draft(tmp_path: Path) -> Draft:
    """A draft whose first order was raised from 40 jars to 44."""
    shutil.copytree(FARM, tmp_path / "farm")
    draft = Draft(tmp_path / "farm")
    text = draft.texts["orders.csv"]
    draft.write("orders.csv", text.replace(",40,", ",44,", 1))
    assert draft.texts["orders.csv"] != text
    return draft


def told(monkeypatch: pytest.MonkeyPatch, draft: Draft, value: str, drawn: str) -> str:
    """The first order's jars after its field, drawn with one value, says another."""
    (section,) = draft.sections("orders.csv")
    monkeypatch.setattr(cells.st, "session_state", {"field": value})
    cells._cell_edited(draft, section, 0, "jars", "field", drawn)
    grid = draft.grid(section)
    assert grid is not None
    return grid.rows[0][grid.names.index("jars")]


def test_a_late_field_changes_nothing(monkeypatch: pytest.MonkeyPatch, draft: Draft) -> None:
    assert told(monkeypatch, draft, "40", drawn="40") == "44"


def test_a_field_that_was_typed_into_does(monkeypatch: pytest.MonkeyPatch, draft: Draft) -> None:
    assert told(monkeypatch, draft, "40", drawn="44") == "40"


def test_a_late_text_changes_nothing(monkeypatch: pytest.MonkeyPatch, draft: Draft) -> None:
    now, before = draft.texts["orders.csv"], "as it was drawn"
    monkeypatch.setattr(cells.st, "session_state", {"text": before})
    cells._text_edited(draft, "orders.csv", "text", before)
    assert draft.texts["orders.csv"] == now
