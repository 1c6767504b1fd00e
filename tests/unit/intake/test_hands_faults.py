"""Faults of learners, ages and rules of work; and that what is no fault is read."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler.intake import read_scenario
from tests.unit.intake.spoil import Case, Change, K, assert_told_once, columns, swap

PEOPLE = "people.csv"


def work(*lines: str) -> Change:
    return swap(K, "[prices]", "\n".join(["[work]", *lines, "[prices]"]))


def each(*changes: Change) -> Change:
    def change(folder: Path) -> None:
        for one in changes:
            one(folder)

    return change


def people(*rows: str) -> Change:
    """People with the columns that may be left out: Aoife, Brendan and Ciara."""

    def change(folder: Path) -> None:
        head = "person,skills,pay,overtime_pay,hours_week,learner,born"
        (folder / PEOPLE).write_text("\n".join([head, *rows, ""]), encoding="utf-8")

    return change


AOIFE = "Aoife,prepare cook fill,18,27,48,,"
BRENDAN = "Brendan,prepare cook fill,17,25.5,42,,"
CIARA = "Ciara,prepare fill,15.5,23.25,40,,"
CIARA_FILLS = CIARA.replace("prepare ", "")
"""Her last shift is on 29 August."""

FAULTS: dict[str, Case] = {
    "an address that is none": (
        columns(PEOPLE, 2, email="aoife"), PEOPLE, "row 2, column email", "one address as in",
    ),
    "two addresses": (
        columns(PEOPLE, 2, email="a@example.org b@example.org"), PEOPLE, "row 2, column email", "one address",
    ),
    "an address that a spreadsheet would run": (
        columns(PEOPLE, 2, email="=a@example.org"), PEOPLE, "row 2, column email", "one address as in",
    ),
    "neither yes nor no": (
        columns(PEOPLE, 2, learner="perhaps"), PEOPLE, "row 2, column learner", "yes or no",
    ),
    "yes in capitals": (columns(PEOPLE, 2, learner="Yes"), PEOPLE, "row 2, column learner", "'yes'?"),
    "born long ago": (columns(PEOPLE, 2, born="1899-12-31"), PEOPLE, "row 2, column born", "1900 and 2100"),
    "born on the first day": (
        columns(PEOPLE, 2, born="2026-08-24"), PEOPLE, "row 2, column born", "before start (2026-08-24)",
    ),
    "an age, and nobody's is known": (
        work("boil_from_age = 18"), K, "[work], key boil_from_age", "a date of birth",
    ),
    "a learner who only cooks": (
        people(AOIFE, "Brendan,cook,17,25.5,42,yes,", CIARA, "Dara,fill,15,22,40,,"),
        PEOPLE, "row 3, column skills", "cook of a learner",
    ),
    "only learners may cook": (
        each(people(AOIFE.replace(",,", ",yes,"), BRENDAN.replace(",,", ",yes,"), CIARA),
             swap(K, "people_while_boiling = 2", "people_while_boiling = 1")),
        PEOPLE, "column skills", "nobody who may cook",
    ),
    "too few beside a pan without learners": (
        people(AOIFE, BRENDAN.replace(",,", ",yes,"), CIARA.replace(",,", ",yes,")),
        K, "[habits], key people_while_boiling", "at most 1, the people there are (learners do not count)",
    ),
    "too few to fill who are old enough": (
        each(people(AOIFE, BRENDAN + "2010-01-01", CIARA + "2010-01-01"), work("boil_from_age = 18")),
        K, "[potting], key fillers", "who may use it",
    ),
    "too young for all that they can": (
        each(people(AOIFE, BRENDAN, CIARA_FILLS + "2008-08-30"), work("boil_from_age = 18")),
        PEOPLE, "row 4, column skills", "fill of somebody younger than 18",
    ),
    "a break longer than the time after which it is owed": (
        work("[[work.break]]", "after_minutes = 20", "minutes = 25"),
        K, "break 1, key minutes", "at most after_minutes (20)",
    ),
    "a rest longer than a day": (work("rest_minutes = 1445"), K, "[work], key rest_minutes", "0 to 1440"),
    "a set test longer than anybody may stand": (
        work("longest_stove_minutes = 5"), K, "[work], key longest_stove_minutes", "at least",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_hands_is_told_once(folder: Path, name: str) -> None:
    assert_told_once(folder, FAULTS[name])


def test_learners_ages_and_limits_are_read(folder: Path) -> None:
    """Ciara, who only fills, is 18 on the day of her last shift; a break may be as long as its time."""
    each(
        people(AOIFE, BRENDAN, CIARA_FILLS + "2008-08-29", "Dara,prepare,14,21,20,yes,"),
        work(
            "least_paid_minutes = 180", "boil_from_age = 18", "longest_stove_minutes = 90",
            "stove_rest_minutes = 20", "[[work.break]]", "after_minutes = 60", "minutes = 60",
        ),
    )(folder)  # fmt: skip
    scenario = read_scenario(folder).scenario
    assert [(p.learner, p.born) for p in scenario.people] == [
        (False, None), (False, None), (False, date(2008, 8, 29)), (True, None),
    ]  # fmt: skip
    rules = scenario.work_rules
    assert (rules.least_paid_minutes, rules.boil_from_age) == (180, 18)
    assert (rules.longest_stove_minutes, rules.stove_rest_minutes) == (90, 20)


def test_what_may_be_left_out_limits_nothing(folder: Path) -> None:
    rules = read_scenario(folder).scenario.work_rules
    assert (rules.least_paid_minutes, rules.boil_from_age, rules.longest_stove_minutes) == (0, 0, None)
