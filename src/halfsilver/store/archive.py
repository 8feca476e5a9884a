"""One form for everything that leaves or enters the store whole: a backup of all records, or a single job with its history.

A ZIP file: ``archive.json`` lists records, states and packs in order, ``blob/SHA256`` holds each content once. It is written from one
moment of the store, read back and checked before it counts, and says nothing of the engine it came from.
"""

from __future__ import annotations

import hashlib
import json
import re
import zipfile
import zlib
from collections.abc import Iterable
from dataclasses import dataclass
from lzma import LZMAError
from pathlib import Path
from typing import IO, Any, Final

from sqlalchemy import Connection, Table, delete, insert, select

from halfsilver.errors import StoreError
from halfsilver.store import tables as t
from halfsilver.store.store import ID, IN_ONE_QUESTION, MOST_BYTES, Store

FORMAT: Final = "halfsilver/archive/1"
LIST: Final = "archive.json"
ROWS: Final = (t.record, t.state, t.state_file, t.pack, t.pack_file)  # each after those it refers to
MOST_LIST: Final = 256 * 1024 * 1024
MOST_ENTRIES: Final = 200_000
MOST_RATIO: Final = 2000  # a content that unpacks to more than this many times its size is a trap, not a document
LONGEST_TEXT: Final = 10_000
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
            raise StoreError(f'There is no "{lacking[0][:50]}" in the store.')
        hashes = sorted({row["sha256"] for name in ("state_file", "pack_file") for row in rows[name]})
        told = json.dumps({"format": FORMAT, "rows": rows}, ensure_ascii=False, indent=0)
        archive.writestr(zipfile.ZipInfo(LIST, ONE_TIME), told, zipfile.ZIP_DEFLATED)
        for start in range(0, len(hashes), IN_ONE_QUESTION // 20):
            some = hashes[start : start + IN_ONE_QUESTION // 20]
            for sha256, data in connection.execute(select(t.blob.c.sha256, t.blob.c.data).where(t.blob.c.sha256.in_(some))):
                archive.writestr(zipfile.ZipInfo(f"blob/{sha256}", ONE_TIME), bytes(data), zipfile.ZIP_DEFLATED)
    return Counted(records=len(rows["record"]), states=len(rows["state"]), packs=len(rows["pack"]), contents=len(hashes))


def read_archive(store: Store, source: IO[bytes] | Path, *, replace: bool = False) -> Counted:
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

    Raises
    ------
    StoreError
        If it is no archive, is damaged, holds something it should not, or the engine refuses. The store is as it was then.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            rows = _listed(archive)
            hashes = sorted({row["sha256"] for name in ("state_file", "pack_file") for row in rows[name]})
            with store.database.writing() as connection:
                if replace:
                    _emptied(connection)
                taken = set(connection.execute(select(t.record.c.id)).scalars()) & {row["id"] for row in rows["record"]}
                if taken:
                    raise _refused(f"the store has {min(taken)} already")
                _take(connection, archive, rows, hashes)
    except (zipfile.BadZipFile, zlib.error, LZMAError, OSError, EOFError, RuntimeError, ValueError, RecursionError) as error:
        raise _refused(str(error) or type(error).__name__) from None
    return Counted(records=len(rows["record"]), states=len(rows["state"]), packs=len(rows["pack"]), contents=len(hashes))


def back_up(store: Store, path: Path) -> Counted:
    """Write a backup of everything and prove it: it is restored into an empty store and compared before it takes its name.

    Raises
    ------
    StoreError
        If it cannot be written, or does not restore to the same.
    """
    from tempfile import TemporaryDirectory

    if path.exists():
        raise StoreError(f"{path}: this file is there already and is not overwritten. Name a new one.")
    beside = path.with_name(f".{path.name}.new")
    try:
        with beside.open("wb") as target:
            counted = write_archive(store, target)
        with TemporaryDirectory() as folder:
            proof = Store(f"sqlite:///{Path(folder) / 'proof.sqlite'}")
            try:
                if read_archive(proof, beside) != counted:
                    raise StoreError(f"{path}: the backup does not restore to the same. Nothing was kept; try again.")
            finally:
                proof.close()
        beside.replace(path)
    except OSError as error:
        raise StoreError(f"{path}: cannot be written ({error.strerror}).") from None
    finally:
        beside.unlink(missing_ok=True)
    return counted


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


def _listed(archive: zipfile.ZipFile) -> dict[str, list[dict[str, Any]]]:
    """The list of an archive, every value of it looked at."""
    entries = archive.infolist()
    if len(entries) > MOST_ENTRIES:
        raise _refused("it has too many entries")
    names = {entry.filename for entry in entries}
    if LIST not in names or len(names) != len(entries):
        raise _refused(f"it holds no {LIST}, or something twice")
    told = json.loads(_read(archive, LIST, most=MOST_LIST))
    if not isinstance(told, dict) or told.get("format") != FORMAT or not isinstance(told.get("rows"), dict):
        raise _refused(f"its {LIST} is not of the form {FORMAT}")
    return {table.name: [_row(table, row) for row in told["rows"].get(table.name, ())] for table in ROWS}


def _row(table: Table, row: Any) -> dict[str, Any]:
    if not isinstance(row, dict) or set(row) != {column.name for column in table.columns}:
        raise _refused(f"a row of {table.name} has other fields than it should")
    for column in table.columns:
        value, due = row[column.name], column.type.python_type
        if value is None and column.nullable:
            continue
        if type(value) is not due or not _fits(value, getattr(column.type, "length", None) or LONGEST_TEXT):
            raise _refused(f"{table.name}.{column.name} holds what it should not")
    if table is t.record and not ID.fullmatch(row["id"]):
        raise _refused("an id has other characters than it should")
    if "name" in row and not _plain_name(row["name"]):
        raise _refused("a file's name leads out of the store")
    if "sha256" in row and not re.fullmatch(r"[0-9a-f]{64}", row["sha256"]):
        raise _refused("a SHA-256 is none")
    return row


def _fits(value: str | int, longest: int) -> bool:
    return len(value) <= longest if isinstance(value, str) else 0 <= value < 2**31


def _plain_name(name: str) -> bool:
    return bool(name) and name.isprintable() and "\\" not in name and not {"", ".", ".."} & set(name.split("/"))


def _take(connection: Connection, archive: zipfile.ZipFile, rows: dict[str, list[dict[str, Any]]], hashes: list[str]) -> None:
    there = set(connection.execute(select(t.blob.c.sha256)).scalars())
    for sha256 in hashes:
        if sha256 in there:
            continue
        data = _read(archive, f"blob/{sha256}", most=MOST_BYTES)
        if hashlib.sha256(data).hexdigest() != sha256:
            raise _refused("a content is not the one its name says")
        connection.execute(insert(t.blob).values(sha256=sha256, size=len(data), data=data))
    tokens = set(connection.execute(select(t.state.c.token).where(t.state.c.token.is_not(None))).scalars())
    for row in rows["state"]:
        row["token"] = None if row["token"] in tokens else row["token"]
    _check_whole(rows)
    for table in ROWS:
        for start in range(0, len(rows[table.name]), IN_ONE_QUESTION):
            connection.execute(insert(table), rows[table.name][start : start + IN_ONE_QUESTION])


def _check_whole(rows: dict[str, list[dict[str, Any]]]) -> None:
    """Every record's states are there from the first to the one that stands."""
    numbers: dict[str, list[int]] = {row["id"]: [] for row in rows["record"]}
    for row in rows["state"]:
        numbers.setdefault(row["record"], []).append(row["number"])
    heads = {row["id"]: row["head"] for row in rows["record"]}
    for record, found in numbers.items():
        if sorted(found) != list(range(1, heads.get(record, 0) + 1)):
            raise _refused(f"the history of {record[:50]} has gaps")


def _read(archive: zipfile.ZipFile, name: str, *, most: int) -> bytes:
    try:
        entry = archive.getinfo(name)
    except KeyError:
        raise _refused(f"it lacks {name}") from None
    if entry.file_size > most or entry.file_size > MOST_RATIO * max(entry.compress_size, 1):
        raise _refused(f"{name} unpacks to more than it may")
    with archive.open(entry) as stream:
        data = stream.read(most + 1)
    if len(data) > most:
        raise _refused(f"{name} unpacks to more than it may")
    return data


def _refused(why: str) -> StoreError:
    return StoreError(f"This archive cannot be taken in: {why}. The store is as it was.")
