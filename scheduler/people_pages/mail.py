"""Messages of change by mail, through the farm's own mail server: only where asked for, each once at most.

SMTP (RFC 5321) over TLS. A message is noted before it is handed over and again after the server's answer. If
the answer is lost on the way nobody can tell whether it was sent: it is then reported, and not sent again.
"""

from __future__ import annotations

import smtplib
import ssl
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime
from enum import StrEnum
from hashlib import sha256
from pathlib import Path

from sqlalchemy import select, update
from sqlalchemy.dialects.sqlite import insert

from scheduler.feeds.messages import Message
from scheduler.people_pages.mail_settings import MailServer, Security
from scheduler.people_pages.tables import PATIENCE_S, Book, posted

TRIES = 3
FIRST_WAIT_S = 2.0
"""Before the second try; each further wait is twice as long."""
ANSWER_S = 30.0
"""How long to wait for the server."""


class Fate(StrEnum):
    """What became of a message; the words are kept in the file."""

    SENDING = "sending"
    SENT = "sent"
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class Letter:
    """A message of ``feed`` to an address."""

    feed: str
    to: str
    subject: str
    message: Message

    @property
    def digest(self) -> str:
        return digest_of(self.feed, self.message)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a letter in this run, in words; ``well`` is False where somebody should look."""

    letter: Letter
    said: str
    well: bool


class _Again(Exception):
    """The server did not take a letter, and may take it later."""


class _Never(Exception):
    """The server does not take a letter."""


class _Unknown(Exception):
    """A letter was handed over and the answer was lost."""


def digest_of(feed: str, message: Message) -> str:
    """The same for the same message to the same person, whatever their address."""
    named = (feed, message.changed.isoformat(), message.text)
    return sha256("\n".join(named).encode()).hexdigest()


class PostBook:
    """Which letters went out, in the file of answers in ``folder``; raises CannotKeep as those do."""

    def __init__(self, folder: Path, patience_s: float = PATIENCE_S) -> None:
        self._book = Book(folder, patience_s)

    def fate(self, digest: str) -> Fate | None:
        """What was noted of a letter; None where nothing was."""
        with self._book.reading() as book:
            if book is None:
                return None
            found = book.execute(select(posted.c.state).where(posted.c.message == digest)).scalar()
        return None if found is None else Fate(found)

    def claim(self, digest: str) -> bool:
        """Note that a letter is about to be sent; False if it was already, or another program is at it."""
        values = {"state": Fate.SENDING.value, "at": datetime.now(UTC)}
        row = insert(posted).values(message=digest, **values)
        claimed = row.on_conflict_do_update(
            index_elements=[posted.c.message], set_=values, where=posted.c.state == Fate.FAILED.value
        )
        with self._book.writing() as book:
            return book.execute(claimed).rowcount == 1

    def note(self, digest: str, fate: Fate) -> None:
        """Note what became of a letter that was claimed."""
        change = update(posted).where(posted.c.message == digest)
        with self._book.writing() as book:
            book.execute(change.values(state=fate.value, at=datetime.now(UTC)))


def send(
    letters: list[Letter], server: MailServer, book: PostBook, wait: Callable[[float], None] = time.sleep
) -> list[Outcome]:
    """Send what was not sent before; what became of each. ``wait`` is given seconds between tries."""
    return [_send_once(letter, server, book, wait) for letter in letters]


def _send_once(letter: Letter, server: MailServer, book: PostBook, wait: Callable[[float], None]) -> Outcome:
    if not book.claim(letter.digest):
        if book.fate(letter.digest) is Fate.SENT:
            return Outcome(letter, "was sent before", True)
        return Outcome(letter, "was being sent and may have come: ask, or tell them yourself", False)
    try:
        _try(letter, server, wait)
    except (_Again, _Never) as error:
        book.note(letter.digest, Fate.FAILED)
        return Outcome(letter, f"was not sent: {error}", False)
    except _Unknown as error:
        return Outcome(letter, f"may have been sent; it will not be sent again: {error}", False)
    book.note(letter.digest, Fate.SENT)
    return Outcome(letter, "sent", True)


def _try(letter: Letter, server: MailServer, wait: Callable[[float], None]) -> None:
    pause = FIRST_WAIT_S
    for left in reversed(range(TRIES)):
        try:
            _hand_over(letter, server)
            return
        except _Again:
            if not left:
                raise
        wait(pause)
        pause *= 2


def _hand_over(letter: Letter, server: MailServer) -> None:
    """One try. Raises _Again, _Never or _Unknown."""
    try:
        smtp = _connected(server)
    except smtplib.SMTPAuthenticationError as error:
        raise _Never(_answer(error.smtp_code, b"user or password refused")) from error
    except smtplib.SMTPNotSupportedError as error:
        raise _Never(f"the server does not offer what is asked for: {error}") from error
    except ssl.SSLCertVerificationError as error:
        raise _Never(f"its certificate is not trusted: {error.verify_message}") from error
    except (OSError, smtplib.SMTPException) as error:
        raise _Again(f"no connection: {error}") from error
    try:
        _envelope(smtp, letter, server)
        _contents(smtp, letter, server)
    finally:
        with suppress(OSError, smtplib.SMTPException):
            smtp.quit()


def _connected(server: MailServer) -> smtplib.SMTP:
    trusted = ssl.create_default_context(cafile=server.ca)
    if server.security is Security.TLS:
        smtp: smtplib.SMTP = smtplib.SMTP_SSL(server.host, server.port, timeout=ANSWER_S, context=trusted)
    else:
        smtp = smtplib.SMTP(server.host, server.port, timeout=ANSWER_S)
    try:
        if server.security is Security.STARTTLS:
            smtp.starttls(context=trusted)
        if server.user:
            smtp.login(server.user, server.password)
    except BaseException:
        smtp.close()
        raise
    return smtp


def _envelope(smtp: smtplib.SMTP, letter: Letter, server: MailServer) -> None:
    """Whom it is from and to: nothing is sent yet, whatever happens."""
    try:
        smtp.ehlo_or_helo_if_needed()
        _expect(*smtp.mail(server.sender))
        _expect(*smtp.rcpt(letter.to))
    except (OSError, smtplib.SMTPException) as error:
        raise _Again(f"the connection broke: {error}") from error


def _contents(smtp: smtplib.SMTP, letter: Letter, server: MailServer) -> None:
    """The message itself: from here on a lost answer leaves it open whether it was sent."""
    said: bytes | str
    try:
        code, said = smtp.data(_as_mail(letter, server).as_bytes())
    except smtplib.SMTPDataError as error:
        code, said = error.smtp_code, error.smtp_error  # turned away before a word of it
    except (OSError, smtplib.SMTPException) as error:
        raise _Unknown(f"the connection broke: {error}") from error
    _expect(code, said)


def _expect(code: int, said: bytes | str) -> None:
    """RFC 5321, 4.2.1: 2 is yes, 4 is not now, all else is no."""
    if code // 100 == 2:
        return
    raise (_Again if code // 100 == 4 else _Never)(_answer(code, said))


def _answer(code: int, said: bytes | str) -> str:
    text = said.decode("utf-8", "replace") if isinstance(said, bytes) else said
    return f"the server said {code} {' '.join(text.split())[:200]}"


def _as_mail(letter: Letter, server: MailServer) -> EmailMessage:
    mail = EmailMessage(SMTP.clone(cte_type="7bit"))  # any server takes that, and its line ends
    mail["From"] = server.sender
    mail["To"] = letter.to
    mail["Subject"] = " ".join(letter.subject.split())
    mail["Date"] = format_datetime(datetime.now(UTC))
    # The same for the same letter, so that a mail program shows it once whatever happens on the way.
    mail["Message-ID"] = f"<{letter.digest}@{server.sender.rpartition('@')[2]}>"
    mail["Auto-Submitted"] = "auto-generated"  # RFC 3834, 5: nobody's absence note answers it
    mail.set_content(letter.message.text)
    return mail
