"""Another [slack] than that of kitchen.toml, given as ``key=number``."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any

from scheduler.domain.scenario import Situation, Slack
from scheduler.intake import keys
from scheduler.intake.faults import FaultList, listed, shown
from scheduler.intake.tables import validated

OPTION = "--slack"


def with_slack(situation: Situation, options: Sequence[str]) -> Situation:
    """The situation with the slack that ``options`` give; what they leave out stays as it is.

    Where that is another slack it is other input, with another ``input_hash``: a plan made with it is none
    of the folder as its files stand. Raises InputFaults with every fault of the options.
    """
    faults = FaultList()
    given: dict[str, Any] = {}
    for option in options:
        key, equals, value = option.partition("=")
        if not equals:
            allowed = "key=number, with a key of " + listed(keys.SlackTable.model_fields)
            faults.add(OPTION, "", shown(option), allowed, "Write it as in spoiled_share=0.05.")
        elif key in given:
            faults.add(OPTION, f"key {shown(key)}", "the key twice", "each key once", "Remove one of them.")
        given[key if equals else ""] = value
    given.pop("", None)
    old = situation.scenario.slack
    row = validated(keys.SlackTable, asdict(old) | given, OPTION, "", faults)
    faults.raise_if_any()
    assert row is not None
    new = Slack(**row.value.model_dump())
    if new == old:
        return situation
    digest = hashlib.sha256(f"{situation.input_hash}\0{OPTION}\0{new}".encode()).hexdigest()
    return replace(situation, scenario=replace(situation.scenario, slack=new), input_hash=digest)
