"""Routes served over a real connection, on a free port of this machine."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import uvicorn
from starlette.applications import Starlette
from starlette.routing import BaseRoute


@contextmanager
def served(routes: Sequence[BaseRoute]) -> Iterator[int]:
    """The port on which routes alone are served."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    app = Starlette(routes=routes)
    server = uvicorn.Server(uvicorn.Config(app, port=port, ws="none", lifespan="off", log_level="critical"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive()
        time.sleep(0.01)
    yield port
    server.should_exit = True
    thread.join(10)
