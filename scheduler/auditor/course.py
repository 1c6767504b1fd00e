"""The hours of one batch as the plan gives them, and how many things run at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from scheduler.auditor.case import Case
from scheduler.auditor.finding import clock
from scheduler.plan_rows import Batch, Stage, StageKind

COOKING = frozenset(
    {
        StageKind.SOFTEN,
        StageKind.STRAIN,
        StageKind.DISSOLVE,
        StageKind.BOIL,
        StageKind.SET_TEST,
        StageKind.REBOIL,
    }
)
"""Stages at which a cook stands at the pan, and hot fruit or sugar may scald."""

UNTIL_POTTED = COOKING | {StageKind.STAND, StageKind.POT_UP}
"""Stages that follow each other without a wait."""

Span = tuple[int, int]
"""From and to, minutes from midnight; the end does not belong to it."""


@dataclass(frozen=True, slots=True)
class Course:
    """A batch from the first stage of its cooking to a washed pan, minutes from midnight.

    ``cooked`` ends its cooking, ``ends`` the last stage before the wash: potting, if it is potted.
    """

    batch: Batch
    begins: int
    cooked: int
    ends: int
    washed: int


@dataclass(frozen=True, slots=True)
class Potting:
    """The jars of a batch, from loading them into the oven to the last one filled, minutes from midnight."""

    batch: Batch
    loading: int
    loaded: int
    pot_up: int
    potted: int


def courses(case: Case) -> Iterator[Course]:
    """The courses of all batches that are cooked on their day. ``stage-list`` reports what they lack."""
    for batch in case.batches.values():
        stages = own_stages(case, batch)
        cooking = [stage for stage in stages if stage.kind in COOKING]
        if cooking:
            ends = max(stage.end for stage in stages if stage.kind in UNTIL_POTTED)
            yield Course(
                batch=batch,
                begins=cooking[0].start,
                cooked=max(stage.end for stage in cooking),
                ends=ends,
                washed=max([ends, *(stage.end for stage in stages if stage.kind == StageKind.WASH)]),
            )


def pottings(case: Case) -> Iterator[Potting]:
    """The jars of all batches that are loaded and potted on their day."""
    for batch in case.batches.values():
        stages = own_stages(case, batch)
        loads = [stage for stage in stages if stage.kind == StageKind.LOAD_JARS]
        pots = [stage for stage in stages if stage.kind == StageKind.POT_UP]
        if loads and pots:
            loaded, potted = max(stage.end for stage in loads), max(stage.end for stage in pots)
            yield Potting(batch, loads[0].start, loaded, pots[0].start, potted)


def where_of(stage: Stage) -> str:
    """How findings name a stage."""
    work = f"batch {stage.batch}, {stage.kind}" if stage.batch else f"{stage.kind}"
    return f"{stage.day.isoformat()} {clock(stage.start)}, {work}"


def own_stages(case: Case, batch: Batch) -> list[Stage]:
    """The stages of a batch on its own day, by start."""
    stages = [stage for stage in case.stages_of.get(batch.id, []) if stage.day == batch.day]
    return sorted(stages, key=lambda stage: (stage.start, stage.end))


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
