"""Serving people's pages: each at the secret of the person's calendar, the scripts that have them kept, and
nothing else under the prefix."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.routing import Route

from scheduler.errors import CannotKeep, InputFaults
from scheduler.feeds.entry import is_person
from scheduler.feeds.routes import Shelf, Stamp, server_at, stamp_of
from scheduler.feeds.store import PUBLISHED, Published, calendars, read_published
from scheduler.people_pages import calendar_file, forms
from scheduler.people_pages.answers import MOST_OPEN, Answers, TooMany, Wish
from scheduler.people_pages.days import days_of, last_day, newest
from scheduler.people_pages.page import HEADERS, SCRIPT_HEADERS, SCRIPTS, Told, html

PREFIX = "/mine/"
MOST_BYTES = 16 * 1024
"""Of the headers of a request, and of its body without the file that it may bring."""

_TOO_LONG = (
    f"More than {MOST_BYTES} bytes were sent, or a file of more than {calendar_file.MOST_BYTES // 1024} kB. "
    "Shorten the note, or give a file of these weeks alone."
)

Clock = Callable[[], datetime]


def routes(home: Path, clock: Clock = lambda: datetime.now(UTC)) -> list[Route]:
    """The routes of everybody's page of the kitchens whose plans are kept in ``home``.

    They answer whatever lies under the prefix, so that what is no page is not found, instead of being given
    the dashboard's.
    """
    desk = Desk(calendars(home), clock)

    async def answer(request: Request) -> Response:
        # No log line here: an address is a secret.
        if sum(len(key) + len(value) for key, value in request.headers.raw) > MOST_BYTES:
            return _plain(431, f"The headers are longer than {MOST_BYTES} bytes\n")
        secret = str(request.path_params.get("asked", ""))
        if request.method in {"GET", "HEAD"}:
            if secret in SCRIPTS:
                return Response(SCRIPTS[secret], 200, SCRIPT_HEADERS, "text/javascript")
            return await run_in_threadpool(desk.show, secret)
        if request.method != "POST":
            return NOT_FOUND
        kind = request.headers.get("content-type", "")
        most = MOST_BYTES + (calendar_file.MOST_BYTES if forms.is_with_file(kind) else 0)
        body = await _body(request, most)
        return await run_in_threadpool(desk.take, secret, body, kind)

    methods = ["GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"]
    return [
        Route(path, answer, methods=methods, include_in_schema=False)
        for path in (PREFIX + "{asked:path}", PREFIX.rstrip("/"))
    ]


def page_address(base: str, secret: str) -> str:
    """The address of a page on a server at ``base``. Raises InputFaults if that is no address of one."""
    return f"{server_at(base)}{PREFIX}{secret}"


async def _body(request: Request, most: int) -> bytes | None:
    """The body; None if it is longer than allowed, and then the rest of it is not read."""
    got = b""
    try:
        async for piece in request.stream():
            got += piece
            if len(got) > most:
                return None
    except ClientDisconnect:
        return None
    return got


def _in_file(file: bytes, told: Told) -> list[Wish]:
    """The wishes of a calendar file on the days of the plan that are to come."""
    if told.last is None or told.last < told.today:
        raise forms.Refused("No day from today on is planned yet. Give the file when there is a plan.")
    return calendar_file.wishes_in(file, told.zone.key, told.today, told.last)


def _plain(status: int, text: str) -> Response:
    return Response(text, status, HEADERS, "text/plain")


def _page(told: Told, status: int) -> Response:
    return Response(html(told), status, HEADERS, "text/html")


NOT_FOUND = _plain(404, "Not found\n")


class Desk:
    """Shows pages and takes answers. What is published is read again only when the file has changed."""

    def __init__(self, folder: Path, clock: Clock) -> None:
        self._shelf = Shelf(folder)
        self._clock = clock
        self._read: dict[Path, tuple[Stamp, Published]] = {}

    def show(self, secret: str) -> Response:
        """The page at a secret."""
        told = self._told(secret)
        return NOT_FOUND if told is None else _page(told[0], 200)

    def take(self, secret: str, body: bytes | None, kind: str = "") -> Response:
        """Keep what was sent, and lead back to the page; or the page, saying why not, as it was filled in."""
        found = self._told(secret)
        if found is None:
            return NOT_FOUND
        told, answers = found
        fields: Mapping[str, str] = {}
        file = b""
        try:
            if body is None:
                raise forms.Refused(_TOO_LONG, 413)
            if forms.is_with_file(kind):
                fields, file = forms.fields_and_file(body, kind)
            else:
                fields = forms.fields_of(body)
            if not forms.is_slip(secret, fields.get("slip", "")):
                raise forms.Refused("The form was not one of this page as it is now. Send it again.", 403)
            self._keep(fields, file, told, answers)
        except forms.Refused as refused:
            return _page(replace(told, refused=str(refused), typed=fields), refused.status)
        except TooMany:
            why = f"No more than {MOST_OPEN} of your wishes can wait for an answer. Wait for it, or call."
            return _page(replace(told, refused=why, typed=fields), 400)
        except CannotKeep as error:
            why = f"It could not be kept just now ({error.why}). Send it again in a moment, or call."
            return _page(replace(told, refused=why, typed=fields), 503)
        # Relative, so that a proxy may serve the page under a path of its own.
        return Response(status_code=303, headers={**HEADERS, "Location": secret})

    def _keep(self, fields: Mapping[str, str], file: bytes, told: Told, answers: Answers) -> None:
        now, slip = self._clock(), fields["slip"]
        match fields.get("do"):
            case "know":
                answers.know(told.feed, forms.known_plan(fields, told.newest), now)
            case "away":
                answers.ask(slip, told.feed, forms.away(fields, told.days_in()), now)
            case "wish":
                answers.ask(slip, told.feed, forms.wish(fields, told.today), now)
            case "file":
                answers.ask_all(slip, told.feed, _in_file(file, told), now)
            case _:
                raise forms.Refused("No button of this page was pressed. Open it again and press one.")

    def _told(self, secret: str) -> tuple[Told, Answers] | None:
        """What the page at a secret says, and where its answers go; None where there is no such page."""
        owner = self._shelf.owner(secret)
        if owner is None or not is_person(owner[1]):
            return None
        kitchen, feed = owner
        published = self._published(kitchen / PUBLISHED)
        if feed not in published.calendars:
            return None
        answers = Answers(kitchen)
        try:
            asked, knows = answers.asked(feed), answers.seen().get(feed)
        except CannotKeep:
            asked, knows = None, None  # the plan can still be read
        zone = ZoneInfo(published.time_zone)
        revisions = published.revisions
        told = Told(
            feed, published.farm, zone, self._clock(), days_of(feed, revisions),
            newest(feed, revisions), knows, asked, forms.new_slip(secret), last_day(revisions),
        )  # fmt: skip
        return told, answers

    def _published(self, file: Path) -> Published:
        stamp = stamp_of(file)
        known = self._read.get(file)
        if known is None or known[0] != stamp:
            try:
                published = read_published(file)
            except (OSError, InputFaults):
                published = Published()  # a damaged file opens nothing
            known = self._read[file] = stamp, published
        return known[1]
