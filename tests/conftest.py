"""Settings shared by all tests: how hypothesis searches, and which modules begin."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

settings.register_profile(
    "kitchens",
    deadline=None,  # a plan takes as long as its proof takes
    derandomize=True,  # the same kitchens on every run
    database=None,
    phases=(Phase.explicit, Phase.generate),  # a smaller seed is no simpler kitchen: nothing to shrink
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("kitchens")

SLOWEST_FIRST = ("browser", "integration", "property", "bench", "oracle")
"""Folders whose modules take minutes. One worker runs a module: one that begins last is waited for."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    places = {name: place for place, name in enumerate(SLOWEST_FIRST)}
    root = Path(__file__).parent
    items.sort(key=lambda item: places.get(item.path.relative_to(root).parts[0], len(places)))
