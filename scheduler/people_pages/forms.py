"""What a person's page may be sent: "I know", "I can't come", and when they can and cannot come.

A form carries a slip, drawn for each page: a number used once and its digest under the page's secret. Another
site knows no secret and so can send none (cross-site posting); the same slip sent twice is kept once.
"""

from __future__ import annotations

import base64
import hmac
import re
import secrets
import unicodedata
from collections.abc import Collection, Iterable, Mapping
from datetime import date, datetime, timedelta
from io import BytesIO
from urllib.parse import parse_qsl

from python_multipart import parse_form
from python_multipart.multipart import Field, File

from scheduler.people_pages.answers import DAY_MINUTES, Kind, Wish
from scheduler.views import words

LONGEST_NOTE = 200
MOST_AHEAD = timedelta(days=366)
STEP = 5
"""Minutes: shifts are planned in steps of five."""
MOST_FIELDS = 12
_NO_FORM = "This was no form of this page. Open the page again and use its buttons."
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)(?::00)?")
_SHAPES = {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}


class Refused(Exception):
    """What was sent cannot be kept; the text says what of it, what is allowed, and the way out. ``status`` is
    that of HTTP."""

    def __init__(self, why: str, status: int = 400) -> None:
        self.status = status
        super().__init__(why)


def new_slip(secret: str) -> str:
    """A slip for one page at a secret."""
    once = secrets.token_urlsafe(12)
    return f"{once}.{_signed(secret, once)}"


def is_slip(secret: str, slip: str) -> bool:
    """Whether a slip was drawn for a page at this secret; compared in constant time."""
    once, _, signature = slip.partition(".")
    return hmac.compare_digest(_signed(secret, once).encode(), signature.encode("utf-8", "replace"))


def _signed(secret: str, once: str) -> str:
    digest = hmac.digest(secret.encode(), b"form " + once.encode("utf-8", "replace"), "sha256")
    return base64.urlsafe_b64encode(digest).decode().rstrip("=")


def is_with_file(kind: str) -> bool:
    """Whether a content type is that of a form that brings a file."""
    return kind.partition(";")[0].strip().lower() == "multipart/form-data"


def fields_of(body: bytes) -> dict[str, str]:
    """The fields of a form as a browser sends it, the first of each name. Raises Refused if it is none."""
    try:
        pairs = parse_qsl(body.decode("ascii"), True, False, errors="strict", max_num_fields=MOST_FIELDS)
    except ValueError:
        raise Refused(_NO_FORM) from None
    return _firsts(pairs)


def fields_and_file(body: bytes, kind: str) -> tuple[dict[str, str], bytes]:
    """The fields of a form that brings a file (RFC 7578), and the file's contents, empty where there is none;
    its name is not looked at. Raises Refused if it is no such form."""
    pairs: list[tuple[str, str]] = []
    files: list[bytes] = []

    def take(part: Field | File) -> None:
        if len(pairs) + len(files) == MOST_FIELDS:
            raise ValueError("more than this page has")
        if isinstance(part, Field):
            pairs.append(((part.field_name or b"").decode(), (part.value or b"").decode()))
        else:
            part.file_object.seek(0)
            files.append(part.file_object.read())

    try:
        parse_form({"Content-Type": kind.encode("latin-1")}, BytesIO(body), take, take)
    except ValueError:
        raise Refused(_NO_FORM) from None
    return _firsts(pairs), files[0] if files else b""


def _firsts(pairs: Iterable[tuple[str, str]]) -> dict[str, str]:
    found: dict[str, str] = {}
    for key, value in pairs:
        found.setdefault(key, value)
    return found


def known_plan(fields: Mapping[str, str], newest: datetime | None) -> datetime:
    """Up to which change a person knows the plan. Raises Refused for one that was never published."""
    try:
        plan = datetime.fromisoformat(fields.get("plan", ""))
    except ValueError:
        plan = None
    if plan is None or plan.tzinfo is None or newest is None or plan > newest:
        raise Refused("That plan is not known here. Open the page again and press “I know” once more.")
    return plan


def away(fields: Mapping[str, str], days: Collection[date]) -> Wish:
    """A person cannot come on one of ``days``, those on which they are in. Raises Refused for any other."""
    day = _day(fields)
    if day not in days:
        those = ", ".join(map(words.day_name, sorted(days))) or "none"
        raise Refused(
            f"You are not in on {words.day_name(day)}, or that day is over. Days to choose from: {those}."
        )
    return Wish(Kind.CANNOT, day, note=_note(fields))


def wish(fields: Mapping[str, str], today: date) -> Wish:
    """When a person can or cannot come. Raises Refused with what is allowed."""
    kind, day = _kind(fields), _day(fields)
    if not today <= day <= today + MOST_AHEAD:
        last = today + MOST_AHEAD
        raise Refused(
            f"{words.day_name(day)} {day.year} cannot be chosen: choose a day from today to "
            f"{words.day_name(last)} {last.year}."
        )
    if kind is Kind.CANNOT and not fields.get("from") and not fields.get("to"):
        return Wish(kind, day, note=_note(fields))
    start, end = _minutes(fields, "from"), _minutes(fields, "to")
    if start >= end:
        raise Refused(
            f"From {words.clock(start)} to {words.clock(end)} is no time: “to” must be later than “from”."
        )
    return Wish(kind, day, start, end, _note(fields))


def _kind(fields: Mapping[str, str]) -> Kind:
    try:
        return Kind(fields.get("kind", ""))
    except ValueError:
        raise Refused("Choose “I can come” or “I cannot come”.") from None


def _day(fields: Mapping[str, str]) -> date:
    text = fields.get("day", "")
    try:
        return datetime.strptime(text, "%Y-%m-%d").date()
    except ValueError:
        raise Refused("No day was chosen. Choose one, written as in 2026-07-08.") from None


def _minutes(fields: Mapping[str, str], name: str) -> int:
    text = fields.get(name, "").strip()
    match = _CLOCK.fullmatch(text)
    minutes = DAY_MINUTES if text == "24:00" else 60 * int(match[1]) + int(match[2]) if match else None
    if minutes is None or minutes % STEP:
        raise Refused(
            f"“{name}” must be a time as in 08:30, from 00:00 to 24:00 in steps of {STEP} minutes. "
            "Only who cannot come all day may leave both times empty."
        )
    return minutes


def _note(fields: Mapping[str, str]) -> str:
    """A note on one line, without characters that cannot be seen; whoever shows it escapes it."""
    text = unicodedata.normalize("NFC", fields.get("note", ""))
    seen = "".join(" " if unicodedata.category(char) in _SHAPES else char for char in text)
    note = " ".join(seen.split())
    if len(note) > LONGEST_NOTE:
        raise Refused(f"The note has {len(note)} characters; at most {LONGEST_NOTE} are kept. Shorten it.")
    return note
