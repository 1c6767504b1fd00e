"""The hours of one batch as the plan gives them, and how many things run at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from scheduler.check.case import Case
from scheduler.check.finding import clock
from scheduler.plan import Batch, Stage, StageKind

ON_HEAT = frozenset({StageKind.DISSOLVE, StageKind.BOIL, StageKind.SET_TEST, StageKind.REBOIL})
"""Stages at which a cook stands at the pan and hot sugar may burn."""

Span = tuple[int, int]
"""From and to, minutes from midnight; the end does not belong to it."""


@dataclass(frozen=True, slots=True)
class Course:
    """From loading jars to a washed pan, minutes from midnight; ``tested`` ends the last set test."""

    batch: Batch
    loading: int
    loaded: int
    dissolve: int
    tested: int
    pot_up: int
    potted: int
    washed: int


def courses(case: Case) -> Iterator[Course]:
    """The courses of all batches that are loaded, dissolved and potted on their day.

    ``stage-list`` reports the others. A set test or a wash of 0 minutes needs no stage.
    """
    for batch in case.batches.values():
        starts, ends = _outline(own_stages(case, batch))
        if not {StageKind.LOAD_JARS, StageKind.DISSOLVE, StageKind.POT_UP} <= starts.keys():
            continue
        potted = ends[StageKind.POT_UP]
        yield Course(
            batch=batch,
            loading=starts[StageKind.LOAD_JARS],
            loaded=ends[StageKind.LOAD_JARS],
            dissolve=starts[StageKind.DISSOLVE],
            tested=max(end for kind, end in ends.items() if kind in ON_HEAT),
            pot_up=starts[StageKind.POT_UP],
            potted=potted,
            washed=max(potted, ends.get(StageKind.WASH, potted)),
        )


def where_of(stage: Stage) -> str:
    """How findings name a stage."""
    work = f"batch {stage.batch}, {stage.kind}" if stage.batch else f"{stage.kind}"
    return f"{stage.day.isoformat()} {clock(stage.start)}, {work}"


def own_stages(case: Case, batch: Batch) -> list[Stage]:
    """The stages of a batch on its own day, by start."""
    stages = [stage for stage in case.stages_of.get(batch.id, []) if stage.day == batch.day]
    return sorted(stages, key=lambda stage: (stage.start, stage.end))


def _outline(stages: list[Stage]) -> tuple[dict[StageKind, int], dict[StageKind, int]]:
    """The first start and the last end of each kind of stage."""
    starts: dict[StageKind, int] = {}
    ends: dict[StageKind, int] = {}
    for stage in stages:
        starts[stage.kind] = min(stage.start, starts.get(stage.kind, stage.start))
        ends[stage.kind] = max(stage.end, ends.get(stage.kind, stage.end))
    return starts, ends


def too_much_at_once(loads: Iterable[tuple[Span, int]], most: int) -> Iterator[tuple[int, int]]:
    """Each moment at which something begins while the loads then running add to more than ``most``.

    Yields (minute, load). Loads are (span, weight).
    """
    running = [(span, weight) for span, weight in loads if span[0] < span[1]]
    for moment in sorted({span[0] for span, _ in running}):
        load = sum(weight for (start, end), weight in running if start <= moment < end)
        if load > most:
            yield moment, load


def clashes(spans: Iterable[tuple[Span, str]]) -> Iterator[tuple[str, str, int]]:
    """Pairs of named spans that overlap: the earlier name, the later name, and when the later begins."""
    ordered = sorted(spans)
    for place, ((_, end), first) in enumerate(ordered):
        for (start, other_end), second in ordered[place + 1 :]:
            if start >= end:
                break
            if start < other_end:
                yield first, second, start
