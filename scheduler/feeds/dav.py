"""A collection on a calendar server (CalDAV, RFC 4791): listed, made, and its events put, read and removed.

Every request has a time limit and is asked again a few times where the server may answer later. Events are
put and removed only as they were when they were listed (RFC 9110, 13.1), so what somebody writes meanwhile is
never written over, and a request whose answer was lost does no harm when it is asked again.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from urllib.parse import urljoin

import requests
from caldav.davclient import DAVClient, DAVResponse
from caldav.elements import cdav, dav
from caldav.elements.base import BaseElement
from caldav.lib.error import AuthorizationError, DAVError
from lxml import etree

from scheduler.feeds.dav_settings import DavServer

TRIES = 3
FIRST_WAIT_S = 2.0
"""Before the second try; each further wait is twice as long."""
ANSWER_S = 20.0
"""How long to wait for an answer to one request."""
LONGEST_S = 600.0
"""How long a server may take over all that it is sent: what is left then is sent the next time."""
_LATER = {408, 425, 429, 500, 502, 503, 504}
"""Answers that may be other ones in a moment (RFC 9110, 15; RFC 6585, 4; RFC 8470, 5.2)."""
_SAYS = {
    301: "it has moved: give the new address",
    405: "it makes no calendars: make the collection by hand",
    409: "the folder in which calendars are to be made is not there",
    413: "it is too long for the server",
    507: "there is no room left on the server",
}
_ENDING = ".ics"

# The library tells its log of answers that are odd, with a trace; what was wrong is told by us, in one line.
logging.getLogger("caldav").addHandler(logging.NullHandler())
logging.getLogger("caldav").propagate = False


class NotTaken(Exception):
    """The server does not do what it was asked; the text says why. Where ``gone`` the server itself does not
    answer or lets nobody in, so that nothing else need be asked of it."""

    def __init__(self, why: str, gone: bool = False) -> None:
        self.gone = gone
        super().__init__(why)


class Changed(Exception):
    """An event is no more as it was listed: somebody else wrote, or this did and the answer was lost."""


class _Later(NotTaken):
    """The server may do it later."""


class Server:
    """A connection to a server; ``wait`` is given seconds between tries, ``answer_s`` is the time limit of a
    request."""

    def __init__(
        self, server: DavServer, wait: Callable[[float], None] = time.sleep, answer_s: float = ANSWER_S
    ) -> None:
        self._wait, self._until = wait, time.monotonic() + LONGEST_S
        self.url = server.url
        self._client = DAVClient(
            server.url,
            username=server.user or None,
            password=server.password or None,
            auth_type="basic" if server.user else None,  # else the library asks without them first
            timeout=answer_s,  # type: ignore[arg-type]  # handed on to requests, which takes parts of a second
            ssl_verify_cert=server.ca or True,
            enable_rfc6764=False,
        )
        self._client.session.max_redirects = 0  # a write that is led elsewhere becomes a read there

    def ask(
        self, method: str, url: str, body: str = "", headers: Mapping[str, str] | None = None
    ) -> DAVResponse:
        """The answer to a request, good or "not found". Raises NotTaken; Changed where a condition failed."""
        pause = FIRST_WAIT_S
        for left in reversed(range(TRIES)):
            try:
                return self._once(method, url, body, headers or {})
            except _Later:
                if not left or time.monotonic() > self._until:
                    raise
            self._wait(pause)
            pause *= 2
        raise AssertionError

    def _once(self, method: str, url: str, body: str, headers: Mapping[str, str]) -> DAVResponse:
        if time.monotonic() > self._until:
            raise _Later(f"the server took longer than {LONGEST_S / 60:.0f} minutes over it all", gone=True)
        with _told():
            got = self._client.request(url, method, body, headers)
        if got.status == 412:
            raise Changed
        if 200 <= got.status < 300 or got.status == 404:
            return got
        said = _SAYS.get(got.status) or " ".join(str(got.reason).split())[:100]
        raise (_Later if got.status in _LATER else NotTaken)(f"the server said {got.status}, {said}")


@contextmanager
def _told() -> Iterator[None]:
    """What goes wrong on the way, in words; none of them holds the password."""
    try:
        yield
    except AuthorizationError as error:
        said = " ".join(error.reason.split())[:100]
        why = f"the server refuses ({said}): are user and password right, and may this user write there?"
        raise NotTaken(why, gone=True) from error
    except requests.exceptions.SSLError as error:
        raise NotTaken(
            "the server's certificate is not trusted, or it does not speak TLS", gone=True
        ) from error
    except requests.exceptions.TooManyRedirects as error:
        raise NotTaken(f"the server said {_SAYS[301]}", gone=True) from error
    except requests.exceptions.Timeout as error:
        raise _Later("the server did not answer in time", gone=True) from error
    except (requests.exceptions.RequestException, OSError) as error:
        raise _Later("no connection to the server", gone=True) from error
    except (etree.LxmlError, DAVError, AttributeError, TypeError, ValueError) as error:
        raise NotTaken("the server's answer is none of a calendar server: is the address right?") from error


class Collection:
    """One calendar on a server; its events are files named by UID."""

    def __init__(self, server: Server, name: str) -> None:
        self._server = server
        self.address = urljoin(server.url, name) + "/"

    def etags(self) -> dict[str, str] | None:
        """UID → tag of each file there, ours and others'; None where there is no collection."""
        asked = dav.Propfind() + (dav.Prop() + dav.GetEtag())
        got = self._server.ask("PROPFIND", self.address, _xml(asked), {"Depth": "1"})
        if got.status == 404:
            return None
        with _told():
            if got.status != 207:
                raise ValueError("no list")
            found = got.find_objects_and_props()
            names = {href.rpartition("/")[2]: properties for href, properties in found.items()}
            return {
                name.removesuffix(_ENDING): properties[dav.GetEtag.tag].text or ""
                for name, properties in names.items()
                if name.endswith(_ENDING) and dav.GetEtag.tag in properties
            }

    def make(self, name: str) -> None:
        """Make the collection, shown under a name."""
        events = cdav.SupportedCalendarComponentSet() + cdav.Comp("VEVENT")
        asked = cdav.Mkcalendar() + (dav.Set() + (dav.Prop() + dav.DisplayName(name) + events))
        try:
            got = self._server.ask("MKCALENDAR", self.address, _xml(asked))
        except NotTaken as error:
            if self.etags() is not None:
                return  # the answer to an earlier try was lost
            raise error
        if got.status == 404:
            raise NotTaken(f"the server said 404, {_SAYS[409]}")

    def read(self, uid: str) -> str:
        """The text of an event; nothing where there is none."""
        got = self._server.ask("GET", self._file(uid))
        with _told():
            return "" if got.status == 404 else str(got.raw)

    def put(self, uid: str, text: str, etag: str | None) -> str:
        """Write an event, a new one or (given its tag) over the one that was listed; its new tag, or nothing
        where the server gives none. Raises Changed if another is there by now."""
        as_it_was = {"If-None-Match": "*"} if etag is None else {"If-Match": etag} if etag else {}
        kind = {"Content-Type": "text/calendar; charset=utf-8"}
        got = self._server.ask("PUT", self._file(uid), text, {**kind, **as_it_was})
        if got.status == 404:
            raise NotTaken("the server said 404: somebody removed the collection meanwhile")
        return str(got.headers.get("ETag", ""))

    def remove(self, uid: str, etag: str) -> None:
        """Delete an event as it was listed. Raises Changed if another is there by now."""
        self._server.ask("DELETE", self._file(uid), "", {"If-Match": etag} if etag else {})

    def _file(self, uid: str) -> str:
        return f"{self.address}{uid}{_ENDING}"


def _xml(element: BaseElement) -> str:
    return str(etree.tostring(element.xmlelement(), encoding="unicode"))
