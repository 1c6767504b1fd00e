"""Tries: copies of a scenario folder that are changed and planned without touching it, and may be taken over.

They stand under the plans' home, ``tries / scenario / name``: the try's files as a scenario folder of its
own, in ``before`` the scenario's files as they were when the try was begun, in ``plans`` its plans.
"""

from __future__ import annotations

import re
import shutil
import tempfile
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path

from scheduler.drafts.disk import OnDisk, look
from scheduler.drafts.draft import FILES, Draft
from scheduler.errors import Fault, FilesChanged, InputFaults
from scheduler.views.files import write_texts

TRIES, BEFORE, PLANS = "tries", "before", "plans"
LONGEST_NAME = 40
_NAME = re.compile(rf"[^\W_](?:[\w .,()%'-]{{0,{LONGEST_NAME - 2}}}[\w)%'])?")


@dataclass(frozen=True, slots=True)
class Try:
    """A try by its name: ``folder`` holds its files, ``of`` is the scenario folder that it was begun from."""

    name: str
    folder: Path
    of: Path

    @property
    def before(self) -> Path:
        """The scenario's files as they were when the try was begun."""
        return self.folder / BEFORE

    @property
    def plans(self) -> Path:
        """Home of the plans made of this try, apart from those of the scenario and of other tries."""
        return self.folder / PLANS


def place_of(home: Path, scenario: Path) -> Path:
    """Where the tries of a scenario folder stand under the plans' ``home``."""
    whole = scenario.resolve()
    return home / TRIES / f"{whole.name}-{sha256(str(whole).encode()).hexdigest()[:8]}"


def tries_of(home: Path, scenario: Path) -> tuple[Try, ...]:
    """The tries of a scenario folder, by name."""
    place = place_of(home, scenario)
    found = sorted(place.iterdir(), key=lambda path: path.name.casefold()) if place.is_dir() else []
    return tuple(Try(path.name, path, scenario) for path in found if (path / BEFORE).is_dir())


def begin(home: Path, scenario: Path, name: str) -> Try:
    """Copy a scenario folder into a new try.

    Raises InputFaults if the name will not do or files cannot be read, OSError if the disk refuses.
    """
    place = place_of(home, scenario)
    name = _checked(name.strip(), place)
    disk = look(scenario, FILES)
    if disk.unread:
        raise InputFaults(list(disk.unread))
    data = {file: content for file, content in disk.data.items() if content is not None}
    place.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=place, prefix=".beginning-") as beside:
        write_texts(Path(beside, name), data, [])
        write_texts(Path(beside, name, BEFORE), data, [])
        Path(beside, name).rename(place / name)
    return Try(name, place / name, scenario)


def throw_away(attempt: Try) -> None:
    """Remove a try with its plans; the scenario stays as it is. Raises OSError if the disk refuses."""
    shutil.rmtree(attempt.folder)


def changed(attempt: Try) -> tuple[str, ...]:
    """Files that the try has otherwise than the scenario had when it was begun."""
    return _differ(look(attempt.before, FILES), look(attempt.folder, FILES))


def moved(attempt: Try) -> tuple[str, ...]:
    """Files of the scenario that have been changed there since the try was begun."""
    return _differ(look(attempt.before, FILES), look(attempt.of, FILES))


def take_over(attempt: Try, now: datetime) -> Path | None:
    """Put the files that a try changed in the place of the scenario's; the folder that keeps what was there.

    Nothing is written where it raises: FilesChanged if the scenario has since been changed in one of these
    files, InputFaults if the scenario would have faults, OSError if the disk refuses.
    """
    files = changed(attempt)
    if both := tuple(file for file in moved(attempt) if file in files):
        raise FilesChanged(both)
    mine, draft = look(attempt.folder, FILES).texts, Draft(attempt.of)
    draft.take({file: mine[file] for file in files if file in mine}, f"the try {attempt.name}")
    for file in files:
        if file not in mine:
            draft.leave_out(file)
    return draft.save(now)


def _differ(one: OnDisk, other: OnDisk) -> tuple[str, ...]:
    return tuple(file for file in FILES if one.texts.get(file) != other.texts.get(file))


def _checked(name: str, place: Path) -> str:
    """The name of a new try, if it will do."""
    allowed = f"1 to {LONGEST_NAME} letters, digits, spaces and . , ( ) % ' -, a letter or digit first"
    if not _NAME.fullmatch(name):
        remedy = "Write another name, such as: one pan less."
        raise InputFaults([Fault("the try", "name", repr(name), allowed, remedy)])
    if (place / name).exists():
        remedy = "Choose another name, or open that try."
        raise InputFaults(
            [Fault("the try", "name", f"{name!r}, which is there already", "a new name", remedy)]
        )
    return name
