"""The planner with some of its rules taken away, and what the auditor then finds in its plans."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager
from dataclasses import replace
from typing import Any
from unittest.mock import patch

from ortools.sat.python import cp_model

from scheduler.cards import Cards
from scheduler.domain.scenario import Scenario, Situation
from scheduler.errors import PlanRejected
from scheduler.making import make_cards
from scheduler.model.rules import RULES, Rule
from scheduler.model.timetable import DayModel
from scheduler.plan_rows import StageKind
from scheduler.planner import make_plan
from scheduler.solve.settings import Settings

TO_THE_END = Settings(seconds=60.0, workers=1)
"""The search ends long before by its own proofs, so that its plans do not hang on the clock."""

ABSENCES = frozenset({"before", "after", "on break"})
POOLED = frozenset({*StageKind, "test"})

Change = Callable[[], AbstractContextManager[object]]
Farming = Callable[[Scenario], Scenario]


def findings(situation: Situation, *changes: Change) -> frozenset[str]:
    """Names of the rules that the auditor finds broken in the plan of a planner changed like this."""
    with ExitStack() as stack:
        for change in changes:
            stack.enter_context(change())
        try:
            make_plan(situation, TO_THE_END)
        except PlanRejected as rejected:
            return frozenset(finding.partition(":")[0] for finding in rejected.findings)
    return frozenset()


def no_rule(rule: Rule) -> Change:
    """The allocation without a rule."""
    kept = tuple(each for each in RULES if each is not rule)
    return lambda: patch("scheduler.model.allocation.RULES", kept)


def no_group(*names: str) -> Callable[[], AbstractContextManager[set[str]]]:
    """The timetable without some of the groups of constraints that ``groups`` tells apart.

    Entered, it gives the names of those that were there to be taken away.
    """

    @contextmanager
    def change() -> Iterator[set[str]]:
        pool, name = DayModel.pool, DayModel.name
        gone: set[str] = set()

        def strip(day: DayModel) -> None:
            for group, constraint in groups(day.model):
                if group in names:
                    constraint.copy_from(type(constraint)())
                    gone.add(group)

        def pooled(day: DayModel) -> None:
            pool(day)
            strip(day)

        def named(day: DayModel) -> list[dict[int, cp_model.IntVar]]:
            chosen = name(day)
            strip(day)
            return chosen

        with patch.multiple(DayModel, pool=pooled, name=named):
            yield gone

    return change


def groups(model: cp_model.CpModel) -> Iterator[tuple[str, Any]]:
    """The constraints of a day, each with the name of its group: the words for what it ties together.

    Linear ones end in ≤, ≥ or =. Intervals only say where things are; those of absences belong to all.
    """
    proto: Any = model.proto
    for constraint in proto.constraints:
        if constraint.has_linear():
            low, *_, high = constraint.linear.domain
            mark = " =" if low == high else " ≤" if low == cp_model.INT_MIN else " ≥"
            tied = [proto.variables[i].name for i in constraint.linear.vars]
        elif constraint.has_cumulative():
            mark, tied = "", [proto.constraints[i].name for i in constraint.cumulative.intervals]
        elif constraint.has_no_overlap():
            mark, tied = " apart", [proto.constraints[i].name for i in constraint.no_overlap.intervals]
        elif constraint.has_interval() or not str(constraint):  # or one taken away before
            continue
        else:
            raise TypeError(f"a constraint of no known kind: {constraint}")
        words = {re.sub(r"[-\d. ]+$", "", name) for name in tied} - ABSENCES
        if words:
            yield ("pool" if words <= POOLED and not mark else " ".join(sorted(words)) + mark), constraint


def told(change: Farming) -> Change:
    """The planner told of another farm than the auditor."""

    def cards(situation: Situation) -> Cards:
        return make_cards(replace(situation, scenario=change(situation.scenario)))

    return lambda: patch("scheduler.planner.make_cards", cards)


def changed(part: str, **fields: Any) -> Farming:
    """Another farm: fields of a part of it, or of each of several, set or put through a function."""

    def other(row: Any) -> Any:
        new = {name: v(getattr(row, name)) if callable(v) else v for name, v in fields.items()}
        return replace(row, **new)

    def change(farm: Scenario) -> Scenario:
        rows: Any = getattr(farm, part)
        new: Any = tuple(map(other, rows)) if isinstance(rows, tuple) else other(rows)
        return replace(farm, **{part: new})

    return change
