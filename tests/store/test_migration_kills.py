"""Programs that are killed while they bring a store to today's form, and several that begin at once: the old form or the new, whole."""

from __future__ import annotations

import os
import random
import signal
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from alembic import command  # noqa: F401  (loaded before the fork, so that a kill meets the migration and not its loading)
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import text

from halfsilver.store.database import Database
from halfsilver.store.migrate import HEAD, migrate, version_of
from halfsilver.store.store import Store
from halfsilver.store.tables import metadata
from halfsilver.store.values import Kind
from stores import content, made

KILLS = 60
LONGEST_S = 0.06

posix = pytest.mark.skipif(not hasattr(os, "fork"), reason="forks are POSIX")


def earlier(url: str, form: str | None) -> None:
    """A store as an earlier program left it, with a record in it."""
    if form is None:
        return
    database = Database(url)
    migrate(database, to=form)
    with database.writing() as connection:
        connection.execute(text("INSERT INTO record (id, kind, head) VALUES ('old', 'job', 1)"))
        row = "INSERT INTO state VALUES ('old', 1, '2026-03-04T08:00:00Z', 'AB', 'begun', '', NULL, 'Old', '', 'asked', '')"
        connection.execute(text(row))
    database.close()


def killed_migration(url: str, after_s: float) -> bool:
    """Whether a child that was killed that long after it began had ended by then."""
    child = os.fork()
    if child == 0:
        try:
            Store(url)
        finally:
            os._exit(0)
    time.sleep(after_s)
    os.kill(child, signal.SIGKILL)
    return os.WIFEXITED(os.waitpid(child, 0)[1])


@posix
@pytest.mark.filterwarnings("ignore:.*multi-threaded:DeprecationWarning")
@pytest.mark.parametrize("form", [None, "0001"])
def test_a_kill_leaves_the_old_form_or_the_new(tmp_path: Path, form: str | None) -> None:
    chance = random.Random(20260304)
    early = 0
    for kill in range(KILLS // 2):
        path = tmp_path / f"{kill}.sqlite"
        url = f"sqlite:///{path}"
        earlier(url, form)
        early += not killed_migration(url, chance.uniform(0.0, LONGEST_S))
        database = Database(url)
        with database.reading() as connection:
            assert version_of(connection) in {form, HEAD}
            assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
        database.close()
        with Store(url) as store:
            assert [state.title for state in store.heads(Kind.JOB)] == ([] if form is None else ["Old"])
            store.begin("new", Kind.JOB, content(), made())
            with store.database.writing() as connection:
                assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        for left in tmp_path.iterdir():
            left.unlink()
    assert early > 0


def test_programs_that_begin_at_once_make_one_store(url: str) -> None:
    def begin(who: int) -> str:
        with Store(url) as store:
            return store.begin(f"job-{who}", Kind.JOB, content(), made()).record

    with ThreadPoolExecutor(6) as pool:
        assert len(set(pool.map(begin, range(6)))) == 6
    with Store(url) as store:
        assert len(store.heads(Kind.JOB)) == 6
