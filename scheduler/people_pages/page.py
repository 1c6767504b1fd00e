"""A person's page as HTML: plain, with its own style; it reads without its script, which has it kept."""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path
from zoneinfo import ZoneInfo

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from scheduler.feeds.entry import title
from scheduler.feeds.work import QUARTERS_SAID
from scheduler.people_pages import calendar_file
from scheduler.people_pages.answers import Asked, Kind
from scheduler.people_pages.days import Day, moment, nearness
from scheduler.people_pages.forms import LONGEST_NOTE, MOST_AHEAD
from scheduler.views import words
from scheduler.views.look import DARK, FONT, LIGHT, Look

_HERE = Path(__file__).parent
_templates = Environment(
    loader=FileSystemLoader(_HERE),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_FATES = {
    "open": "not answered yet",
    "accepted": "accepted",
    "declined": "declined: speak with whoever makes the plan",
}


@dataclass(frozen=True, slots=True)
class Told:
    """All that a page says: of ``feed``, at the time ``now`` by the clock of the farm's ``zone``.

    ``newest`` is when something last changed for the person, ``knows`` up to when they said they know;
    ``asked`` is None where answers cannot be read; ``last`` is the last day that is planned. ``refused`` says
    why the fields ``typed`` were not kept.
    """

    feed: str
    farm: str
    zone: ZoneInfo
    now: datetime
    days: Sequence[Day]
    newest: datetime | None
    knows: datetime | None
    asked: Sequence[Asked] | None
    slip: str
    last: date | None = None
    refused: str = ""
    typed: Mapping[str, str] = field(default_factory=dict)

    @property
    def today(self) -> date:
        return self.now.astimezone(self.zone).date()

    def days_in(self) -> list[date]:
        """Days from today on that the person may call off."""
        return [day.day for day in self.days if day.present and day.day >= self.today]


def html(told: Told) -> str:
    """The page; the same for the same words, but for its slip and its time."""
    coming = [each for each in told.days if each.day >= told.today]
    return _templates.get_template("person.html.jinja").render(
        told=told,
        person=title(told.feed),
        style=STYLE,
        keep=f"sha256-{_digest(SCRIPTS['keep.js'])}",
        read=moment(told.now, told.zone),
        coming=[
            (nearness(day.day, told.today), day, care)
            for day, care in zip(coming, _once([day.care for day in coming]), strict=True)
        ],
        gone=[each for each in told.days if each.day < told.today],
        quarters=QUARTERS_SAID,
        planned=moment(told.newest, told.zone) if told.newest else "",
        up_to_date=bool(told.newest and told.knows and told.knows >= told.newest),
        days_in=[(day.isoformat(), words.day_name(day)) for day in told.days_in()],
        wishes=[
            (str(each.wish), each.wish.note, _FATES[each.state])
            for each in told.asked or ()
            if each.wish.day >= told.today
        ],
        typed={name: told.typed.get(name, "") for name in ("do", "kind", "day", "from", "to", "note")},
        kinds=[(Kind.CAN.value, "I can come"), (Kind.CANNOT.value, "I cannot come")],
        first=told.today.isoformat(),
        last=(told.today + MOST_AHEAD).isoformat(),
        longest=LONGEST_NOTE,
        until=words.day_name(told.last) if told.last and told.last >= told.today else "",
        most_kb=calendar_file.MOST_BYTES // 1024,
    )


def _once(cares: Sequence[Sequence[str]]) -> list[list[str]]:
    """The cautions of each day that no day before it has."""
    said: set[str] = set()
    new = []
    for care in cares:
        new.append([text for text in care if text not in said])
        said |= set(care)
    return new


def _colours(look: Look) -> str:
    names = ("paper", "card", "ink", "faint", "line", "leaf", "berry", "amber")
    return ";".join(f"--{name}:{getattr(look, name)}" for name in names)


STYLE = (
    (_HERE / "person.css")
    .read_text(encoding="utf-8")
    .replace("LIGHT", _colours(LIGHT))
    .replace("DARK", _colours(DARK))
    .replace("FONT", FONT)
)
"""The style sheet that stands in each page, in the colours of the dashboard."""

SCRIPTS = {name: (_HERE / name).read_bytes() for name in ("keep.js", "worker.js")}
"""What has a page kept: the first is the page's own, the second the browser's worker for it."""


def _digest(text: bytes) -> str:
    return base64.b64encode(sha256(text).digest()).decode()


_SHARED = {"Referrer-Policy": "no-referrer", "X-Content-Type-Options": "nosniff", "X-Robots-Tag": "noindex"}
HEADERS = _SHARED | {
    "Cache-Control": "private, no-store",
    "Content-Security-Policy": f"default-src 'none'; style-src 'sha256-{_digest(STYLE.encode())}'; "
    f"script-src 'sha256-{_digest(SCRIPTS['keep.js'])}'; worker-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'",
}
"""The page runs its one script, known by its digest, and no other; nobody between keeps or indexes it, and it
tells its address to nobody."""
SCRIPT_HEADERS = _SHARED | {
    "Cache-Control": "no-cache",
    "Content-Security-Policy": "default-src 'none'; connect-src 'self'",
}
"""The worker asks this server and no other."""
