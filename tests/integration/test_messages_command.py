"""``maslin messages`` and ``maslin link --page``: printed, as files, by mail to a server on this machine."""

from __future__ import annotations

import re
import shutil
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.handlers import Message as Handler

from tests import commands
from tests.commands import FARM, Done, planned


class Box(Handler):
    """Keeps whom each mail was for, and its text."""

    def __init__(self) -> None:
        super().__init__()
        self.got: dict[str, str] = {}

    def handle_message(self, message) -> None:  # type: ignore[no-untyped-def]
        self.got[message["To"]] = message.get_payload(decode=True).decode()


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a farm, two of whose people have an address, and its plan."""
    place = tmp_path_factory.mktemp("farm")
    people = shutil.copytree(FARM, place / "farm") / "people.csv"
    head, *rows = people.read_text(encoding="utf-8").splitlines()
    mails = ["aoife@example.org", "brendan@example.org", ""]
    told = [f"{row},{mail}" for row, mail in zip(rows, mails, strict=True)]
    people.write_text("\n".join([f"{head},email", *told, ""]), encoding="utf-8")
    return planned(place, place / "farm")


@pytest.fixture
def box(place: Path) -> Iterator[Box]:
    """A mail server on this machine, named in the settings file."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    lines = ['host = "127.0.0.1"', f"port = {port}", 'security = "none"', 'sender = "office@example.org"']
    (place / "mail.toml").write_text("\n".join(lines), encoding="utf-8")
    box = Box()
    controller = Controller(box, hostname="127.0.0.1", port=port, ready_timeout=60)
    controller.start()
    yield box
    controller.stop()


def maslin(place: Path, *words: str) -> Done:
    return commands.maslin(place, *words, MASLIN_SMTP=str(place / "mail.toml"))


def test_messages_are_printed_written_and_sent_once(place: Path, box: Box) -> None:
    before = maslin(place, "messages", "farm")
    assert "There is nothing to tell" in before.stdout
    assert maslin(place, "publish", "farm", "plan").returncode == 0

    printed = maslin(place, "messages", "farm")
    assert printed.returncode == 0, printed.stderr
    for name in ("Aoife", "Brendan", "Ciara"):
        assert f"{name}, Kilbrack: the plan is made." in printed.stdout
    assert box.got == {}  # sent only where asked for

    written = maslin(place, "messages", "farm", "--out", "texts")
    assert "3" in written.stdout
    texts = {path.name: path.read_text(encoding="utf-8") for path in (place / "texts").iterdir()}
    assert sorted(texts) == ["Aoife.txt", "Brendan.txt", "Ciara.txt"]
    assert all(text in printed.stdout for text in texts.values())

    sent = maslin(place, "messages", "farm", "--send")
    assert sent.returncode == 0, sent.stderr
    assert "Aoife: sent" in sent.stdout
    assert "Ciara: no address" in sent.stdout
    assert sorted(box.got) == ["aoife@example.org", "brendan@example.org"]
    assert box.got["aoife@example.org"].replace("\r\n", "\n") == texts["Aoife.txt"]
    box.got.clear()
    again = maslin(place, "messages", "farm", "--send")
    assert "Aoife: was sent before" in again.stdout
    assert box.got == {}


def test_without_settings_nothing_is_sent_and_the_fault_is_named(place: Path) -> None:
    (place / "mail.toml").unlink(missing_ok=True)
    done = maslin(place, "messages", "farm", "--send")
    assert done.returncode == 2
    assert "mail.toml" in done.stderr
    assert "MASLIN_SMTP" in done.stderr


def test_a_page_has_the_secret_of_the_calendar_and_only_people_have_one(place: Path) -> None:
    calendar = maslin(place, "link", "farm", "Aoife").stdout
    page = maslin(place, "link", "farm", "Aoife", "--page").stdout
    assert re.fullmatch(r"http://localhost:8501/mine/[A-Za-z0-9_-]{43}\n", page)
    assert page.strip().rpartition("/")[2] == calendar.strip().rpartition("/")[2].removesuffix(".ics")
    kitchen = maslin(place, "link", "farm", "the kitchen", "--page")
    assert kitchen.returncode == 2
    assert "allowed: Aoife, Brendan, Ciara" in kitchen.stderr
