"""A kitchen whose sample plan is published, and its pages served."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from scheduler.feeds.publishing import publish
from scheduler.feeds.store import Store
from tests.unit.feeds.entries import AOIFE, NOW
from tests.unit.people_pages.serving import Site, serving
from tests.unit.views import kilbrack_sample as sample


@pytest.fixture(scope="session")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home of plans to copy: publishing takes longer than most of these tests."""
    home = tmp_path_factory.mktemp("published")
    publish(sample.plan(), sample.situation(), Store(home, "kilbrack"), NOW)
    return home


@pytest.fixture
def store(published: Path, tmp_path: Path) -> Store:
    return Store(Path(shutil.copytree(published, tmp_path / "plans")), "kilbrack")


@pytest.fixture
def site(store: Store) -> Iterator[Site]:
    with serving(store.folder.parents[1]) as site:
        yield site


@pytest.fixture
def secret(store: Store) -> str:
    """That of Aoife's calendar."""
    return store.renew(AOIFE)
