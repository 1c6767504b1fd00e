"""Maslin: what a soft-fruit farm sells, cooks, freezes or gives up, and when each batch is cooked.

For programs and notebooks::

    import scheduler

    week = scheduler.load("scenarios/glut-week")  # raises InputFaults with all that is wrong
    plan = scheduler.plan(week, seconds=60)
    assert scheduler.check(week, plan) == ()      # what the auditor finds broken: nothing
    plan.batches                                  # rows of plain data, as in plan.json

These names are all there is to import from here; everything behind them may change.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from scheduler.front_door import Plan, check, load, plan

__all__ = ["Plan", "check", "load", "plan"]


def __getattr__(name: str) -> Any:
    # Every room is imported through this file, so what stands behind the door is read when it is asked for.
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("scheduler.front_door"), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]
