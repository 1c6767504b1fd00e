"""Days that are not like the others: when the kitchen cannot be used."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

Span = tuple[int, int]
"""From and to, minutes from midnight."""


@dataclass(frozen=True, slots=True)
class Closure:
    """The kitchen cannot be used from ``start`` to ``end`` (minutes from midnight) of a day, and why."""

    day: date
    start: int
    end: int
    why: str


def joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """The same times as spans in order that neither overlap nor touch."""
    found: list[Span] = []
    for start, end in sorted(spans):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return tuple(found)


def open_minutes(closed: Iterable[Span], start: int, end: int) -> int:
    """Minutes between two times of a day that lie in none of the spans ``closed``, which are apart."""
    shut = sum(max(0, min(end, until) - max(start, since)) for since, until in closed)
    return max(0, end - start) - shut
