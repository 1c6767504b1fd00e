"""The SQLite file of a kitchen's answers: what people said of the plan, and which messages went out.

    calendars/KITCHEN/answers.sqlite   beside the calendars, for its owner's eyes alone (mode 0600)

It holds what is nowhere else, and two programs may write to it at once (the dashboard and the command line):
hence a data base, with a log that is written ahead of it (WAL), and not a file replaced whole. Times are UTC.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    Date,
    DateTime,
    Engine,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    create_engine,
    event,
)
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import NullPool
from sqlalchemy.schema import CreateIndex, CreateTable
from sqlalchemy.types import TypeDecorator

from scheduler.errors import CannotKeep

FILE = "answers.sqlite"
PATIENCE_S = 3.0
"""How long to wait for another program that writes."""
OPEN = "open"

_BUSY = "another program is writing to it: try again in a moment"
_FULL = "the disk refuses: is there room on it?"
_READ_ONLY = "it may not be written to: give this program leave to write to the file and its folder"
_DAMAGED = "it is damaged, or of another version: move it away, and answers begin anew"
_WHY = {
    "SQLITE_BUSY": _BUSY,
    "SQLITE_LOCKED": _BUSY,
    "SQLITE_FULL": _FULL,
    "SQLITE_IOERR": _FULL,
    "SQLITE_READONLY": _READ_ONLY,
    "SQLITE_CANTOPEN": _READ_ONLY,
    "SQLITE_PERM": _READ_ONLY,
    "SQLITE_NOTADB": _DAMAGED,
    "SQLITE_CORRUPT": _DAMAGED,
    "SQLITE_ERROR": _DAMAGED,
}


class Utc(TypeDecorator[datetime]):
    """A moment with its zone, kept as UTC; SQLite knows no zones."""

    impl = DateTime
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Any) -> datetime | None:
        """Raises ValueError for a time without a zone."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a time without its zone")
        return value.astimezone(UTC).replace(tzinfo=None)

    def process_result_value(self, value: datetime | None, dialect: Any) -> datetime | None:
        return None if value is None else value.replace(tzinfo=UTC)


metadata = MetaData()

seen = Table(
    "seen",
    metadata,
    Column("feed", String, primary_key=True),
    Column("plan", Utc, nullable=False),
    Column("at", Utc, nullable=False),
)
"""Up to which change each person has said "I know"."""

asked = Table(
    "asked",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("slip", String, nullable=False, unique=True),
    Column("feed", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("day", Date, nullable=False),
    Column("start", Integer, nullable=False),
    Column("end", Integer, nullable=False),
    Column("note", String, nullable=False),
    Column("at", Utc, nullable=False),
    Column("state", String, nullable=False),
    Column("settled", Utc),
)
"""When people can and cannot come; a form sent twice has the same ``slip``."""

Index(
    "one_open",
    *(asked.c[name] for name in ("feed", "kind", "day", "start", "end")),
    unique=True,
    sqlite_where=asked.c.state == OPEN,
)

posted = Table(
    "posted",
    metadata,
    Column("message", String, primary_key=True),
    Column("state", String, nullable=False),
    Column("at", Utc, nullable=False),
)
"""Messages by their digest: noted before they are sent, and again when the server has answered."""


class Book:
    """The file in ``folder``, made when something is first written."""

    def __init__(self, folder: Path, patience_s: float = PATIENCE_S) -> None:
        self.file = folder / FILE
        self._patience_s = patience_s
        self._engine: Engine | None = None

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction, kept whole or not at all. Raises CannotKeep."""
        with self._told():
            self.file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            os.close(os.open(self.file, os.O_CREAT | os.O_RDWR, 0o600))
            with self._opened().begin() as connection:
                yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection | None]:
        """A connection to read with; None where nothing was ever written. Raises CannotKeep."""
        with self._told():
            if not self.file.exists():
                yield None
                return
            with self._opened().connect() as connection:
                yield connection

    def _opened(self) -> Engine:
        if self._engine is None:
            engine = create_engine(
                f"sqlite+pysqlite:///{self.file}",
                poolclass=NullPool,  # a file that is moved away is not written to any more
                connect_args={"timeout": self._patience_s},
            )
            event.listen(engine, "connect", _ahead)
            self._engine = engine
        with self._engine.begin() as connection:
            # Not create_all, which looks first and then fails if another program was quicker.
            for table in metadata.sorted_tables:
                connection.execute(CreateTable(table, if_not_exists=True))
                for index in table.indexes:
                    connection.execute(CreateIndex(index, if_not_exists=True))
        return self._engine

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except SQLAlchemyError as error:
            raise CannotKeep(str(self.file), _why(error)) from error
        except OSError as error:
            raise CannotKeep(str(self.file), error.strerror or _READ_ONLY) from error


def _ahead(connection: Any, _record: Any) -> None:
    connection.execute("PRAGMA journal_mode=WAL")


def _why(error: SQLAlchemyError) -> str:
    name = getattr(getattr(error, "orig", None), "sqlite_errorname", "")
    # Extended codes go on after those of sqlite.org/rescode.html: SQLITE_READONLY_DIRECTORY.
    return next((why for code, why in _WHY.items() if name.startswith(code)), _DAMAGED)
