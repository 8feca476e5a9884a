"""Each test of the store runs on both engines."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from halfsilver.store.database import Database
from halfsilver.store.store import Store
from stores import postgres_programs, postgresql


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    if postgres_programs() is None:
        pytest.skip("needs a PostgreSQL server")
    with postgresql() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'store.sqlite'}"
    address: str = request.getfixturevalue("server")
    database = Database(address)
    with database.writing() as connection:
        connection.execute(text("DROP SCHEMA public CASCADE"))
        connection.execute(text("CREATE SCHEMA public"))
    database.close()
    return address


@pytest.fixture
def store(url: str) -> Iterator[Store]:
    opened = Store(url)
    yield opened
    opened.close()
