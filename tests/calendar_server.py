"""A real calendar server (Radicale) on a free port, in a temporary folder, that a test can make fail."""

from __future__ import annotations

import ssl
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from socketserver import ThreadingMixIn
from typing import Any
from urllib.request import HTTPBasicAuthHandler, HTTPPasswordMgrWithDefaultRealm, Request, build_opener
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer, make_server

from radicale import config
from radicale.app import Application

USER, PASSWORD = "kilbrack", "not a real one, ü€"


@dataclass
class Radicale:
    """The server; ``asked`` counts requests by method. ``answers`` are given in turn, by method, in place of
    the server's own: a status with its reason, or a call that may do anything before it."""

    folder: Path
    asked: Counter[str] = field(default_factory=Counter)
    answers: dict[str, list[str | Callable[[], None]]] = field(default_factory=dict)
    lose_answers: int = 0
    port: int = 0

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}/{USER}/"

    def ask(self, method: str, path: str, body: bytes | None = None, **headers: str) -> bytes:
        """What another program gets, told past all that is made to fail."""
        passwords = HTTPPasswordMgrWithDefaultRealm()
        passwords.add_password(None, self.url, USER, PASSWORD)
        request = Request(self.url + path, body, {"X-Other": "yes", **headers}, method=method)
        with build_opener(HTTPBasicAuthHandler(passwords)).open(request, timeout=20) as got:
            return bytes(got.read())

    def events(self, collection: str) -> dict[str, str]:
        """Name of each file of a collection → its text, as it lies on the server's disk."""
        place = self.folder / "collection-root" / USER / collection
        return {file.name: file.read_bytes().decode() for file in place.glob("*.ics")}

    def written(self) -> int:
        """How many requests so far would write."""
        return sum(self.asked[method] for method in ("PUT", "DELETE", "MKCALENDAR", "PROPPATCH"))


class _Quiet(WSGIRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


class _Server(ThreadingMixIn, WSGIServer):
    daemon_threads = True


@contextmanager
def radicale(folder: Path, secured: ssl.SSLContext | None = None) -> Iterator[Radicale]:
    """A server that keeps its files in ``folder`` and lets in one user with a password; over TLS where it is
    given its certificate."""
    folder.mkdir(parents=True, exist_ok=True)
    users = folder / "users"
    users.write_text(f"{USER}:{PASSWORD}\n", encoding="utf-8")
    settings = config.load()
    settings.update(
        {
            "auth": {
                "type": "htpasswd",
                "htpasswd_filename": str(users),
                "htpasswd_encryption": "plain",
                "delay": "0",
            },
            "storage": {"filesystem_folder": str(folder)},
            "logging": {"level": "critical"},
        },
        "test",
    )
    server = Radicale(folder)
    kept = Application(settings)

    def answer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        if "HTTP_X_OTHER" in environ:
            return kept(environ, start)
        method = environ["REQUEST_METHOD"]
        server.asked[method] += 1
        if waiting := server.answers.get(method):
            instead = waiting.pop(0)
            if isinstance(instead, str):
                environ["wsgi.input"].read(int(environ.get("CONTENT_LENGTH") or 0))
                elsewhere = [("Location", server.url)] if instead.startswith("3") else []
                start(instead, [("Content-Type", "text/html; charset=utf-8"), *elsewhere])
                return [b"<p>Not <b>today"]
            instead()
        if method == "PUT" and server.lose_answers:
            server.lose_answers -= 1
            list(kept(environ, lambda *_: None))
            raise ConnectionResetError
        return kept(environ, start)

    httpd = make_server("127.0.0.1", 0, answer, _Server, _Quiet)
    httpd.handle_error = lambda *_: None  # type: ignore[method-assign]
    server.port = httpd.server_port
    if secured:
        httpd.socket = secured.wrap_socket(httpd.socket, server_side=True)
    thread = threading.Thread(target=httpd.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield server
    finally:
        httpd.shutdown()
        httpd.server_close()
        thread.join(10)


def nothing_for(seconds: float) -> Callable[[], None]:
    """A server that thinks."""
    return lambda: time.sleep(seconds)
