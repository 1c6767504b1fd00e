"""A good folder to edit."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.unit.intake.spoil import FARM


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the quiet week."""
    return Path(shutil.copytree(FARM / "quiet-week", tmp_path / "quiet-week"))
