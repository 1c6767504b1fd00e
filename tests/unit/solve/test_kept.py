"""Days of an earlier plan that are kept: they stay to the last digit, and what differs is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any, Literal

import pytest

from scheduler.auditor import audit
from scheduler.domain.held import OutOfUse
from scheduler.domain.scenario import Scenario, Situation
from scheduler.errors import InputFaults
from scheduler.keep import kept_days
from scheduler.plan_json import to_json
from scheduler.plan_rows import Part, Plan
from scheduler.planner import make_plan
from scheduler.solve.kept import TABLES
from scheduler.solve.settings import Settings
from tests.kitchens import random_kitchen
from tests.kitchens_of_kinds import kitchen_of_freezers, kitchen_of_kinds, trading_kitchen

TO_THE_END = Settings(seconds=60.0, workers=1)
SIZES: dict[str, Any] = {"days": (3, 3), "fruits": (1, 2), "picks_kg": 14.0}
FARMS = {
    **{f"jam {seed}": random_kitchen(seed, **SIZES) for seed in (1, 2, 5)},
    **{f"juice {seed}": kitchen_of_kinds(seed, **SIZES) for seed in (6,)},
    **{f"freezers {seed}": kitchen_of_freezers(seed, **SIZES) for seed in (4,)},
    "trade 2": trading_kitchen(2, **SIZES),
}


@cache
def before(name: str) -> Plan:
    return make_plan(FARMS[name], TO_THE_END)


def again(
    folder: Path,
    name: str,
    until: date,
    now: Situation | None = None,
    method: Literal["exact", "habit"] = "exact",
) -> Plan:
    """The plan of a farm, as it is now, with the days until then kept."""
    (folder / "plan.json").write_text(to_json(before(name)), encoding="utf-8")
    situation = now or FARMS[name]
    kept = kept_days(situation, folder, until)
    plan = make_plan(situation, replace(TO_THE_END, method=method), kept=kept)
    assert audit(situation, plan) == ()
    return plan


def rows_until(plan: Plan, until: date) -> list[object]:
    return [row for table in TABLES for row in getattr(plan, table) if row.day <= until]


def changed(name: str, **parts: Any) -> Situation:
    situation = FARMS[name]
    return replace(situation, scenario=replace(situation.scenario, **parts))


@pytest.mark.parametrize("name", FARMS)
def test_all_days_kept_are_the_same_plan(tmp_path: Path, name: str) -> None:
    last = FARMS[name].scenario.dates()[-1]
    plan = again(tmp_path, name, last)
    assert rows_until(plan, last) == rows_until(before(name), last)
    assert (plan.orders, plan.purchases) == (before(name).orders, before(name).purchases)
    for new, old in zip(plan.goals, before(name).goals, strict=True):
        assert new.value == pytest.approx(old.value, abs=0.02)


@pytest.mark.parametrize("kept", [1, 2])
@pytest.mark.parametrize("name", FARMS)
def test_some_days_kept_stay_and_the_others_are_no_worse(tmp_path: Path, name: str, kept: int) -> None:
    until = FARMS[name].scenario.dates()[kept - 1]
    plan = again(tmp_path, name, until)
    assert rows_until(plan, until) == rows_until(before(name), until)
    assert plan.goals[0].best <= before(name).goals[0].value + 0.02


@pytest.mark.parametrize("name", FARMS)
def test_habit_goes_on_from_the_days_kept(tmp_path: Path, name: str) -> None:
    until = FARMS[name].scenario.start
    plan = again(tmp_path, name, until, method="habit")
    assert rows_until(plan, until) == rows_until(before(name), until)


def test_juice_of_the_last_day_kept_is_boiled_on_the_next(tmp_path: Path) -> None:
    name = next(name for name in FARMS if any(b.part is Part.SOFTEN for b in before(name).batches))
    until = min(batch.day for batch in before(name).batches if batch.part is Part.SOFTEN)
    plan = again(tmp_path, name, until)
    boiled = [batch.day for batch in plan.batches if batch.juice_of.startswith(until.isoformat())]
    assert set(boiled) == {until + timedelta(days=1)}


def test_later_days_are_planned_for_what_is_known_now(tmp_path: Path) -> None:
    """On the days after the first all pans are out of use."""
    first, *later = FARMS["jam 1"].scenario.dates()
    pans = FARMS["jam 1"].scenario.kitchen.pans
    now = changed("jam 1", out=tuple(OutOfUse(day, pan.name, "", "") for day in later for pan in pans))
    assert any(batch.day > first for batch in before("jam 1").batches)
    plan = again(tmp_path, "jam 1", first, now)
    assert rows_until(plan, first) == rows_until(before("jam 1"), first)
    assert {batch.day for batch in plan.batches} <= {first}


def no_shifts(_: Scenario) -> dict[str, Any]:
    return {"shifts": ()}


def more_picked(farm: Scenario) -> dict[str, Any]:
    return {"picks": tuple(replace(lot, kg=lot.kg + 1.0) for lot in farm.picks)}


def pans_out(farm: Scenario) -> dict[str, Any]:
    return {"out": tuple(OutOfUse(d, pan.name, "", "") for d in farm.dates() for pan in farm.kitchen.pans)}


DIFFERENT: dict[str, Callable[[Scenario], dict[str, Any]]] = {
    "shift-offered": no_shifts,
    "lot-balance": more_picked,
    "out-of-use": pans_out,
}


@pytest.mark.parametrize("rule", DIFFERENT)
def test_what_differs_on_the_days_kept_is_told(tmp_path: Path, rule: str) -> None:
    farm = FARMS["jam 1"].scenario
    with pytest.raises(InputFaults, match=rule) as told:
        again(tmp_path, "jam 1", farm.dates()[-1], changed("jam 1", **DIFFERENT[rule](farm)))
    assert all(fault.remedy.startswith("Mend the input") for fault in told.value.faults)


def test_a_day_outside_another_kitchen_and_no_plan_at_all_are_told(tmp_path: Path) -> None:
    farm = FARMS["jam 1"].scenario
    with pytest.raises(InputFaults, match="--until"):
        again(tmp_path, "jam 1", farm.start - timedelta(days=1))
    with pytest.raises(InputFaults, match="a plan of kilbrack from"):
        again(tmp_path, "jam 1", farm.start, changed("jam 1", kitchen_id="other"))
    with pytest.raises(InputFaults, match="--out"):
        kept_days(FARMS["jam 1"], tmp_path / "nowhere", farm.start)
    (tmp_path / "plan.json").write_text("{}", encoding="utf-8")
    with pytest.raises(InputFaults, match="not a plan"):
        kept_days(FARMS["jam 1"], tmp_path, farm.start)
