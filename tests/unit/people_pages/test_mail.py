"""Messages by mail through a real SMTP server on this machine: each once, tried again, failures told."""

from __future__ import annotations

import socket
import ssl
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest
import trustme
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, Session

from scheduler.errors import CannotKeep, InputFaults
from scheduler.feeds.messages import Message
from scheduler.people_pages.mail import TRIES, Fate, Letter, Outcome, PostBook, send
from scheduler.people_pages.mail_settings import MailServer, Security, mail_server
from scheduler.people_pages.tables import FILE
from tests.unit.feeds.entries import AOIFE, LATER, NOW

AUTHORITY = trustme.CA()
TRUSTED = Path(tempfile.mkdtemp()) / "authority.pem"
"""The certificate of an authority made for these tests, and thrown away with them."""
AUTHORITY.cert_pem.write_to_path(str(TRUSTED))
USER, PASSWORD = "farm", "not a real one"
TEXT = "Aoife, Kilbrack: the plan has changed for you:\n\nMon 6 Jul\n- Off: crème, 08:00\n.\n.dots\n"
LETTER = Letter(AOIFE, "aoife@example.org", "Kilbrack: what changed", Message(NOW, TEXT))
OTHER = Letter("person Síle", "sile@example.org", "Kilbrack: what changed", Message(NOW, "Síle, Kilbrack\n"))


@dataclass
class Office:
    """What a server does: answers to DATA and RCPT in turn, then yes; and what it took."""

    data: list[str] = field(default_factory=list)
    rcpt: list[str] = field(default_factory=list)
    taken: list[tuple[str, list[str], EmailMessage]] = field(default_factory=list)
    tried: int = 0
    hang_up: bool = False
    secured: list[bool] = field(default_factory=list)

    async def handle_RCPT(  # noqa: N802
        self, _server: SMTP, _session: Session, envelope: Envelope, address: str, _options: list[str]
    ) -> str:
        self.tried += 1
        if self.rcpt:
            return self.rcpt.pop(0)
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:  # noqa: N802
        self.secured.append(session.ssl is not None)
        if self.data:
            return self.data.pop(0)
        mail = message_from_bytes(envelope.content or b"", policy=policy.default)  # type: ignore[arg-type]
        assert isinstance(mail, EmailMessage)
        self.taken.append((envelope.mail_from or "", envelope.rcpt_tos, mail))
        if self.hang_up:
            assert server.transport is not None
            server.transport.close()
        return "250 OK"


@contextmanager
def open_office(office: Office, **more: Any) -> Iterator[MailServer]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    controller = Controller(office, hostname="127.0.0.1", port=port, ready_timeout=60, **more)
    controller.start()
    try:
        yield MailServer("127.0.0.1", port, Security.NONE, "office@kilbrack.example")
    finally:
        controller.stop()


@pytest.fixture
def book(tmp_path: Path) -> PostBook:
    return PostBook(tmp_path)


@pytest.fixture
def waits() -> list[float]:
    return []


def fates(outcomes: Sequence[Outcome]) -> list[tuple[str, bool]]:
    return [(outcome.said.partition(":")[0], outcome.well) for outcome in outcomes]


def test_a_message_arrives_whole_and_once(book: PostBook, waits: list[float]) -> None:
    office = Office()
    with open_office(office) as server:
        assert fates(send([LETTER, OTHER], server, book, waits.append)) == [("sent", True)] * 2
        again = send([LETTER, OTHER], server, book, waits.append)
    assert fates(again) == [("was sent before", True)] * 2
    assert waits == []
    (sender, to, mail), (_, _, other) = office.taken
    assert (sender, to) == ("office@kilbrack.example", ["aoife@example.org"])
    assert (mail["From"], mail["To"]) == ("office@kilbrack.example", "aoife@example.org")
    assert mail["Subject"] == "Kilbrack: what changed"
    assert mail["Auto-Submitted"] == "auto-generated"
    assert mail.get_content().replace("\r\n", "\n") == TEXT
    assert other.get_content().startswith("Síle")
    assert mail["Message-ID"] != other["Message-ID"]


def test_the_next_message_to_the_same_person_is_sent(book: PostBook, waits: list[float]) -> None:
    office = Office()
    with open_office(office) as server:
        send([LETTER], server, book, waits.append)
        later = replace(LETTER, message=Message(LATER, TEXT))
        assert fates(send([later], server, book, waits.append)) == [("sent", True)]
    assert len(office.taken) == 2


@pytest.mark.parametrize("where", ["data", "rcpt"])
def test_not_now_is_tried_again_after_a_while(book: PostBook, waits: list[float], where: str) -> None:
    # RFC 5321, 4.2.1: 4yz asks to try again.
    office = Office(**{where: ["451 busy", "421 closing"]})  # type: ignore[arg-type]
    with open_office(office) as server:
        assert fates(send([LETTER], server, book, waits.append)) == [("sent", True)]
    assert waits == [2.0, 4.0]
    assert len(office.taken) == 1


def test_tries_end_are_told_and_may_be_made_another_time(book: PostBook, waits: list[float]) -> None:
    office = Office(data=["451 still busy"] * TRIES)
    with open_office(office) as server:
        (outcome,) = send([LETTER], server, book, waits.append)
        assert not outcome.well
        assert "451 still busy" in outcome.said
        assert office.tried == TRIES
        assert book.fate(LETTER.digest) is Fate.FAILED
        assert fates(send([LETTER], server, book, waits.append)) == [("sent", True)]
    assert len(office.taken) == 1


@pytest.mark.parametrize("where", ["data", "rcpt"])
def test_no_is_told_at_once_and_others_are_served(book: PostBook, waits: list[float], where: str) -> None:
    office = Office(**{where: ["550 no such\x01 box"]})  # type: ignore[arg-type]
    with open_office(office) as server:
        first, second = send([LETTER, OTHER], server, book, waits.append)
    assert "the server said 550 no such" in first.said
    assert (first.well, second.well) == (False, True)
    assert waits == []


def test_a_lost_answer_is_never_answered_by_a_second_mail(book: PostBook, waits: list[float]) -> None:
    office = Office(hang_up=True)
    with open_office(office) as server:
        (lost,) = send([LETTER], server, book, waits.append)
        assert not lost.well
        assert "may have been sent" in lost.said
        office.hang_up = False
        (again,) = send([LETTER], server, book, waits.append)
    assert not again.well
    assert "may have come" in again.said
    assert len(office.taken) == 1


def test_no_server_is_told(book: PostBook, waits: list[float]) -> None:
    with open_office(Office()) as server:
        pass
    (outcome,) = send([LETTER], server, book, waits.append)
    assert "no connection" in outcome.said
    assert len(waits) == TRIES - 1
    assert book.fate(LETTER.digest) is Fate.FAILED


def test_what_cannot_be_noted_is_not_sent(tmp_path: Path, waits: list[float]) -> None:
    (tmp_path / FILE).write_bytes(b"no data base at all, whatever it is" * 99)
    office = Office()
    with open_office(office) as server, pytest.raises(CannotKeep):
        send([LETTER], server, PostBook(tmp_path), waits.append)
    assert office.taken == []


def authenticator(
    _server: SMTP, _session: Session, _envelope: Envelope, _kind: str, found: Any
) -> AuthResult:
    right = (found.login, found.password) == (USER.encode(), PASSWORD.encode())
    return AuthResult(success=right, handled=False)


def server_context() -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    AUTHORITY.issue_cert("localhost", "127.0.0.1").configure_cert(context)
    return context


@pytest.mark.parametrize("security", [Security.STARTTLS, Security.TLS])
def test_tls_and_a_password(book: PostBook, waits: list[float], security: Security) -> None:
    office = Office()
    named: dict[str, Any] = {"authenticator": authenticator}
    if security is Security.TLS:
        opened = open_office(office, ssl_context=server_context(), auth_require_tls=False, **named)
    else:
        opened = open_office(
            office, tls_context=server_context(), require_starttls=True, auth_required=True, **named
        )
    with opened as plain:
        server = replace(plain, security=security, user=USER, password=PASSWORD, ca=str(TRUSTED))
        (wrong,) = send([LETTER], replace(server, password="wrong"), book, waits.append)
        assert "user or password refused" in wrong.said
        assert "wrong" not in wrong.said
        (untrusted,) = send([LETTER], replace(server, ca=None), book, waits.append)
        assert "certificate is not trusted" in untrusted.said
        assert office.taken == []
        assert fates(send([LETTER], server, book, waits.append)) == [("sent", True)]
    assert len(office.taken) == 1
    assert waits == []


def test_a_server_without_tls_is_never_given_the_password(book: PostBook, waits: list[float]) -> None:
    office = Office()
    with open_office(office) as plain:
        server = replace(plain, security=Security.STARTTLS, user=USER, password=PASSWORD)
        (outcome,) = send([LETTER], server, book, waits.append)
    assert "does not offer" in outcome.said
    assert office.tried == 0


# The settings file


@pytest.fixture
def settings(tmp_path: Path) -> Callable[[str], dict[str, str]]:
    def write(text: str) -> dict[str, str]:
        (tmp_path / "mail.toml").write_text(text, encoding="utf-8")
        return {"MASLIN_SMTP": str(tmp_path / "mail.toml")}

    return write


def test_settings_are_read(settings: Callable[[str], dict[str, str]]) -> None:
    usual = 'host = "mail.example.org"\nsender = "farm@example.org"\n'
    # RFC 6409, 3.1 and RFC 8314, 3.3: ports 587 and 465.
    assert mail_server(settings(usual)) == MailServer(
        "mail.example.org", 587, Security.STARTTLS, "farm@example.org"
    )
    full = mail_server(settings(usual + f'security = "tls"\nuser = "u"\npassword = "p"\nca = "{TRUSTED}"\n'))
    assert (full.port, full.user, full.password, full.ca) == (465, "u", "p", str(TRUSTED))
    assert "password" not in repr(full)
    assert mail_server(settings(usual + "port = 2525")).port == 2525


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "key host"),
        ('host = "a b"\nsender = "x@y.example"', "key host"),
        ('host = "a"\nsender = "x"', "key sender"),
        ('host = "a"\nsender = "x@y.example\\nBcc: z@y.example"', "key sender"),
        ('host = "a"\nsender = "x@y.example"\nport = 70000', "1 to 65535"),
        ('host = "a"\nsender = "x@y.example"\nport = true', "1 to 65535"),
        ('host = "a"\nsender = "x@y.example"\nsecurity = "none"', "starttls or tls"),
        ('host = "a"\nsender = "x@y.example"\nsecurity = "maybe"', "one of starttls, tls, none"),
        ('host = "a"\nsender = "x@y.example"\nca = "nowhere.pem"', "key ca"),
        ('host = 5\nsender = "x@y.example"', "text in quotes"),
        ('host = "a"\nsender = "x@y.example"\npasword = "hush hush"', "unknown key"),
        ('password = "hush hush', "no TOML"),
    ],
)
def test_settings_with_faults_are_told_without_the_password(
    settings: Callable[[str], dict[str, str]], text: str, said: str
) -> None:
    with pytest.raises(InputFaults) as caught:
        mail_server(settings(text))
    assert said in str(caught.value)
    assert "hush" not in str(caught.value)


@pytest.mark.parametrize("environment", [{}, {"MASLIN_SMTP": ""}, {"MASLIN_SMTP": "/nowhere/mail.toml"}])
def test_without_settings_nothing_is_sent(environment: dict[str, str]) -> None:
    with pytest.raises(InputFaults, match="MASLIN_SMTP"):
        mail_server(environment)
