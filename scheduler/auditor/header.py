"""Rules 37 and 38: what the plan says it was made from, and what it reports as totals."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.auditor.case import Case
from scheduler.auditor.finding import KG, Finding, clock, kg
from scheduler.plan_rows import PLAN_SCHEMA, totals

BALANCE_KG = 0.01


def the_header_is_that_of_the_situation(case: Case) -> Iterator[Finding]:
    """Rule 37."""
    situation, scenario, plan = case.farm.situation, case.farm.scenario, case.plan
    for name, found, allowed in (
        ("schema", plan.schema, PLAN_SCHEMA),
        ("scenario", plan.scenario, scenario.name),
        ("kitchen_id", plan.kitchen_id, scenario.kitchen_id),
        ("currency", plan.currency, scenario.currency),
        ("as_of", plan.as_of, situation.as_of),
        ("input_hash", plan.input_hash, situation.input_hash),
    ):
        if type(found) is not type(allowed) or found != allowed:
            yield Finding("plan-header", name, str(found), str(allowed))


def the_fresh_fruit_balances(case: Case) -> Iterator[Finding]:
    """Rule 38: what was on hand and picked is all accounted for."""
    rows = case.plan.lots
    came = sum(row.arrived for row in rows) + sum(row.opening for row in rows if row.day == case.farm.first)
    went = sum(row.sold + row.cooked + row.frozen + row.given_up + row.spoiled for row in rows)
    left = sum(row.left for row in rows if row.day == case.farm.last)
    if abs(came - went - left) > BALANCE_KG + 1e-9:
        yield Finding("totals", "fresh fruit", f"{kg(came)} in, {kg(went + left)} out", "equal")


def the_habit_balances(case: Case) -> Iterator[Finding]:
    """Rule 38, for the habit that a plan is compared with: its rows are not here, its balance is."""
    if case.plan.habit and abs(case.plan.habit.balance()) > BALANCE_KG + 1e-9:
        yield Finding("totals", "habit", f"{kg(case.plan.habit.balance())} unaccounted for", kg(0.0))


def reported_totals_are_sums_of_rows(case: Case) -> Iterator[Finding]:
    """Rule 38."""
    plan, reported = case.plan, totals(case.plan)
    drawn = sum(row.cooked + row.frozen for row in plan.lots)
    cooked = sum(mix.fresh_kg for mix in plan.mixes)
    frozen = sum(row.frozen for row in plan.freezer)
    sums = {
        "picked": sum(row.arrived for row in plan.lots),
        "opening": sum(row.opening for row in plan.lots if row.day == case.farm.first),
        "sold": sum(row.sold for row in plan.lots),
        "cooked": cooked,
        "frozen": frozen,
        "trimmed": drawn - cooked - frozen,
        "given_up": sum(row.given_up for row in plan.lots),
        "spoiled": sum(row.spoiled for row in plan.lots),
        "left": sum(row.left for row in plan.lots if row.day == case.farm.last),
        "thawed": sum(row.thawed for row in plan.freezer),
        "discarded": sum(row.discarded for row in plan.freezer),
        "made": sum(row.made for row in plan.jars),
        "short": sum(line.jars - line.filled for line in plan.orders),
    }
    for name, value in sums.items():
        found = getattr(reported, name)
        if abs(found - value) > KG:
            yield Finding("totals", name, f"{found:.3f}", f"{value:.3f}")


def each_finish_is_when_the_last_stage_ends(case: Case) -> Iterator[Finding]:
    """Rule 38: a reported finish is the day's last end, and no earlier than was proved possible."""
    for row in case.plan.finishes:
        ends = max((stage.end for stage in case.stages_on.get(row.day, [])), default=row.ends)
        if row.ends != ends:
            yield Finding("totals", f"finish of {row.day.isoformat()}", clock(row.ends), clock(ends))
        if row.bound > row.ends:
            found = f"proved not before {clock(row.bound)}"
            yield Finding("totals", f"finish of {row.day.isoformat()}", found, f"{clock(row.ends)} or before")
