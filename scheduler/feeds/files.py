"""Calendars as files: by name for whoever has no server, by secret for a host of plain files."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from scheduler.feeds.entry import title
from scheduler.feeds.routes import PREFIX
from scheduler.feeds.store import Store

_SECRET_FILE = re.compile(r"[A-Za-z0-9_-]{43}\.ics")


def write_named(store: Store, folder: Path) -> list[Path]:
    """Write every published calendar into ``folder`` under its name. Raises OSError if the disk refuses."""
    texts = store.published().calendars
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for feed, name in zip(texts, file_names(texts), strict=True):
        (folder / name).write_bytes(texts[feed].encode())
        written.append(folder / name)
    return written


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
    for name, text in current.items():
        (place / name).write_bytes(text.encode())
    return len(current)


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
