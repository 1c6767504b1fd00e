"""The list that faults are gathered in, and how a found value is shown."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from itertools import islice

from scheduler.errors import Fault, InputFaults

MOST_IN_ONE_FILE = 200
"""After so many faults a file is not looked at further; one line says so."""

SHOWN_CHARACTERS = 60
MOST_COMPARED = 500


def shown(value: object) -> str:
    """A found value in quotes, cut to a readable length, with unprintable characters escaped."""
    text = value if isinstance(value, str) else str(value)
    if len(text) > SHOWN_CHARACTERS:
        text = text[: SHOWN_CHARACTERS - 1] + "…"
    return "'" + "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text) + "'"


def nearest(word: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """The known name that is closest to ``word``, if any is close (1 is equal but for capitals)."""
    by_fold = {name.casefold(): name for name in islice(known, MOST_COMPARED)}
    close = get_close_matches(word.casefold(), list(by_fold), n=1, cutoff=cutoff)
    return by_fold[close[0]] if close else None


def did_you_mean(word: str, known: Iterable[str], otherwise: str) -> str:
    """A remedy that names the nearest known name."""
    close = nearest(word, known)
    return f"Did you mean '{close}'?" if close else otherwise


def listed(names: Iterable[str], most: int = 12) -> str:
    """Names in one line; a long list is cut."""
    every = list(names)
    more = f" and {len(every) - most} more" if len(every) > most else ""
    return ", ".join(every[:most]) + more if every else "none"


class FaultList:
    """Gathers faults of all files; equal faults count once."""

    def __init__(self) -> None:
        self._faults: dict[str, set[Fault]] = {}

    def add(self, file: str, where: str, found: str, allowed: str, remedy: str) -> None:
        """Note one fault, unless its file has had enough of them."""
        faults = self._faults.setdefault(file, set())
        if len(faults) <= MOST_IN_ONE_FILE:
            faults.add(Fault(file, where, found, allowed, remedy))

    def full(self, file: str) -> bool:
        """Whether the file has had so many faults that reading it further is pointless."""
        return self.count(file) > MOST_IN_ONE_FILE

    def count(self, file: str) -> int:
        return len(self._faults.get(file, ()))

    def has(self, file: str) -> bool:
        return self.count(file) > 0

    def raise_if_any(self) -> None:
        """Raise InputFaults with every fault, sorted by file and place."""
        if self._faults:
            raise InputFaults([fault for file in sorted(self._faults) for fault in self._sorted(file)])

    def _sorted(self, file: str) -> list[Fault]:
        faults = sorted(self._faults[file], key=_order)
        if not self.full(file):
            return faults
        stop = Fault(
            file,
            "",
            f"more than {MOST_IN_ONE_FILE} faults",
            "none",
            "Only the first are listed; mend these and read the folder again.",
        )
        return [*faults[:MOST_IN_ONE_FILE], stop]


def _order(fault: Fault) -> tuple[object, ...]:
    """Sort row 2 before row 10."""
    parts = re.split(r"(\d+)", fault.where)
    natural = tuple(part.zfill(9) if part.isdigit() else part for part in parts)
    return (natural, fault.found, fault.allowed, fault.remedy)
