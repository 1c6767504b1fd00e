"""A calendar file that a person gives, as wishes: when they cannot and can come. It is not kept itself."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import date
from pathlib import Path

from scheduler.people_pages.answers import Kind, Wish
from scheduler.people_pages.forms import Refused
from scheduler.views import words

MOST_BYTES = 256 * 1024
READ_S = 10.0
"""How long reading may take; a file of a year takes less than one second."""
NOTE = "from a calendar file"
_CHILD = Path(__file__).with_name("times_in.py")
_NONE = "This is no calendar file that can be read (iCalendar, its name ends in .ics)."


def wishes_in(text: bytes, zone: str, first: date, last: date, read_s: float = READ_S) -> list[Wish]:
    """The wishes of a file on the days ``first`` to ``last``, by the clock of ``zone``.

    Raises Refused, with what to do, for what is no calendar file, is too long or repeats for ever, or says
    nothing of these days.
    """
    if not text:
        raise Refused("No file was chosen, or it is empty. Choose a calendar file (its name ends in .ics).")
    if len(text) > MOST_BYTES:
        raise Refused(f"The file is longer than {MOST_BYTES // 1024} kB. Give one of these weeks alone.", 413)
    command = [sys.executable, "-P", str(_CHILD), zone, first.isoformat(), last.isoformat()]
    try:
        done = subprocess.run(command, input=text, capture_output=True, timeout=read_s, check=False)
    except subprocess.TimeoutExpired:
        raise Refused("The file repeats too much to be read. Give one of these weeks alone.") from None
    if done.returncode:
        raise Refused(_NONE)
    found = json.loads(done.stdout)
    if "refused" in found:
        raise Refused(f"{found['refused']} Nothing of the file was kept.")
    wishes = [
        Wish(kind, date.fromisoformat(day), start, end, NOTE)
        for kind, name in ((Kind.CANNOT, "busy"), (Kind.CAN, "free"))
        for day, start, end in found[name]
    ]
    if not wishes:
        days = f"{words.day_name(first)} to {words.day_name(last)}"
        raise Refused(f"The file says nothing of when you cannot or can come from {days}.")
    return wishes
