"""What stands on the disk: the published calendars of each kitchen, and the secret addresses.

    calendars/KITCHEN/published.json   entries with their history, each calendar's text, messages of change
    calendars/KITCHEN/links.json       the secret of each feed that has an address
    calendars/KITCHEN/sent.json        what a calendar server was last sent

All are written whole or not at all, for their owner's eyes alone (mode 0600, the folder 0700). Secrets stand
there as they are: the owner must be able to show an address again, since a new one silences the phones that
have the old, and who can read this file can read the plans beside it, which say more.
"""

from __future__ import annotations

import json
import os
import secrets
import tempfile
import threading
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import Any

from scheduler.errors import Fault, InputFaults
from scheduler.feeds.entry import Entry
from scheduler.feeds.messages import Message
from scheduler.feeds.revising import Revision

PUBLISHED, LINKS, SENT = "published.json", "links.json", "sent.json"
SCHEMA = 1
SECRET_BYTES = 32
"""256 bits, drawn by the operating system."""

_lock = threading.Lock()


@dataclass(frozen=True, slots=True)
class Published:
    """What phones are told: all ``revisions``, the text of each feed's calendar, and what each person is told
    of the last change for them; ``time_zone`` is that of the clocks of ``farm``."""

    revisions: tuple[Revision, ...] = ()
    calendars: Mapping[str, str] = field(default_factory=dict)
    farm: str = ""
    time_zone: str = "Etc/UTC"
    messages: Mapping[str, Message] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Sent:
    """An event as a calendar server has it: digest of its text, and the tag that the server gave it (nothing
    where it gave none)."""

    digest: str
    etag: str


class Store:
    """The files of one kitchen under ``home``, the folder in which plans are kept."""

    def __init__(self, home: Path, kitchen_id: str) -> None:
        self.kitchen_id = kitchen_id
        self.folder = calendars(home) / kitchen_id

    def published(self) -> Published:
        """What was published last; nothing if nothing was. Raises InputFaults if the file is damaged."""
        return read_published(self.folder / PUBLISHED)

    def write(self, published: Published) -> None:
        """Replace what is published. Raises OSError if the disk refuses."""
        raw = {
            "schema": SCHEMA,
            "revisions": [asdict(each) for each in published.revisions],
            "calendars": dict(published.calendars),
            "farm": published.farm,
            "time_zone": published.time_zone,
            "messages": {feed: asdict(each) for feed, each in published.messages.items()},
        }
        self._write_whole(PUBLISHED, json.dumps(raw, default=_as_text, ensure_ascii=False))

    def sent(self) -> dict[str, dict[str, Sent]]:
        """Address of a collection → UID → what it was sent last. Raises InputFaults for a damaged file."""
        file = self.folder / SENT
        try:
            return {
                address: {uid: Sent(*each) for uid, each in events.items()}
                for address, events in (_read_json(file) or {}).items()
            }
        except (AttributeError, TypeError) as error:
            raise _damaged(file, f"{type(error).__name__} {error}") from error

    def write_sent(self, address: str, events: Mapping[str, Sent]) -> None:
        """Replace what a collection was last sent. Raises OSError if the disk refuses."""
        with _lock:
            raw = {
                place: {uid: [each.digest, each.etag] for uid, each in kept.items()}
                for place, kept in {**self.sent(), address: events}.items()
            }
            self._write_whole(SENT, json.dumps(raw))

    def link(self, feed: str) -> str | None:
        """The secret of a feed's address, or None if it has none."""
        return read_links(self.folder / LINKS).get(feed)

    def linked(self) -> tuple[str, ...]:
        """Feeds that have an address."""
        return tuple(read_links(self.folder / LINKS))

    def renew(self, feed: str) -> str:
        """Give a feed a new secret, its first or another; the old one is good for nothing from now on."""
        with _lock:
            links = read_links(self.folder / LINKS)
            links[feed] = secrets.token_urlsafe(SECRET_BYTES)
            self._write_whole(LINKS, json.dumps(links, ensure_ascii=False))
        return links[feed]

    def withdraw(self, feed: str) -> None:
        """Take a feed's address away; it may have another later on."""
        with _lock:
            links = read_links(self.folder / LINKS)
            if links.pop(feed, None) is not None:
                self._write_whole(LINKS, json.dumps(links, ensure_ascii=False))

    def _write_whole(self, name: str, text: str) -> None:
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=self.folder, prefix=".writing-")  # made with mode 0600
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
                out.write(text)
            os.replace(beside, self.folder / name)
        except OSError:
            Path(beside).unlink(missing_ok=True)
            raise


def calendars(home: Path) -> Path:
    """The folder that holds every kitchen's."""
    return home / "calendars"


def read_published(file: Path) -> Published:
    """Raises InputFaults if there is a file and it is not one of ours."""
    raw = _read_json(file)
    if raw is None:
        return Published()
    try:
        if raw["schema"] != SCHEMA:
            raise ValueError(f"schema {raw['schema']}")
        return Published(
            tuple(_revision(each) for each in raw["revisions"]),
            dict(raw["calendars"]),
            # Published before there were pages and messages: they come with the next publishing.
            raw.get("farm", ""),
            raw.get("time_zone", "Etc/UTC"),
            {feed: _message(each) for feed, each in raw.get("messages", {}).items()},
        )
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise _damaged(file, f"{type(error).__name__} {error}") from error


def read_links(file: Path) -> dict[str, str]:
    """Feed → secret. Raises InputFaults if there is a file and it is not one of ours."""
    raw = _read_json(file) or {}
    if not all(isinstance(secret, str) and len(secret) >= SECRET_BYTES for secret in raw.values()):
        raise _damaged(file, "a secret that is none")
    return raw


def _read_json(file: Path) -> dict[str, Any] | None:
    try:
        raw = json.loads(file.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return None
    except ValueError as error:
        raise _damaged(file, "no JSON") from error
    if not isinstance(raw, dict):
        raise _damaged(file, "no JSON object")
    return raw


def _damaged(file: Path, found: str) -> InputFaults:
    remedy = "Move it away: phones then need publishing once more, and new addresses if it held theirs."
    return InputFaults([Fault(str(file), "", found, f"what this program wrote, schema {SCHEMA}", remedy)])


def _revision(raw: dict[str, Any]) -> Revision:
    entry = raw["entry"]
    return Revision(
        Entry(**entry | {"day": date.fromisoformat(entry["day"])}),
        raw["uid"],
        raw["sequence"],
        datetime.fromisoformat(raw["created"]),
        datetime.fromisoformat(raw["changed"]),
        raw["cancelled"],
    )


def _message(raw: dict[str, Any]) -> Message:
    return Message(datetime.fromisoformat(raw["changed"]), raw["text"])


def _as_text(value: object) -> str:
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"cannot write {type(value).__name__}")
