"""The farm's mail server: a settings file in TOML, which the environment names, since it holds a password."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Any

from scheduler.errors import Fault, InputFaults
from scheduler.feeds.settings_file import HERE, REMEDY, read_settings, texts_in

NAMED_BY = "MASLIN_SMTP"
_ADDRESS = re.compile(r"[!-?A-~]{1,64}@[A-Za-z0-9.-]{1,189}")
_KEYS = ("host", "port", "security", "user", "password", "sender", "ca")


class Security(StrEnum):
    """How the connection is kept from listeners."""

    STARTTLS = "starttls"
    TLS = "tls"
    NONE = "none"


_PORTS = {Security.STARTTLS: 587, Security.TLS: 465, Security.NONE: 25}
"""RFC 6409, 3.1 and RFC 8314, 3.3: the ports for handing mail in; RFC 5321, 4.5.4.2."""


@dataclass(frozen=True, slots=True)
class MailServer:
    """Where mail is handed in, as whom, and from whom; ``ca`` is a file of further certificates to trust."""

    host: str
    port: int
    security: Security
    sender: str
    user: str = ""
    password: str = field(default="", repr=False)
    ca: str | None = None


def mail_server(environment: Mapping[str, str] = os.environ) -> MailServer:
    """The server in the file that MASLIN_SMTP names. Raises InputFaults with all that is wrong with it."""
    return _read(*read_settings(NAMED_BY, environment))


def _read(file: str, raw: Mapping[str, Any]) -> MailServer:
    faults: list[Fault] = []

    def refuse(key: str, found: str, allowed: str) -> None:
        faults.append(Fault(file, f"key {key}", found, allowed, REMEDY))

    texts = texts_in(raw, _KEYS, [key for key in _KEYS if key != "port"], refuse)
    host, sender = texts["host"].strip(), texts["sender"].strip()
    if not host or any(char.isspace() for char in host):
        refuse("host", "none", "the name of the mail server")
    if not _ADDRESS.fullmatch(sender):
        refuse("sender", "no address", "the farm's address, as in office@example.org")
    security = _security(texts["security"] or Security.STARTTLS, host, refuse)
    port = raw.get("port", _PORTS[security])
    if not isinstance(port, int) or isinstance(port, bool) or not 1 <= port <= 65_535:
        refuse("port", "no port", "a whole number from 1 to 65535")
    if texts["ca"] and not Path(texts["ca"]).is_file():
        refuse("ca", "no file", "a file of certificates (PEM)")
    if faults:
        raise InputFaults(faults)
    return MailServer(host, port, security, sender, texts["user"], texts["password"], texts["ca"] or None)


def _security(found: str, host: str, refuse: Any) -> Security:
    if found not in list(Security):
        refuse("security", "another word", "one of " + ", ".join(Security))
        return Security.STARTTLS
    security = Security(found)
    if security is Security.NONE and host not in HERE:
        refuse("security", "none", "starttls or tls; none only for a server on this machine")
    return security
