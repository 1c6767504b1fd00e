"""How to solve, and what is told while it works."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal


@dataclass(frozen=True, slots=True)
class Settings:
    """``seconds`` is wall time for the whole plan; the same seed repeats a plan only with one worker."""

    method: Literal["exact", "habit"] = "exact"
    seconds: float = 60.0
    workers: int = 2
    seed: int = 0


@dataclass(frozen=True, slots=True)
class Progress:
    """Where the search stands: best value so far and bound of the goal in hand, in ``unit``."""

    seconds: float
    stage: str
    value: float | None
    bound: float | None
    gap: float | None
    unit: str
    message: str


Tell = Callable[[Progress], None]
Stop = Callable[[], bool]


@dataclass
class Clock:
    """Time left, and whether somebody asked to stop."""

    seconds: float
    stop: Stop
    began: float = field(default_factory=time.monotonic)

    @property
    def spent(self) -> float:
        return time.monotonic() - self.began

    @property
    def left(self) -> float:
        return max(0.0, self.seconds - self.spent)

    @property
    def over(self) -> bool:
        return self.left <= 0 or self.stop()
