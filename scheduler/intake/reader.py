"""From a scenario folder to a Situation, or to the list of everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from pydantic_core import PydanticCustomError

from scheduler.domain.scenario import Situation
from scheduler.errors import Fault
from scheduler.intake import build
from scheduler.intake.checks import check_all
from scheduler.intake.faults import FaultList, shown
from scheduler.intake.files import fingerprint, not_empty, note_missing, read_texts
from scheduler.intake.gathered import gather
from scheduler.intake.kinds import Text
from scheduler.languages import ENGLISH, speaking


def read_scenario(folder: Path) -> Situation:
    """Read a scenario folder as of its first day; what is wrong with it is told in English.

    The scenario takes the folder's name. Raises InputFaults with every fault of every file.
    """
    faults = FaultList()
    texts = read_texts(folder, faults)
    return _situation(texts, folder.resolve().name, faults)


def situation_of(texts: Mapping[str, str], name: str, unread: Iterable[Fault] = ()) -> Situation:
    """What the texts of a folder's files say, read as ``read_scenario`` reads the folder.

    ``texts`` are by file name, with plain line ends; ``unread`` are the faults of files that stand in the
    folder and cannot be read as text. Raises InputFaults with every fault.
    """
    faults = FaultList()
    for fault in unread:
        faults.add(fault.file, fault.where, fault.found, fault.allowed, fault.remedy)
    note_missing({*texts, *(fault.file for fault in unread)}, faults)
    sound = {file: text for file, text in texts.items() if not_empty(file, text, faults)}
    return _situation(sound, name, faults)


def _situation(texts: dict[str, str], name: str, faults: FaultList) -> Situation:
    name = _scenario_name(name, faults)
    if texts:
        with speaking(ENGLISH):  # faults are kept for readers of every language
            found = gather(texts, faults)
            check_all(found, faults)
    faults.raise_if_any()
    scenario = build.scenario(found, name)
    return Situation(scenario=scenario, as_of=scenario.start, input_hash=fingerprint(texts))


def _scenario_name(name: str, faults: FaultList) -> str:
    """The folder's name, which stands on every screen and in every plan."""
    try:
        return Text().read(name)
    except PydanticCustomError as refused:
        context = refused.context or {}
        faults.add(shown(name), "", "this folder name", str(context["allowed"]), "Rename the folder.")
        return name
