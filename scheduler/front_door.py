"""What programs and notebooks import: a scenario read, a plan of it made, a plan checked.

>>> import scheduler
>>> week = scheduler.load("scenarios/quiet-week")
>>> week.scenario.farm, week.scenario.days
('Kilbrack', 7)
>>> plan = scheduler.plan(week, method="habit")
>>> scheduler.check(week, plan)
()
>>> sorted({batch.day.isoformat() for batch in plan.batches}) != []
True
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

from scheduler import planner
from scheduler.auditor import Finding, audit
from scheduler.domain.scenario import Situation
from scheduler.intake import read_scenario
from scheduler.plan_rows import Plan

__all__ = ["Plan", "check", "load", "plan"]


def load(folder: str | os.PathLike[str]) -> Situation:
    """A scenario folder as the planner knows it: ``situation.scenario`` holds the farm.

    Masses are kg, times minutes from midnight, money the farm's currency. Raises InputFaults, whose
    ``faults`` name every fault in the folder.
    """
    return read_scenario(Path(folder))


def plan(
    situation: Situation,
    seconds: float = 60.0,
    *,
    method: Literal["exact", "habit"] = "exact",
    workers: int = 2,
    seed: int = 0,
) -> Plan:
    """The best plan found in so many seconds of wall time, audited; with one worker a seed repeats it.

    ``plan.goals`` say how good it is: value, bound and gap of each goal in their order. Raises
    NoPlanPossible, NoPlanInTime, and PlanRejected should the auditor find anything.
    """
    return planner.make_plan(situation, planner.Settings(method, seconds, workers, seed))


def check(situation: Situation, plan: Plan) -> tuple[Finding, ...]:
    """Every rule that a plan breaks, recomputed from the situation by the auditor's own arithmetic."""
    return tuple(audit(situation, plan))
