"""How the tests break a good plan: rows replaced, added or dropped, and goals restated."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from scheduler.domain.scenario import Situation
from scheduler.plan_rows import Plan

from .worked_days import MONDAY, at

Change = Callable[[Situation, Plan], tuple[Situation, Plan]]


@dataclass(frozen=True)
class Break:
    """One way to break a good plan: ``rules`` are just the names that the auditor must report."""

    name: str
    rules: frozenset[str]
    situation: Situation
    plan: Plan


class Breaks:
    """The broken forms of one day, each with the rules that it breaks."""

    def __init__(self, situation: Situation, plan: Plan) -> None:
        self.situation = situation
        self.plan = plan
        self.all: list[Break] = []

    def add(self, rules: str, how: str, *changes: Change) -> None:
        """A plan broken by ``changes`` in turn; ``rules`` are names with spaces between."""
        situation, plan = self.situation, self.plan
        for change in changes:
            situation, plan = change(situation, plan)
        assert (situation, plan) != (self.situation, self.plan)
        self.all.append(Break(f"{rules}: {how}", frozenset(rules.split()), situation, plan))


def rows(table: str, where: dict[str, Any], **values: Any) -> Change:
    """Put ``values`` into the rows of ``table`` whose fields are as in ``where`` (at least one is)."""

    def change(situation: Situation, plan: Plan) -> tuple[Situation, Plan]:
        old = getattr(plan, table)
        hit = [all(getattr(row, name) == value for name, value in where.items()) for row in old]
        assert any(hit), f"no row of {table} with {where}"
        new = tuple(replace(row, **values) if yes else row for row, yes in zip(old, hit, strict=True))
        return situation, replace(plan, **{table: new})

    return change


def lot(name: str, day: Any = None, **kg: float) -> Change:
    return rows("lots", {"lot": name} | ({"day": day} if day else {}), **kg)


def frozen(name: str, **kg: Any) -> Change:
    return rows("freezer", {"lot": name}, **kg)


def drawn(name: str, kg: float) -> Change:
    return rows("draws", {"lot": name}, kg=kg)


def mixed(fruit: str, **kg: float) -> Change:
    return rows("mixes", {"fruit": fruit}, **kg)


def goal(name: str, value: float) -> Change:
    """Restate a goal, so that the plan is honest about what the break costs."""
    return rows("goals", {"name": name}, value=value, best=value, bound=value)


def added(table: str, *new: Any) -> Change:
    def change(situation: Situation, plan: Plan) -> tuple[Situation, Plan]:
        return situation, replace(plan, **{table: getattr(plan, table) + new})

    return change


def dropped(table: str, **where: Any) -> Change:
    """Leave out the rows of ``table`` whose fields are as in ``where``."""

    def change(situation: Situation, plan: Plan) -> tuple[Situation, Plan]:
        old = getattr(plan, table)
        kept = [row for row in old if any(getattr(row, name) != value for name, value in where.items())]
        assert len(kept) < len(old)
        return situation, replace(plan, **{table: tuple(kept)})

    return change


def header(**values: Any) -> Change:
    return lambda situation, plan: (situation, replace(plan, **values))


def moved(minutes: int, **where: Any) -> Change:
    """Shift the stages whose fields are as in ``where`` by ``minutes``."""

    def change(situation: Situation, plan: Plan) -> tuple[Situation, Plan]:
        hit = [all(getattr(stage, name) == value for name, value in where.items()) for stage in plan.stages]
        assert any(hit)
        stages = tuple(
            replace(stage, start=stage.start + minutes, end=stage.end + minutes) if yes else stage
            for stage, yes in zip(plan.stages, hit, strict=True)
        )
        return situation, replace(plan, stages=stages)

    return change


def scenario(**values: Any) -> Change:
    """The farm turns out to be other than the plan takes it to be."""
    return lambda situation, plan: (
        replace(situation, scenario=replace(situation.scenario, **values)),
        plan,
    )


def kitchen(**values: Any) -> Change:
    """The kitchen turns out to be other than the plan takes it to be."""
    return lambda situation, plan: scenario(kitchen=replace(situation.scenario.kitchen, **values))(
        situation, plan
    )


def recipe(**values: Any) -> Change:
    """The only recipe turns out to be other than the plan takes it to be."""
    return lambda situation, plan: scenario(recipes=(replace(situation.scenario.recipes[0], **values),))(
        situation, plan
    )


def finish(ends: str) -> Change:
    """Restate when Monday's last stage ends."""
    return rows("finishes", {"day": MONDAY}, ends=at(ends), bound=at(ends))
