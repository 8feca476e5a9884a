"""The store itself: read a record, append a state to it, look back, keep packs."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from importlib import import_module
from typing import Any

from sqlalchemy import Connection, Row, Table, insert, select, update

from halfsilver.errors import StoreError
from halfsilver.store import tables as t
from halfsilver.store.database import Database
from halfsilver.store.migrate import migrate
from halfsilver.store.values import ConflictError, Content, Kind, Made, NoSuchRecordError, Pack, State

ID = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
MOST_FILES, LONGEST_NAME = 400, 200
MOST_BYTES = 64 * 1024 * 1024
MOST_STATES = 2**31 - 1
NO_TEXT = re.compile("[\x00\ud800-\udfff]")  # not every engine can hold them
IN_ONE_QUESTION = 400  # values of one IN (...): well under the engines' limits


class Store:
    """Jobs and workshop with all they have been.

    Parameters
    ----------
    url : str
        ``sqlite:///PATH`` or ``postgresql+psycopg://...``; the tables are made, or brought to today's form.

    Raises
    ------
    StoreError
        If it cannot be opened.
    """

    def __init__(self, url: str) -> None:
        self.database = Database(url)
        try:
            migrate(self.database)
        except BaseException:
            self.database.close()
            raise

    def close(self) -> None:
        """Give back every connection."""
        self.database.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # Changing ------------------------------------------------------------------------------------------------------

    def begin(self, record: str, kind: Kind, content: Content, made: Made) -> State:
        """A new record with its first state.

        Parameters
        ----------
        record : str
            Id: small letters, digits and hyphens.
        kind : Kind
            What it is.
        content, made : Content, Made
            What it holds, and who says so.

        Returns
        -------
        State
            The state that stands now; with a token that was seen before, the one that was made then.

        Raises
        ------
        StoreError
            If the id is taken or unusable, a file is too large, or the engine refuses.
        """
        if not ID.fullmatch(record):
            raise StoreError(f'A record\'s id has small letters, digits and hyphens, at most 40; "{record[:50]}" was given.')
        with self.database.writing() as connection:
            if seen := _by_token(connection, made.token):
                return seen
            if connection.execute(select(t.record.c.id).where(t.record.c.id == record)).first():
                raise StoreError(f"The id {record} is taken.")
            connection.execute(insert(t.record).values(id=record, kind=kind.value, head=1))
            return self._written(connection, record, 1, content, made)

    def append(self, record: str, content: Content, made: Made, *, based_on: int) -> State:
        """A further state of a record.

        Parameters
        ----------
        record : str
            Its id.
        content, made : Content, Made
            What it holds now, and who says so.
        based_on : int
            Number of the state that was changed.

        Returns
        -------
        State
            As in `begin`.

        Raises
        ------
        ConflictError
            If another state stands by now: nothing was written.
        NoSuchRecordError, StoreError
            If there is no such record, a file is too large, or the engine refuses.
        """
        with self.database.writing() as connection:
            if seen := _by_token(connection, made.token):
                return seen
            moved = connection.execute(
                update(t.record).where(t.record.c.id == record, t.record.c.head == based_on).values(head=based_on + 1)
            )
            if moved.rowcount != 1:
                raise ConflictError(based_on=based_on, head=_head(connection, record))
            return self._written(connection, record, based_on + 1, content, made)

    def keep_pack(self, pack: Pack, files: Mapping[str, bytes]) -> Pack:
        """Keep a pack that was issued, under its revision.

        Raises
        ------
        StoreError
            If that revision was kept before, or the engine refuses.
        """
        with self.database.writing() as connection:
            taken = select(t.pack.c.revision).where(t.pack.c.record == pack.record, t.pack.c.revision == pack.revision)
            if connection.execute(taken).first():
                raise StoreError(f"Revision {pack.revision} of {pack.record} was issued before and is never overwritten.")
            kept = _with_blobs(connection, files)
            row = {name: getattr(pack, name) for name in ("record", "revision", "number", "at", "by", "date")}
            connection.execute(insert(t.pack).values(**row))
            _add_files(connection, t.pack_file, {"record": pack.record, "revision": pack.revision}, kept)
        return Pack(**row, files=kept)

    # Looking -------------------------------------------------------------------------------------------------------

    def head(self, record: str) -> State:
        """The state that stands.

        Raises
        ------
        NoSuchRecordError
            If there is no such record.
        """
        with self.database.reading() as connection:
            return _head(connection, record)

    def standing(self, records: Iterable[str]) -> tuple[State, ...]:
        """The states that stand of those of some records that there are, by their ids."""
        query = _rows().where(t.record.c.id.in_(list(records)), t.state.c.number == t.record.c.head).order_by(t.record.c.id)
        with self.database.reading() as connection:
            return _states(connection, query)

    def state(self, record: str, number: int) -> State:
        """A state of the past (errors as `head`)."""
        with self.database.reading() as connection:
            return _state(connection, record, number)

    def written(self, token: str) -> State | None:
        """The state that was sent under a token; None where none was."""
        with self.database.reading() as connection:
            return _by_token(connection, token)

    def history(self, record: str) -> tuple[State, ...]:
        """Every state of a record, the first one first (errors as `head`)."""
        with self.database.reading() as connection:
            found = _states(connection, _rows().where(t.state.c.record == record).order_by(t.state.c.number))
        if not found:
            raise NoSuchRecordError(f'There is no "{record[:50]}" in the store.')
        return found

    def heads(self, kind: Kind, *, words: str = "", stage: str = "", most: int = 500, skip: int = 0) -> tuple[State, ...]:
        """The standing states of all records of a kind, those due first at the top.

        Parameters
        ----------
        kind : Kind
            Of which kind.
        words : str
            Only those that have every one of these words in title, client or id.
        stage : str
            Only those at this stage.
        most, skip : int
            A page of them.
        """
        query = _rows().where(t.record.c.kind == kind.value, t.state.c.number == t.record.c.head)
        if stage:
            query = query.where(t.state.c.stage == stage)
        no_date = (t.state.c.due_on == "").asc()
        query = query.order_by(no_date, t.state.c.due_on, t.record.c.id)
        wanted = _plain(words).casefold().split()[:8]
        with self.database.reading() as connection:
            rows = connection.execute(query if wanted else query.limit(most).offset(skip)).all()
            if wanted:  # sought here, for an engine knows capitals of its own locale alone
                rows = [row for row in rows if _has(row, wanted)][skip : skip + most]
            return _of_rows(connection, rows)

    def content(self, state: State) -> Content:
        """What a state holds, with its files."""
        files = self.blobs(state.files.values())
        return Content(
            title=state.title,
            client=state.client,
            stage=state.stage,
            due_on=state.due_on,
            files={name: files[sha256] for name, sha256 in state.files.items()},
        )

    def blobs(self, wanted: Iterable[str]) -> dict[str, bytes]:
        """Contents by their SHA-256.

        Raises
        ------
        NoSuchRecordError
            If one of them is not in the store.
        """
        names = sorted(set(wanted))
        found: dict[str, bytes] = {}
        with self.database.reading() as connection:
            for start in range(0, len(names), IN_ONE_QUESTION):
                query = select(t.blob.c.sha256, t.blob.c.data).where(t.blob.c.sha256.in_(names[start : start + IN_ONE_QUESTION]))
                found |= {sha256: bytes(data) for sha256, data in connection.execute(query)}
        if lacking := [name for name in names if name not in found]:
            raise NoSuchRecordError(f"The store has no content {lacking[0]}.")
        return found

    def packs(self, record: str) -> tuple[Pack, ...]:
        """The packs of a record, the first revision first."""
        with self.database.reading() as connection:
            rows = connection.execute(select(t.pack).where(t.pack.c.record == record).order_by(t.pack.c.revision)).all()
            return tuple(Pack(**row._mapping, files=_files(connection, t.pack_file, record, revision=row.revision)) for row in rows)

    def _written(self, connection: Connection, record: str, number: int, content: Content, made: Made) -> State:
        kept = _with_blobs(connection, content.files)
        row = {
            "record": record, "number": number, "at": made.at, "by": _plain(made.by)[:80], "what": made.what,
            "words": _plain(made.words), "token": _plain(made.token) or None, "title": _plain(content.title),
            "client": _plain(content.client), "stage": content.stage, "due_on": content.due_on,
        }  # fmt: skip
        connection.execute(insert(t.state).values(**row))
        _add_files(connection, t.state_file, {"record": record, "number": number}, kept)
        return _state(connection, record, number)


def _rows() -> Any:
    return select(t.state, t.record.c.kind).join(t.record, t.record.c.id == t.state.c.record)


def _states(connection: Connection, query: Any) -> tuple[State, ...]:
    return _of_rows(connection, connection.execute(query).all())


def _has(row: Any, words: Sequence[str]) -> bool:
    text = f"{row.title} {row.client} {row.record}".casefold()
    return all(word in text for word in words)


def _of_rows(connection: Connection, rows: Sequence[Any]) -> tuple[State, ...]:
    files = _files_of(connection, {(row.record, row.number) for row in rows})
    return tuple(_as_state(row, files.get((row.record, row.number), {})) for row in rows)


def _as_state(row: Row[Any], files: Mapping[str, str]) -> State:
    made = Made(by=row.by, at=row.at, what=row.what, words=row.words, token=row.token or "")
    return State(
        record=row.record, kind=Kind(row.kind), number=row.number, made=made,
        title=row.title, client=row.client, stage=row.stage, due_on=row.due_on, files=files,
    )  # fmt: skip


def _files_of(connection: Connection, wanted: set[tuple[str, int]]) -> dict[tuple[str, int], dict[str, str]]:
    records = sorted({record for record, _ in wanted})
    found: dict[tuple[str, int], dict[str, str]] = {}
    for start in range(0, len(records), IN_ONE_QUESTION):
        query = (
            select(t.state_file).where(t.state_file.c.record.in_(records[start : start + IN_ONE_QUESTION])).order_by(t.state_file.c.name)
        )
        for row in connection.execute(query):
            if (row.record, row.number) in wanted:
                found.setdefault((row.record, row.number), {})[row.name] = row.sha256
    return found


def _files(connection: Connection, table: Table, record: str, **place: int) -> dict[str, str]:
    query = select(table.c.name, table.c.sha256).where(table.c.record == record).order_by(table.c.name)
    for name, value in place.items():
        query = query.where(table.c[name] == value)
    return {row.name: row.sha256 for row in connection.execute(query)}


def _state(connection: Connection, record: str, number: int) -> State:
    known = 0 < number <= MOST_STATES  # an engine refuses a number that its column cannot hold
    row = connection.execute(_rows().where(t.state.c.record == record, t.state.c.number == number)).first() if known else None
    if row is None:
        raise NoSuchRecordError(f'There is no state {number} of "{record[:50]}" in the store.')
    return _as_state(row, _files(connection, t.state_file, record, number=number))


def _head(connection: Connection, record: str) -> State:
    number = connection.execute(select(t.record.c.head).where(t.record.c.id == record)).scalar()
    if number is None:
        raise NoSuchRecordError(f'There is no "{record[:50]}" in the store.')
    return _state(connection, record, number)


def _by_token(connection: Connection, token: str) -> State | None:
    token = _plain(token)
    if not token:
        return None
    row = connection.execute(select(t.state.c.record, t.state.c.number).where(t.state.c.token == token)).first()
    return _state(connection, row.record, row.number) if row else None


def _plain(text: str) -> str:
    return NO_TEXT.sub("", text)


def _with_blobs(connection: Connection, files: Mapping[str, bytes]) -> dict[str, str]:
    """Keep the contents that are not there yet; the names with their SHA-256."""
    _check_files(files)
    kept = {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    rows = {kept[name]: {"sha256": kept[name], "size": len(data), "data": bytes(data)} for name, data in files.items()}
    if rows:
        engine = import_module(f"sqlalchemy.dialects.{connection.dialect.name}")  # loading both takes as long as a page
        connection.execute(engine.insert(t.blob).on_conflict_do_nothing(), list(rows.values()))
    return kept


def _check_files(files: Mapping[str, bytes]) -> None:
    if len(files) > MOST_FILES:
        raise StoreError(f"At most {MOST_FILES} files belong to one state.")
    for name, data in files.items():
        steps = name.split("/")
        if not name or len(name) > LONGEST_NAME or not name.isprintable() or "\\" in name or {"", ".", ".."} & set(steps):
            raise StoreError(f'"{name[:60]!a}" cannot be a file\'s name in the store.')
        if len(data) > MOST_BYTES:
            raise StoreError(f"{name}: a file has at most {MOST_BYTES // 1024**2} MiB.")


def _add_files(connection: Connection, table: Table, place: dict[str, Any], kept: Mapping[str, str]) -> None:
    if kept:
        connection.execute(insert(table), [{**place, "name": name, "sha256": sha256} for name, sha256 in sorted(kept.items())])
