"""Calendars as files: by name for whoever has no server, by secret for a host of plain files."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from scheduler.feeds.entry import title
from scheduler.feeds.ics import PRODID
from scheduler.feeds.routes import PREFIX
from scheduler.feeds.store import Store
from scheduler.views.files import write_texts

_SECRET_FILE = re.compile(r"[A-Za-z0-9_-]{43}\.ics")


def write_named(store: Store, folder: Path) -> list[Path]:
    """Write every published calendar into ``folder`` under its name, all or none; a file in the way that is
    no calendar of ours is kept in a dated folder. Raises OSError if the disk refuses."""
    calendars = store.published().calendars
    texts = dict(zip(file_names(calendars), calendars.values(), strict=True))
    paths = [folder / name for name in texts]
    write_texts(folder, texts, [path for path in paths if path.exists() and not _is_ours(path)])
    return paths


def write_hosted(store: Store, folder: Path) -> int:
    """Write each calendar that has an address to where that address has it, and delete those withdrawn.

    Of other files only such are touched as are named by a secret. Returns how many there are.
    Raises OSError if the disk refuses.
    """
    place = folder / PREFIX.strip("/")
    place.mkdir(parents=True, exist_ok=True)
    texts = store.published().calendars
    current = {f"{store.link(feed)}.ics": texts[feed] for feed in store.linked() if feed in texts}
    for old in place.iterdir():
        if _SECRET_FILE.fullmatch(old.name) and old.name not in current:
            old.unlink()
    write_texts(place, current, [])
    return len(current)


def _is_ours(path: Path) -> bool:
    return f"PRODID:{PRODID}".encode() in path.read_bytes()


def file_names(feeds: Iterable[str]) -> list[str]:
    """A name for each feed's file that any disk takes, no two alike: ``Aoife.ics``."""
    names: list[str] = []
    for feed in feeds:
        plain = "".join(char if char.isalnum() else "-" for char in title(feed)).strip("-") or "calendar"
        name, number = plain, 1
        while f"{name}.ics".casefold() in {each.casefold() for each in names}:
            number += 1
            name = f"{plain}-{number}"
        names.append(f"{name}.ics")
    return names
