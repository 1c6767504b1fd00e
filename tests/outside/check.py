"""One row: a published figure, ours, and how far apart they may lie."""

from __future__ import annotations

from dataclasses import dataclass

PUBLISHED, PRACTICE, MEMORY = "published", "common practice", "memory"
"""How a figure is known: read in its source; common practice in the trade, no source; held from memory."""


@dataclass(frozen=True, slots=True)
class Check:
    """``published``, ``ours`` and ``tolerance`` are in ``unit``; ``ours`` is computed now."""

    check: str
    quantity: str
    unit: str
    published: float
    ours: float
    tolerance: float
    source: str
    provenance: str = PUBLISHED
