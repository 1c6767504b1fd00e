"""Slack given on the command line: read like kitchen.toml's, and other input where it is another."""

from __future__ import annotations

import pytest

from scheduler.auditor import audit
from scheduler.domain.scenario import Slack
from scheduler.errors import InputFaults
from scheduler.intake import read_scenario
from scheduler.intake.slack import with_slack
from scheduler.planner import Settings, make_plan
from tests.unit.intake.spoil import SCENARIOS

QUIET = read_scenario(SCENARIOS / "quiet-week")


def test_what_is_given_replaces_and_the_rest_stays() -> None:
    changed = with_slack(QUIET, ["spoiled_share=0.05", "money_share=0.1"])
    old = QUIET.scenario.slack
    assert changed.scenario.slack == Slack(0.05, old.spoiled_kg, old.short_share, 0.1)
    assert changed.input_hash != QUIET.input_hash
    assert changed.input_hash == with_slack(QUIET, ["money_share=0.1", "spoiled_share=0.050"]).input_hash


def test_the_slack_of_the_folder_is_the_same_input() -> None:
    assert with_slack(QUIET, []) == QUIET
    assert with_slack(QUIET, [f"spoiled_kg={QUIET.scenario.slack.spoiled_kg}"]) == QUIET


@pytest.mark.parametrize(
    ("option", "where", "allowed"),
    [
        ("spoiled_share", "", "spoiled_share, spoiled_kg, short_share, money_share"),
        ("spoilt_share=0.1", "key 'spoilt_share'", "spoiled_share, spoiled_kg, short_share, money_share"),
        ("spoiled_share=2", "key spoiled_share", "0 to 1"),
        ("spoiled_share=-0.1", "key spoiled_share", "0 to 1"),
        ("spoiled_share=much", "key spoiled_share", "0 to 1"),
        ("spoiled_share=", "key spoiled_share", "0 to 1"),
        ("spoiled_kg=1001", "key spoiled_kg", "0 to 1000 kg"),
        ("spoiled_kg=nan", "key spoiled_kg", "0 to 1000 kg"),
    ],
)
def test_faults_say_what_is_allowed(option: str, where: str, allowed: str) -> None:
    with pytest.raises(InputFaults) as caught:
        with_slack(QUIET, [option])
    (fault,) = caught.value.faults
    assert (fault.file, fault.where) == ("--slack", where)
    assert allowed in fault.allowed
    assert fault.remedy
    assert caught.value.exit_code == 2


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(InputFaults) as caught:
        with_slack(QUIET, ["spoiled_share=2", "short_share=x", "money_share=0.1", "money_share=0.2"])
    assert len(caught.value.faults) == 3


def test_a_plan_with_other_slack_is_not_taken_for_one_of_the_folder() -> None:
    changed = with_slack(QUIET, ["money_share=0.2"])
    plan = make_plan(changed, Settings(seconds=30, workers=1))
    assert audit(changed, plan) == ()
    assert plan.goals[2].slack > 1
    assert {finding.rule for finding in audit(QUIET, plan)} == {"plan-header", "goal-proof"}
