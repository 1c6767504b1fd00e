"""Days of an earlier plan that are kept: read, and audited as a plan of those days alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from scheduler.auditor import audit
from scheduler.auditor.finding import Finding
from scheduler.domain.scenario import Situation
from scheduler.errors import Fault, InputFaults
from scheduler.plan_json import from_json
from scheduler.plan_rows import Plan
from scheduler.solve.kept import TABLES, Kept
from scheduler.views.files import PLAN_FILE

OF_THE_WHOLE = frozenset({"goal-value", "goal-proof", "plan-header", "totals"})
"""Findings that say nothing of a plan of some of its days."""


def kept_days(situation: Situation, folder: Path, until: date) -> Kept:
    """The days up to and with ``until`` of the plan in ``folder``.

    Raises InputFaults if there is no such plan of this kitchen from this day on, or if the situation is not
    as it was when these days were planned: all that differs is named.
    """
    plan = _read(folder / PLAN_FILE)
    scenario = situation.scenario
    if (plan.kitchen_id, plan.as_of) != (scenario.kitchen_id, situation.as_of):
        found = f"a plan of {plan.kitchen_id} from {plan.as_of.isoformat()} on"
        allowed = f"one of {scenario.kitchen_id} from {situation.as_of.isoformat()} on"
        raise _fault(folder, "", found, allowed, "Name the folder of another plan, or plan without --keep.")
    last = min(scenario.dates()[-1], max((row.day for row in plan.jars), default=until))
    if not scenario.start <= until <= last:
        allowed = f"a day of the plan, {scenario.start.isoformat()} to {last.isoformat()}"
        raise _fault(folder, "--until", until.isoformat(), allowed, "Name a day of the plan.")
    kept = Kept(plan, (until - scenario.start).days + 1)
    if differs := _differs(situation, plan, until):
        remedy = "Mend the input of the days kept, keep fewer days, or plan without --keep."
        raise InputFaults(
            [Fault(PLAN_FILE, f"{f.where} ({f.rule})", f.found, f.allowed, remedy) for f in differs]
        )
    return kept


def plan_in(folder: Path, situation: Situation) -> Plan:
    """The plan in a folder. Raises InputFaults if there is none, or one of other input."""
    plan = _read(folder / PLAN_FILE)
    if plan.input_hash != situation.input_hash:
        allowed = "a plan of the scenario as its files are now"
        raise _fault(folder / PLAN_FILE, "", "a plan of other input", allowed, "Plan the scenario again.")
    return plan


def _read(file: Path) -> Plan:
    remedy = "Name the folder that an earlier plan was written to with --out."
    try:
        return from_json(file.read_text(encoding="utf-8"))
    except OSError as error:
        raise _fault(file, "", f"a file that cannot be read ({error.strerror})", "a plan", remedy) from error
    except ValueError as error:
        raise _fault(file, "", str(error), "a plan", remedy) from error


def _fault(file: Path, where: str, found: str, allowed: str, remedy: str) -> InputFaults:
    return InputFaults([Fault(str(file), where, found, allowed, remedy)])


def _differs(situation: Situation, plan: Plan, until: date) -> list[Finding]:
    """What the auditor finds in the days kept, as a plan of those days of the situation."""
    scenario = situation.scenario
    days = (until - scenario.start).days + 1
    early = replace(
        scenario,
        days=days,
        shop=tuple(row for row in scenario.shop if row.day <= until),
        held=tuple(row for row in scenario.held if row.day <= until),
    )
    rows: dict[str, Any] = {
        table: tuple(row for row in getattr(plan, table) if row.day <= until) for table in (*TABLES, "shop")
    }
    part = replace(
        plan,
        **rows,
        orders=tuple(line for line in plan.orders if line.due <= until),
        purchases=tuple(row for row in plan.purchases if row.needed <= until),
    )
    findings = audit(replace(situation, scenario=early), part)
    return [each for each in findings if each.rule not in OF_THE_WHOLE and not _drips(each, until)]


def _drips(finding: Finding, until: date) -> bool:
    """Whether it only says that juice of the last day kept is boiled later."""
    return finding.rule == "juice" and finding.where.startswith(until.isoformat())
