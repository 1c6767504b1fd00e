"""A calendar server, and a store of what is published, for tests of sending."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from scheduler.feeds.store import Store
from tests.calendar_server import Radicale, radicale


@pytest.fixture
def radicale_(tmp_path: Path) -> Iterator[Radicale]:
    with radicale(tmp_path / "server") as server:
        yield server


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "plans", "kilbrack")
