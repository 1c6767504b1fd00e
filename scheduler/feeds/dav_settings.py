"""The farm's calendar server (CalDAV): where it is, as whom, and which calendar goes to which collection."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from scheduler.errors import Fault, InputFaults
from scheduler.feeds.entry import title
from scheduler.feeds.settings_file import HERE, REMEDY, read_settings, texts_in

NAMED_BY = "MASLIN_CALDAV"
_COLLECTION = re.compile(r"(?!\.)[A-Za-z0-9._~-]{1,100}")
_TEXTS = ("url", "user", "password", "ca")
_KEYS = (*_TEXTS, "calendars")


@dataclass(frozen=True, slots=True)
class DavServer:
    """A server; ``url`` ends in a slash and is what all collections lie under. ``calendars`` is the title of
    a feed → the name of its collection; ``ca`` is a file of certificates to trust instead of the usual."""

    url: str
    calendars: Mapping[str, str]
    user: str = ""
    password: str = field(default="", repr=False)
    ca: str | None = None

    def chosen(self, feeds: Iterable[str]) -> dict[str, str]:
        """Feed → name of its collection. Raises InputFaults if a calendar is none of ``feeds``."""
        known = {title(feed): feed for feed in feeds}
        allowed = ", ".join(known)
        remedy = "Mend the name under [calendars], or take it out."
        faults = [
            Fault(NAMED_BY, "key calendars", repr(name), allowed, remedy)
            for name in self.calendars
            if name not in known
        ]
        if faults:
            raise InputFaults(faults)
        return {known[name]: collection for name, collection in self.calendars.items()}


def dav_server(environment: Mapping[str, str] = os.environ) -> DavServer:
    """The server in the file that MASLIN_CALDAV names. Raises InputFaults with all that is wrong with it."""
    return _read(*read_settings(NAMED_BY, environment))


def _read(file: str, raw: Mapping[str, Any]) -> DavServer:
    faults: list[Fault] = []

    def refuse(key: str, found: str, allowed: str) -> None:
        faults.append(Fault(file, f"key {key}", found, allowed, REMEDY))

    texts = texts_in(raw, _KEYS, _TEXTS, refuse)
    url = texts["url"].strip()
    if wrong := _wrong_address(url):
        refuse(
            "url",
            wrong,
            "https:// and the folder in which calendars are, as in https://kilbrack.example/calendars/",
        )
    if texts["password"] and not texts["user"]:
        refuse("user", "none", "the name that the password is of")
    if texts["ca"] and not Path(texts["ca"]).is_file():
        refuse("ca", "no file", "a file of certificates (PEM)")
    calendars = raw.get("calendars")
    if not isinstance(calendars, dict) or not calendars:
        refuse("calendars", "none", 'a table of calendars, as in "the kitchen" = "kitchen"')
        calendars = {}
    for name, collection in calendars.items():
        if not isinstance(collection, str) or not _COLLECTION.fullmatch(collection):
            refuse(f"calendars.{name}", "no name of a collection", "letters, digits and . _ ~ -")
        elif list(calendars.values()).index(collection) != list(calendars).index(name):
            refuse(f"calendars.{name}", f"the collection of another, {collection}", "a collection of its own")
    if faults:
        raise InputFaults(faults)
    ca = texts["ca"] or None
    return DavServer(url.rstrip("/") + "/", calendars, texts["user"], texts["password"], ca)


def _wrong_address(url: str) -> str:
    """What is wrong with the address of a server, or nothing; the address itself is not repeated, since
    somebody may have written the password into it."""
    try:
        asked = urlsplit(url)
        host, _ = asked.hostname, asked.port
    except ValueError:
        return "no address"
    if asked.scheme not in {"http", "https"} or not host or asked.query or asked.fragment:
        return "no address"
    if asked.username is not None or asked.password is not None:
        return "a user in the address"
    if asked.scheme == "http" and host not in HERE:
        return "http, which hides no password"
    return "" if url.isascii() and not re.search(r"[\s\\]", url) else "no address"
