"""From a scenario folder to a Situation, or to the list of everything that is wrong with it."""

from __future__ import annotations

from pathlib import Path

from pydantic_core import PydanticCustomError

from scheduler.domain.scenario import Situation
from scheduler.intake import build
from scheduler.intake.checks import check_all
from scheduler.intake.faults import FaultList, shown
from scheduler.intake.files import fingerprint, read_texts
from scheduler.intake.gathered import gather
from scheduler.intake.kinds import Text


def read_scenario(folder: Path) -> Situation:
    """Read a scenario folder as of its first day.

    The scenario takes the folder's name. Raises InputFaults with every fault of every file.
    """
    faults = FaultList()
    texts = read_texts(folder, faults)
    name = _scenario_name(folder, faults)
    if texts:
        found = gather(texts, faults)
        check_all(found, faults)
    faults.raise_if_any()
    scenario = build.scenario(found, name)
    return Situation(scenario=scenario, as_of=scenario.start, input_hash=fingerprint(texts))


def _scenario_name(folder: Path, faults: FaultList) -> str:
    """The folder's name, which stands on every screen and in every plan."""
    name = folder.resolve().name
    try:
        return Text().read(name)
    except PydanticCustomError as refused:
        context = refused.context or {}
        faults.add(shown(name), "", "this folder name", str(context["allowed"]), "Rename the folder.")
        return name
