"""Worked by hand, the fifth plan: the juice of the fourth made into cordial, which is not tested for a set.

All is as in ``three_days_of_jelly``, but a batch is potted as soon as its boil ends, without set test and
stand; so for the last jar the heat is off for 10 min = 600 s: exp(−0.22268) = 0.8004; 20 + 83.77 × 0.8004
= 87.05 °C. Ann pots up from 9:40 to 9:50 while Ben washes the other pan, and washes hers until 10:00.
"""

from __future__ import annotations

from dataclasses import replace

from scheduler.law.composition import Kind
from scheduler.plan_rows import Batch, Part, Stage, StageKind

from . import three_days_of_jelly as jelly
from . import worked_days as hand
from .three_days_of_jelly import WEDNESDAY
from .worked_days import MONDAY, TUESDAY

RECIPE = replace(jelly.REDCURRANT_JELLY, kind=Kind.CORDIAL)
SITUATION = replace(jelly.SITUATION, scenario=replace(jelly.SITUATION.scenario, recipes=(RECIPE,)))


def _hot(batch: Batch) -> Batch:
    return replace(batch, last_jar_c=87.05) if batch.part == Part.BOIL else batch


def _sooner(stage: Stage) -> Stage:
    """Potting and washing of juice come 10 min earlier."""
    if stage.batch in ("b2", "b4") and stage.kind in (StageKind.POT_UP, StageKind.WASH):
        return replace(stage, start=stage.start - 10, end=stage.end - 10, people=("Ann",))
    return stage


PLAN = replace(
    jelly.PLAN,
    batches=tuple(map(_hot, jelly.BATCHES)),
    stages=tuple(
        _sooner(stage)
        for stage in jelly.PLAN.stages
        if stage.kind not in (StageKind.SET_TEST, StageKind.STAND)
    ),
    finishes=(
        hand.finish(MONDAY, "9:30"),
        hand.finish(TUESDAY, "10:00"),
        hand.finish(WEDNESDAY, "10:00"),
    ),
)
