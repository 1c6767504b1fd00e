"""Each rule of the rule book, broken alone in a good plan: the auditor reports just that rule."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import scheduler
from scheduler.auditor import audit
from scheduler.auditor.auditing import CHECKS
from scheduler.auditor.case import Case
from scheduler.auditor.farm import Farm
from scheduler.auditor.rows import sound_rows

from . import (
    broken_batches,
    broken_chores,
    broken_freezers,
    broken_fruit,
    broken_goods,
    broken_held,
    broken_jars,
    broken_juice,
    broken_people,
    broken_power,
    broken_stand_by,
    broken_stove,
    broken_trade,
    broken_whole_day,
)
from .breaking import Break

BROKEN = (
    broken_freezers,
    broken_fruit,
    broken_batches,
    broken_people,
    broken_juice,
    broken_stand_by,
    broken_stove,
    broken_trade,
    broken_goods,
    broken_power,
    broken_whole_day,
    broken_jars,
    broken_chores,
    broken_held,
)
BREAKS = [each for module in BROKEN for each in module.BREAKS]
INSIDE = [
    *broken_juice.INSIDE.all,
    *broken_stand_by.INSIDE.all,
    *broken_power.INSIDE.all,
    *broken_power.INSIDE_THREE.all,
    *broken_whole_day.INSIDE.all,
    *broken_freezers.INSIDE.all,
    *broken_stove.INSIDE,
    *broken_trade.INSIDE.all,
    *broken_jars.INSIDE,
    *broken_goods.INSIDE,
    *broken_chores.ALL_INSIDE,
    *broken_held.INSIDE.all,
]


@pytest.mark.parametrize("broken", [pytest.param(each, id=each.name) for each in BREAKS])
def test_a_broken_plan_has_just_that_finding(broken: Break) -> None:
    findings = audit(broken.situation, broken.plan)
    assert {finding.rule for finding in findings} == broken.rules, [str(finding) for finding in findings]


@pytest.mark.parametrize("inside", [pytest.param(each, id=each.name) for each in INSIDE])
def test_a_plan_just_inside_a_rule_has_no_finding(inside: Break) -> None:
    assert [str(finding) for finding in audit(inside.situation, inside.plan)] == []


def test_every_rule_of_the_rule_book_is_broken_alone() -> None:
    book = Path(scheduler.__file__).with_name("RULES.md").read_text(encoding="utf-8")
    rules = book[book.index("## Fruit") : book.index("## Day limits")]
    names = set(re.findall(r"\*\*([a-z-]+)\*\*", rules))
    assert len(names) >= 40
    broken_alone = {name for each in BREAKS if len(each.rules) == 1 for name in each.rules}
    assert names == broken_alone


def test_every_check_finds_something_in_some_broken_plan() -> None:
    silent = set(CHECKS)
    for broken in BREAKS:
        farm = Farm(broken.situation)
        case = Case(farm, sound_rows(farm, broken.plan)[0])
        silent -= {check for check in silent if any(True for _ in check(case))}
    assert [check.__name__ for check in silent] == []


def test_a_finding_is_one_line_that_says_where_what_and_what_is_allowed() -> None:
    broken = next(each for each in BREAKS if each.name == "kitchen-hours: washing after closing")
    (finding,) = audit(broken.situation, broken.plan)
    assert str(finding) == (
        "kitchen-hours: 2026-07-06 13:05, batch b1, wash pan: found 13:05 to 13:15; allowed: 08:00 to 13:10"
    )
