"""One form for everything that leaves or enters the store whole: a backup of all records, or a single job with its history.

A ZIP file: ``archive.json`` lists records, states and packs in order, ``blob/SHA256`` holds each content once. It is written from one
moment of the store, read back and checked before it counts, and says nothing of the engine it came from.
"""

from __future__ import annotations

import json
import os
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory, mkstemp
from typing import IO, Any, Final

from sqlalchemy import Connection, Table, delete, insert, select

from halfsilver.errors import JobError, StoreError
from halfsilver.store import tables as t
from halfsilver.store.archive_list import (
    BLOB,
    FORMAT,
    LIST,
    OF_A_STORE,
    ROWS,
    Limits,
    Rows,
    content_of,
    digests_of,
    opened,
    refused,
    rows_of,
)
from halfsilver.store.store import IN_ONE_QUESTION, Store
from halfsilver.store.values import NoSuchRecordError

ONE_TIME: Final = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """What an archive holds."""

    records: int
    states: int
    packs: int
    contents: int


def write_archive(store: Store, target: IO[bytes], *, records: Iterable[str] | None = None) -> Counted:
    """Write records with all they have been.

    Parameters
    ----------
    store : Store
        Where they are; others may go on writing to it meanwhile.
    target : binary file
        Where the ZIP goes.
    records : iterable of str, optional
        Ids; all by default.

    Raises
    ------
    StoreError
        If one of them does not exist, or the engine refuses.
    """
    wanted = None if records is None else sorted(set(records))
    with store.database.reading() as connection, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        rows = {table.name: _rows(connection, table, wanted) for table in ROWS}
        if lacking := sorted(set(wanted or ()) - {row["id"] for row in rows["record"]}):
            raise NoSuchRecordError(f'There is no "{lacking[0][:50]}" in the store.')
        hashes = digests_of(rows)
        told = json.dumps({"format": FORMAT, "rows": rows}, ensure_ascii=False, indent=0)
        archive.writestr(zipfile.ZipInfo(LIST, ONE_TIME), told, zipfile.ZIP_DEFLATED)
        for start in range(0, len(hashes), IN_ONE_QUESTION // 20):
            some = hashes[start : start + IN_ONE_QUESTION // 20]
            for sha256, data in connection.execute(select(t.blob.c.sha256, t.blob.c.data).where(t.blob.c.sha256.in_(some))):
                archive.writestr(zipfile.ZipInfo(f"{BLOB}{sha256}", ONE_TIME), bytes(data), zipfile.ZIP_DEFLATED)
    return _counted(rows)


def read_archive(
    store: Store, source: IO[bytes] | Path, *, replace: bool = False, name: str = "", limits: Limits = OF_A_STORE
) -> Counted:  # fmt: skip
    """Take the records of an archive into a store, all of them or none.

    Parameters
    ----------
    store : Store
        Where they go.
    source : binary file or Path
        The ZIP.
    replace : bool
        Whether everything the store holds gives way to the archive (a restored backup); otherwise its records are added, and one
        whose id is taken refuses the whole archive.
    name : str
        Of the archive, as problems show it; by default its path.
    limits : Limits
        How much it may hold.

    Raises
    ------
    JobError
        If it is no archive, is damaged, or holds something it should not: where, what was read, and what is allowed.
    StoreError
        If the engine refuses. In either case the store is as it was.
    """
    shown = name or (str(source) if isinstance(source, Path) else "archive")
    with opened(source, name=shown, limits=limits) as archive:
        rows = rows_of(archive, limits)
        with store.database.writing() as connection:
            if replace:
                _emptied(connection)
            _check_free(connection, rows)
            _take(connection, archive, rows)
    return _counted(rows)


def back_up(store: Store, path: Path) -> Counted:
    """Write a backup of everything and prove it: it is restored into an empty store and compared before it takes its name.

    Raises
    ------
    StoreError
        If it cannot be written, or does not restore to the same.
    """
    if path.exists() or path.is_symlink():
        raise StoreError(f"{path}: this file is there already and is not overwritten. Name a new one.")
    try:
        handle, named = mkstemp(prefix=f".{path.name[:60]}.", suffix=".new", dir=path.parent)
    except OSError as error:
        raise StoreError(f"{path}: cannot be written ({error.strerror}). Name a place where you may write.") from None
    beside = Path(named)
    try:
        with os.fdopen(handle, "w+b") as target:
            counted = write_archive(store, target)
            target.flush()
            os.fsync(handle)
        _prove(beside, counted, path)
        beside.replace(path)
    except OSError as error:
        raise StoreError(f"{path}: cannot be written ({error.strerror}). Nothing was kept.") from None
    finally:
        beside.unlink(missing_ok=True)
    return counted


def _prove(beside: Path, counted: Counted, path: Path) -> None:
    with TemporaryDirectory() as folder, Store(f"sqlite:///{Path(folder) / 'proof.sqlite'}") as proof:
        try:
            found = read_archive(proof, beside)
        except JobError as error:
            raise StoreError(f"{path}: the backup does not restore ({error.problems[0].allowed}). Nothing was kept.") from None
    if found != counted:
        raise StoreError(f"{path}: the backup does not restore to the same. Nothing was kept; try again.")


def _counted(rows: Rows) -> Counted:
    records, states, packs = (len(rows[name]) for name in ("record", "state", "pack"))
    return Counted(records=records, states=states, packs=packs, contents=len(digests_of(rows)))


def _rows(connection: Connection, table: Table, wanted: list[str] | None) -> list[dict[str, Any]]:
    key = table.c.id if table is t.record else table.c.record
    query = select(table).order_by(*table.primary_key.columns)
    if wanted is None:
        return [dict(row._mapping) for row in connection.execute(query)]
    found: list[dict[str, Any]] = []
    for start in range(0, len(wanted), IN_ONE_QUESTION):
        found.extend(dict(row._mapping) for row in connection.execute(query.where(key.in_(wanted[start : start + IN_ONE_QUESTION]))))
    return found


def _emptied(connection: Connection) -> None:
    for table in (*reversed(ROWS), t.blob):
        connection.execute(delete(table))


def _take(connection: Connection, archive: zipfile.ZipFile, rows: Rows) -> None:
    there = set(connection.execute(select(t.blob.c.sha256)).scalars())
    for sha256 in digests_of(rows):
        if sha256 not in there:
            data = content_of(archive, sha256)
            connection.execute(insert(t.blob).values(sha256=sha256, size=len(data), data=data))
    tokens = set(connection.execute(select(t.state.c.token).where(t.state.c.token.is_not(None))).scalars())
    states = [{**row, "token": None if row["token"] in tokens else row["token"]} for row in rows["state"]]
    for table in ROWS:
        kept = states if table is t.state else rows[table.name]
        for start in range(0, len(kept), IN_ONE_QUESTION):
            connection.execute(insert(table), kept[start : start + IN_ONE_QUESTION])


def _check_free(connection: Connection, rows: Rows) -> None:
    taken = set(connection.execute(select(t.record.c.id)).scalars()) & {row["id"] for row in rows["record"]}
    if taken:
        words = "The store has this one already, and nothing is overwritten."
        raise refused(
            "archive-taken", where="id", read=min(taken), allowed=words, advice="Open the one that is there, or name another store."
        )
