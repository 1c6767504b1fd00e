"""Margins: per cent of a day's time kept free so that it can be placed, more where that fails, or less.

They guide the search for plans and never touch a bound.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

FIRST = 12
"""With so much on every day some two days of three are placed at once, on three farms of a week or two."""
SURE = 24
"""With so much nearly all days are placed at once: a plan soon, which also tells where many days are hard."""
MOST = 60
STEP = 6
JAR = 3_000
"""What a missing jar counts beside fruit lost in plans with margins, card money: three cents, so that it
decides between plans that are near to each other."""


def more(margins: Sequence[int], days: Collection[int]) -> list[int]:
    """A step more on some days."""
    return [min(MOST, m + STEP) if day in days else m for day, m in enumerate(margins)]


def less(margins: Sequence[int], days: Collection[int], by: int = STEP) -> list[int]:
    """So much less on some days."""
    return [max(0, m - by) if day in days else m for day, m in enumerate(margins)]
