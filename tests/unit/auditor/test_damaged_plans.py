"""Damage of any kind is a finding, never an exception: wrong kinds, unknown names, absurd numbers."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from datetime import date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.auditor import Finding, audit
from scheduler.auditor.rows import TABLES
from scheduler.plan_rows import JarDay, LotDay, Mix, OrderLine, Part, Plan, Purchase, Stage, StageKind

from . import day_of_one_pan, day_of_two_pans, three_days_of_jelly, two_days_with_an_order
from . import worked_days as hand
from .breaking import added, header, rows
from .worked_days import MONDAY, TUESDAY

DAYS = (day_of_one_pan, day_of_two_pans, two_days_with_an_order, three_days_of_jelly)
JAM = two_days_with_an_order.JAM
FAR = date(2027, 1, 1)

NOBODY = "somebody else"
ROW = two_days_with_an_order.PLAN
STRANGERS = {
    "lot": added("lots", LotDay(MONDAY, NOBODY, "strawberry", "table", *[0.0] * 8)),
    "fruit": added("mixes", Mix(MONDAY, JAM, False, NOBODY, 0.0, 0.0)),
    "recipe": added("jars", JarDay(MONDAY, NOBODY, hand.JAR, 0, 0, 0)),
    "lot of a draw": added("draws", hand.draw(NOBODY, 0.0, JAM)),
    "freezer lot": added("freezer", hand.freezer_day(f"{NOBODY} frozen {MONDAY}", FAR)),
    "pan": added("batches", replace(ROW.batches[0], id="b3", pan=NOBODY)),
    "ring": added("batches", replace(ROW.batches[0], id="b3", ring=NOBODY)),
    "batch": added("stages", Stage(MONDAY, NOBODY, StageKind.STAND, 600, 605, ())),
    "person": added("shifts", replace(ROW.shifts[0], person=NOBODY)),
    "worker": added("stages", Stage(MONDAY, "b1", StageKind.WASH, 600, 605, (NOBODY,))),
    "order": added("orders", OrderLine(NOBODY, JAM, hand.JAR, MONDAY, 1, 0)),
    "good": added("purchases", Purchase(NOBODY, 1.0, TUESDAY, MONDAY, 1.0)),
}
STRAYS = {
    "lot": added("lots", hand.lot_day(FAR, hand.PICKED_MONDAY)),
    "stage": added("stages", Stage(FAR, "b1", StageKind.WASH, 600, 605, ("Ann",))),
    "shift": added("shifts", replace(ROW.shifts[0], day=FAR)),
    "purchase": added("purchases", Purchase("sugar", 1.0, FAR, FAR, 1.25)),
}
DAMAGE = {
    "not a row": added("lots", "a lot"),
    "nothing": added("batches", None),
    "a row of another table": added("shifts", ROW.lots[0]),
    "text for kg": added("draws", hand.draw(hand.PICKED_MONDAY, "5.5", JAM)),  # type: ignore[arg-type]
    "no number": added("draws", hand.draw(hand.PICKED_MONDAY, math.nan, JAM)),
    "endless": added("draws", hand.draw(hand.PICKED_MONDAY, math.inf, JAM)),
    "beyond all measure": added("jars", JarDay(MONDAY, JAM, hand.JAR, 10**400, 0, 0)),
    "true for a number": added("jars", JarDay(MONDAY, JAM, hand.JAR, True, 0, 0)),
    "a time for a day": added("jars", JarDay(datetime(2026, 7, 6), JAM, hand.JAR, 0, 0, 0)),
    "half a jar": added("jars", JarDay(MONDAY, JAM, hand.JAR, 0.5, 0, 0)),  # type: ignore[arg-type]
    "an unknown part": added("batches", replace(ROW.batches[0], id="b3", part="half")),  # type: ignore[arg-type]
    "an unknown stage": added("stages", Stage(MONDAY, "b1", "skim", 600, 605, ())),  # type: ignore[arg-type]
    "no people": added("stages", Stage(MONDAY, "b1", StageKind.STAND, 600, 605, None)),  # type: ignore[arg-type]
    "no table": header(finishes=None),
    "habit": header(habit=[1, 2, 3]),
}


@pytest.mark.parametrize(
    ("rule", "how"),
    [("unknown-name", how) for how in STRANGERS]
    + [("unknown-day", how) for how in STRAYS]
    + [("damaged-row", how) for how in DAMAGE],
)
def test_a_row_that_cannot_be_read_is_the_one_finding(rule: str, how: str) -> None:
    changes = {"unknown-name": STRANGERS, "unknown-day": STRAYS, "damaged-row": DAMAGE}[rule]
    situation, plan = changes[how](two_days_with_an_order.SITUATION, two_days_with_an_order.PLAN)
    assert {finding.rule for finding in audit(situation, plan)} == {rule}


def test_what_was_there_is_missed_when_its_row_cannot_be_read() -> None:
    change = rows("batches", {"id": "b1"}, pan=NOBODY)
    situation, plan = change(day_of_one_pan.SITUATION, day_of_one_pan.PLAN)
    assert {"unknown-name", "draw-balance", "shipped"} <= {each.rule for each in audit(situation, plan)}


def test_a_plan_of_no_rows_is_found_wanting() -> None:
    bare = hand.plan({})
    for day in DAYS:
        rules = {finding.rule for finding in audit(day.SITUATION, bare)}
        assert {"lot-balance", "goal-value"} <= rules


VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-2000, 2000),
    st.sampled_from([10**400, -(10**9), 10**9]),
    st.floats(),
    st.floats(-20, 20),
    st.text(max_size=5),
    st.sampled_from(
        ["", "b1", "b3", "large", "small", "Ann", "Cat", hand.PICKED_MONDAY, JAM, day_of_two_pans.JAM]
    ),
    st.dates(),
    st.sampled_from([MONDAY, TUESDAY, date.min, date.max]),
    st.sampled_from(list(StageKind)),
    st.sampled_from(list(Part)),
    st.lists(st.sampled_from(["Ann", "Dan", "Eve", ""]), max_size=3).map(tuple),
    st.just([]),
)


@st.composite
def damaged(draw: st.DrawFn, plan: Plan) -> Plan:
    """The plan with up to twelve rows altered, dropped, repeated or replaced by something else."""
    for _ in range(draw(st.integers(1, 12))):
        table = draw(st.sampled_from(sorted(TABLES)))
        now: list[Any] = list(getattr(plan, table))
        place = draw(st.integers(0, len(now)))
        if place == len(now):
            now.append(draw(VALUES))
        else:
            row = now[place]
            match draw(st.sampled_from(["alter", "alter", "alter", "drop", "repeat"])):
                case "alter" if type(row) in TABLES.values():
                    name = draw(st.sampled_from([field.name for field in fields(row)]))
                    now[place] = replace(row, **{name: draw(VALUES)})
                case "repeat":
                    now.append(row)
                case _:
                    del now[place]
        plan = replace(plan, **{table: tuple(now)})
    return plan


@given(data=st.data(), day=st.sampled_from(DAYS))
def test_a_damaged_plan_is_audited_to_the_end(data: st.DataObject, day: Any) -> None:
    plan = data.draw(damaged(day.PLAN))
    findings = audit(day.SITUATION, plan)
    assert all(isinstance(finding, Finding) and "\n" not in str(finding) for finding in findings)


@given(
    data=st.data(),
    day=st.sampled_from(DAYS),
    name=st.sampled_from([field.name for field in fields(Plan)]),
)
def test_a_damaged_header_is_audited_to_the_end(data: st.DataObject, day: Any, name: str) -> None:
    findings = audit(day.SITUATION, replace(day.PLAN, **{name: data.draw(VALUES)}))
    assert all("\n" not in str(finding) for finding in findings)
