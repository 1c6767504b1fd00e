"""The files that a plan was made from, kept beside it: when they change, the plan is still shown as theirs.

home / hash / files / name   the scenario's files as they were when planning began
home / hash / of.json        the folder that they were read from
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from scheduler.drafts.disk import look
from scheduler.drafts.draft import FILES
from scheduler.views.files import PLAN_FILE, write_texts, write_whole


@dataclass(frozen=True, slots=True)
class Kept:
    """A kept plan by the hash of its input, with the folder that holds a copy of that input."""

    input_hash: str
    files: Path


def keep_files(scenario: Path, place: Path) -> None:
    """Copy a scenario's files into ``place``, where its plan is kept. Raises OSError if the disk refuses."""
    whole = scenario.resolve()
    data = {file: content for file, content in look(whole, FILES).data.items() if content is not None}
    kept = place / "files" / whole.name
    write_texts(kept, data, [])
    for file in FILES:
        if file not in data:
            (kept / file).unlink(missing_ok=True)
    write_whole(place / "of.json", json.dumps({"folder": str(whole)}))


def last_planned(home: Path, scenario: Path) -> Kept | None:
    """The newest plan that was made of this scenario folder, whatever its files said then."""
    whole = str(scenario.resolve())
    found = []
    for note in home.glob("*/of.json"):
        plan = note.parent / PLAN_FILE
        try:
            if json.loads(note.read_text(encoding="utf-8"))["folder"] == whole:
                found.append((plan.stat().st_mtime_ns, note.parent))
        except (OSError, ValueError, KeyError):  # no plan there yet, or one that is just being written
            continue
    if not found:
        return None
    _, place = max(found)
    return Kept(place.name, place / "files" / Path(whole).name)


def changed_since(kept: Path, scenario: Path) -> tuple[str, ...]:
    """Files of a scenario that say otherwise than their copies in ``kept``."""
    then, now = look(kept, FILES).texts, look(scenario, FILES).texts
    return tuple(file for file in FILES if then.get(file) != now.get(file))
