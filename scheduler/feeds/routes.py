"""Serving calendars: each at a secret address, and nothing else under the same prefix."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from hashlib import sha256
from hmac import compare_digest
from pathlib import Path
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from scheduler.errors import Fault, InputFaults
from scheduler.feeds.store import LINKS, PUBLISHED, calendars, read_links

PREFIX = "/feeds/"
ENDING = ".ics"
HEADERS = {
    "Cache-Control": "private, no-cache",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Robots-Tag": "noindex",
}
"""A phone asks each time whether there is news; nobody between keeps, indexes or passes on the address."""

_PLAIN = re.compile(r"/\w+/[\w-]*(\.\w+)*", re.ASCII)

Stamp = tuple[int, int, int]


def routes(home: Path) -> list[Route]:
    """The routes of all feeds of the kitchens whose plans are kept in ``home``.

    They answer whatever lies under the prefix, so that what is no feed is not found, instead of being given
    the dashboard's page.
    """
    shelf = Shelf(calendars(home))

    async def answer(request: Request) -> Response:
        # No log line here: an address is a secret.
        asked = str(request.path_params.get("asked", ""))
        found = shelf.find(asked.removesuffix(ENDING)) if asked.endswith(ENDING) else None
        if found is None or request.method not in {"GET", "HEAD"}:
            return Response("Not found\n", 404, HEADERS, "text/plain")
        text, tag = found
        headers = HEADERS | {"ETag": tag}
        if _has(request.headers.get("if-none-match", ""), tag):
            return Response(status_code=304, headers=headers)
        return Response(text, 200, headers, "text/calendar")

    methods = ["GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"]
    return [
        Route(path, answer, methods=methods, include_in_schema=False)
        for path in (PREFIX + "{asked:path}", PREFIX.rstrip("/"))
    ]


def address(base: str, secret: str) -> str:
    """The address of a feed on a server at ``base``. Raises InputFaults if that is no address of one."""
    return f"{server_at(base)}{PREFIX}{secret}{ENDING}"


def reaches_phones(link: str) -> bool:
    """Whether an address is more than this machine's own."""
    return urlsplit(link).hostname not in {"localhost", "127.0.0.1", "::1"}


def to_subscribe(link: str) -> str:
    """The same address for a phone's camera: a calendar program subscribes to its scheme, a browser would
    fetch the other once and forget it."""
    return "webcal" + link.removeprefix("https").removeprefix("http")


def server_at(base: str) -> str:
    """A server's address without a slash at its end. Raises InputFaults if it is none."""
    asked = urlsplit(base)
    if asked.scheme not in {"http", "https"} or not asked.hostname or asked.query or asked.fragment:
        remedy = "Write it as in https://calendars.example.org, or leave it out."
        raise InputFaults([Fault("MASLIN_ADDRESS", "", repr(base), "http:// or https:// and a host", remedy)])
    return base.rstrip("/")


def _has(asked: str, tag: str) -> bool:
    """Whether If-None-Match names the tag or any (RFC 9110, 13.1.2: weak comparison)."""
    given = [each.strip().removeprefix("W/") for each in asked.split(",")]
    return tag in given or given == ["*"]


class Fence:
    """Finds nothing at paths under ``prefixes`` that no address of ours has, such as ``..`` and ``%00``: the
    dashboard's server would turn them away in words of its own."""

    def __init__(self, app: ASGIApp, prefixes: Sequence[str]) -> None:
        self._app = app
        self._ours = tuple(prefixes)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        path = scope.get("path", "")
        if scope["type"] == "http" and path.startswith(self._ours) and not _PLAIN.fullmatch(path):
            await Response("Not found\n", 404, HEADERS, "text/plain")(scope, receive, send)
        else:
            await self._app(scope, receive, send)


class Shelf:
    """Published calendars by secret, read again only when a file has changed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._links: dict[Path, tuple[Stamp, dict[str, bytes]]] = {}
        self._texts: dict[Path, tuple[Stamp, dict[str, tuple[bytes, str]]]] = {}

    def find(self, secret: str) -> tuple[bytes, str] | None:
        """Text and entity tag of the calendar at a secret; None where there is none."""
        found = self.owner(secret)
        return None if found is None else self._read_texts(found[0] / PUBLISHED).get(found[1])

    def owner(self, secret: str) -> tuple[Path, str] | None:
        """The folder of the kitchen and the feed that a secret is of; None where it is of none.

        Digests of one length are compared in constant time, and with every secret, whichever it is.
        """
        given = sha256(secret.encode("utf-8", "surrogatepass")).digest()
        found = None
        for kitchen in sorted(self.folder.glob("*")):
            for feed, digest in self._read_links(kitchen / LINKS).items():
                if compare_digest(digest, given):
                    found = kitchen, feed
        return found

    def _read_links(self, file: Path) -> dict[str, bytes]:
        stamp = stamp_of(file)
        known = self._links.get(file)
        if known is None or known[0] != stamp:
            try:
                links = read_links(file)
            except (OSError, InputFaults):
                links = {}  # a damaged file opens nothing
            digests = {feed: sha256(secret.encode()).digest() for feed, secret in links.items()}
            known = self._links[file] = stamp, digests
        return known[1]

    def _read_texts(self, file: Path) -> dict[str, tuple[bytes, str]]:
        stamp = stamp_of(file)
        known = self._texts.get(file)
        if known is None or known[0] != stamp:
            try:
                texts = json.loads(file.read_bytes())["calendars"]
            except (OSError, ValueError, KeyError, TypeError):
                texts = {}
            known = self._texts[file] = stamp, {feed: _tagged(text) for feed, text in texts.items()}
        return known[1]


def _tagged(text: str) -> tuple[bytes, str]:
    whole = text.encode()
    return whole, f'"{sha256(whole).hexdigest()[:32]}"'


def stamp_of(file: Path) -> Stamp:
    """What tells one writing of a file from the next; a file is always replaced, never written over."""
    try:
        stat = file.stat()
    except OSError:
        return 0, 0, 0
    return stat.st_mtime_ns, stat.st_size, stat.st_ino
