"""Settings shared by all tests: how hypothesis searches."""

from __future__ import annotations

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
