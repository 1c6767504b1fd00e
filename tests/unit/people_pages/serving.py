"""Pages of the sample kitchen over a real connection, on a morning that a test chooses."""

from __future__ import annotations

import http.client
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

from scheduler.people_pages.routes import routes
from tests.serving import served

MORNING = datetime(2026, 7, 6, 5, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Got:
    """What a server answered."""

    status: int
    text: str
    headers: http.client.HTTPMessage

    def value(self, name: str) -> str:
        """The value of the first field of a name."""
        found = re.search(rf'name="{name}" value="([^"]*)"', self.text)
        assert found, name
        return unescape(found[1])


class Site:
    """A server of the pages alone, on a free port; ``now`` is what its clock shows."""

    port: int

    def __init__(self, home: Path) -> None:
        self.home, self.now = home, MORNING

    def ask(self, path: str, method: str = "GET", body: bytes | None = None, **headers: str) -> Got:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            named = {key.replace("_", "-"): value for key, value in headers.items()}
            connection.request(method, path, body, named)
            answer = connection.getresponse()
            return Got(answer.status, answer.read().decode(), answer.headers)
        finally:
            connection.close()

    def page(self, secret: str) -> Got:
        return self.ask(f"/mine/{secret}")

    def send(self, secret: str, **fields: str) -> Got:
        """Open the page, fill in a form of it and send that."""
        page = self.page(secret)
        return self.post(secret, {"slip": page.value("slip"), **fields})

    def post(self, secret: str, fields: Mapping[str, str]) -> Got:
        kind = "application/x-www-form-urlencoded"
        return self.ask(f"/mine/{secret}", "POST", urlencode(fields).encode(), Content_Type=kind)


@contextmanager
def serving(home: Path) -> Iterator[Site]:
    site = Site(home)
    with served(routes(home, lambda: site.now)) as site.port:
        yield site
