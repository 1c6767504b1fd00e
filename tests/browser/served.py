"""The real dashboard on a free port, and the browser that opens it."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]
CHROMIUM = "/usr/bin/chromium"
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a dashboard whose plans lie in ``folder``/plans; it says what it says in log.txt, and
    its calendar server is the one that a test writes into caldav.toml."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    named = {"MASLIN_PLANS": str(folder / "plans"), "MASLIN_CALDAV": str(folder / "caldav.toml")}
    environment = os.environ | named
    command = [sys.executable, "-m", "streamlit", "run", "app.py", "--server.port", str(port)]
    with (folder / "log.txt").open("wb") as log:
        server = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=log, stderr=log)
    url = f"http://127.0.0.1:{port}"
    try:
        _wait_for(url + "/_stcore/health", server, folder / "log.txt")
        yield url
    finally:
        server.terminate()
        server.wait(30)


def _wait_for(url: str, server: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(240):
        assert server.poll() is None, log.read_text(encoding="utf-8")
        try:
            with urllib.request.urlopen(url, timeout=5):
                return
        except OSError:
            time.sleep(0.5)
    raise AssertionError(f"the dashboard did not start: {log.read_text(encoding='utf-8')}")


def newest(base: Path) -> Path:
    """The folder of the dashboard that was served last under ``base``: that of the module at work."""
    return max(base.glob("dashboard[0-9]*"), key=lambda path: int(path.name.removeprefix("dashboard")))
