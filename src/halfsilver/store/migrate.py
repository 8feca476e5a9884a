"""The way from any earlier form of the tables to today's, run from code."""

from __future__ import annotations

from importlib.resources import as_file, files
from typing import Final

from sqlalchemy import Connection, inspect, text

from halfsilver.errors import StoreError
from halfsilver.store.database import Database

HEAD: Final = "0002"
TABLE: Final = "alembic_version"


def migrate(database: Database, *, to: str = HEAD) -> None:
    """Bring the tables to a form, today's by default: each step in one transaction with the record that it ran.

    Raises
    ------
    StoreError
        If the store was written by a newer program, or the engine refuses.
    """
    with database.reading() as connection:
        found = version_of(connection)
    if found == to:
        return
    if found is not None and found > HEAD:
        raise StoreError(f"This store was written by a newer program (form {found}, this one knows {HEAD}). Use the newer program.")
    with database.writing() as connection:
        if not database.is_sqlite:
            connection.execute(text("SELECT pg_advisory_xact_lock(4841)"))  # two programs that start at once wait for each other
        if version_of(connection) != to:
            _run(connection, to)


def version_of(connection: Connection) -> str | None:
    """The form of the tables; None for an empty database."""
    if not inspect(connection).has_table(TABLE):
        return None
    return connection.execute(text(f"SELECT version_num FROM {TABLE}")).scalar()


def _run(connection: Connection, to: str) -> None:
    from alembic import command
    from alembic.config import Config

    with as_file(files("halfsilver.store") / "migrations") as folder:
        config = Config()
        config.set_main_option("script_location", str(folder).replace("%", "%%"))
        config.attributes["connection"] = connection
        command.upgrade(config, to)
