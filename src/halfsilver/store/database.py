"""Connections: how each engine is opened, what a transaction is on it, and how its refusals become ours."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError

from halfsilver.errors import StoreError

BUSY_MS: Final = 10_000
READS: Final = "reads_only"
ENGINES: Final = ("sqlite", "postgresql")


class Database:
    """An open database: one engine, and transactions on it.

    Parameters
    ----------
    url : str
        ``sqlite:///PATH`` or ``postgresql+psycopg://...``.

    Raises
    ------
    StoreError
        If the address cannot be used.
    """

    def __init__(self, url: str) -> None:
        self.url = _url(url)
        self.path = Path(self.url.database) if self.is_sqlite and self.url.database else None
        self.engine = _sqlite(self.url) if self.is_sqlite else _postgresql(self.url)
        self._place: tuple[int, int] | None = None

    @property
    def is_sqlite(self) -> bool:
        """Whether it is the embedded engine."""
        return self.url.get_backend_name() == "sqlite"

    @property
    def shown(self) -> str:
        """The address as it may be read by anybody: without a password, wherever it stood."""
        return self.url.set(query={}).render_as_string(hide_password=True)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that takes the right to write at once; all of it is kept, or nothing.

        Raises
        ------
        StoreError
            If the engine refuses: no room, no right, another program in the way.
        """
        with _told(self), self.engine.begin() as connection:
            self._same_file()
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A transaction that sees one moment and changes nothing.

        Raises
        ------
        StoreError
            If the engine refuses.
        """
        level = {} if self.is_sqlite else {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
        with _told(self), self.engine.connect().execution_options(**{READS: True}, **level) as connection, connection.begin():
            yield connection

    def close(self) -> None:
        """Give back every connection."""
        self.engine.dispose()

    def _same_file(self) -> None:
        """A file that was exchanged under our hands would take changes that nobody sees again."""
        if self.path is None:
            return
        try:
            status = self.path.stat()
        except OSError:
            raise StoreError(
                f"{self.path}: the store's file has gone. Another program moved it; put it back, or restore a backup."
            ) from None
        place = (status.st_dev, status.st_ino)
        if self._place is not None and place != self._place:
            raise StoreError(
                f"{self.path}: the store's file was exchanged by another program, such as one that synchronises folders. Nothing was "
                "written. Stop that program, move the store out of its folder, and start again."
            )
        self._place = place


def _url(text: str) -> URL:
    try:
        url = make_url(text)
        backend = url.get_backend_name()
    except (ArgumentError, NoSuchModuleError, ValueError):  # ValueError: a port that is no number
        backend = ""
    if backend not in ENGINES:
        raise StoreError("The store's address begins with sqlite:/// or postgresql+psycopg://.")
    return url.set(drivername="postgresql+psycopg") if backend == "postgresql" else url


def _sqlite(url: URL) -> Engine:
    """The embedded engine: a write-ahead log, every acknowledged change on the disk, foreign keys held."""
    engine = create_engine(url, connect_args={"timeout": BUSY_MS / 1000, "check_same_thread": False})

    @event.listens_for(engine, "connect")
    def prepare(connection: Any, _: Any) -> None:
        connection.isolation_level = None  # transactions begin where the next function says, not where the driver guesses
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={BUSY_MS}"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN" if connection.get_execution_options().get(READS) else "BEGIN IMMEDIATE")

    return engine


def _postgresql(url: URL) -> Engine:
    try:
        return create_engine(url, pool_pre_ping=True)
    except ModuleNotFoundError:
        raise StoreError("PostgreSQL needs one more package: install halfsilver with its extra `pg`.") from None


@contextmanager
def _told(database: Database) -> Iterator[None]:
    """The engine's refusals in our words."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        cause = str(getattr(error, "orig", None) or error).strip().splitlines()[0]
        where = str(database.path or database.shown)
        raise StoreError(f"{where}: {cause}. {_advice(cause)}") from error


def _advice(cause: str) -> str:
    told = cause.lower()
    for word, advice in (
        ("full", "The disk has no room: nothing was written. Make room and try again."),
        ("readonly", "The file cannot be written. Check its rights."),
        ("read-only", "The file cannot be written. Check its rights."),
        ("locked", "Another program holds the store. Nothing was written; try again."),
        ("malformed", "The file is damaged. Keep it, and restore the latest backup into a new place."),
        ("not a database", "This is not a store. Name another file."),
        ("unable to open", "Check the folder and its rights."),
    ):
        if word in told:
            return advice
    return "Nothing was written."
