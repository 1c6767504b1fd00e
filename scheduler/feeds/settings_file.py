"""A settings file in TOML that the environment names, since it holds a password: never shown in a fault."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from typing import Any

from scheduler.errors import Fault, InputFaults

REMEDY = "Mend the key: the README shows such a file."
HERE = {"localhost", "127.0.0.1", "::1"}
"""This machine, to which a password may go unhidden."""


def read_settings(named_by: str, environment: Mapping[str, str]) -> tuple[str, dict[str, Any]]:
    """The path that ``environment`` names as ``named_by``, and what that file holds. Raises InputFaults."""
    named = environment.get(named_by, "")
    if not named:
        remedy = "Write such a file as the README shows, and name it there."
        raise InputFaults([Fault(named_by, "", "nothing", "the path of a settings file", remedy)])
    try:
        return named, tomllib.loads(Path(named).read_text(encoding="utf-8"))
    except OSError as error:
        found = f"nothing that can be read ({error.strerror})"
        remedy = f"Write it there as the README shows, or name another file in {named_by}."
        raise InputFaults([Fault(named, "", found, "a settings file", remedy)]) from error
    except ValueError as error:
        # The error itself might show the password.
        raise InputFaults([Fault(named, "", "no TOML", "key = value on each line", REMEDY)]) from error


def texts_in(
    raw: Mapping[str, Any],
    keys: Collection[str],
    texts: Collection[str],
    refuse: Callable[[str, str, str], None],
) -> dict[str, str]:
    """The values of the keys that hold text, empty where there is none; ``refuse`` is told of keys that are
    none of ``keys``, and of values that are no text: key, what was found, what is allowed."""
    for key in raw:
        if key not in keys:
            refuse(key, "an unknown key", "one of " + ", ".join(keys))
    found = {key: raw.get(key, "") for key in texts}
    for key in [key for key, value in found.items() if not isinstance(value, str)]:
        refuse(key, "no text", "text in quotes")
        found[key] = ""
    return found
