"""What an archive may hold: every entry, row and content of it is looked at before any of it counts.

Nothing of an archive is ever unpacked onto the disk: its names are looked up in the store's own tables, and its contents go there under
the digest of their bytes. So a name can mislead, but lead nowhere; it is refused all the same.
"""

from __future__ import annotations

import hashlib
import json
import re
import struct
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import IO, Any, Final

from sqlalchemy import Table

from halfsilver.errors import JobError, Problem
from halfsilver.store import tables as t
from halfsilver.store.store import ID, MOST_BYTES, NO_TEXT
from halfsilver.store.values import Kind

FORMAT: Final = "halfsilver/archive/1"
LIST: Final = "archive.json"
BLOB: Final = "blob/"
ROWS: Final = (t.record, t.state, t.state_file, t.pack, t.pack_file)  # each after those it refers to
MIB: Final = 1024 * 1024
MOST_RATIO: Final = 200  # what unpacks to more than a MiB and to more than this many times its size is a trap, not a document
LONGEST_TEXT: Final = 10_000
WHOLE: Final = "Take it from where it was written once more: it is taken in as it is or not at all. The store is as it was."

Row = dict[str, Any]
Rows = Mapping[str, list[Row]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How much an archive may hold.

    Parameters
    ----------
    entries : int
        Files in the ZIP.
    list_bytes, all_bytes : int
        Of its list, and of all that it unpacks to.
    """

    entries: int
    list_bytes: int
    all_bytes: int


OF_A_STORE: Final = Limits(entries=1_000_000, list_bytes=512 * MIB, all_bytes=1 << 44)
OF_A_JOB: Final = Limits(entries=20_000, list_bytes=16 * MIB, all_bytes=512 * MIB)


@contextmanager
def opened(source: IO[bytes] | Path, *, name: str, limits: Limits) -> Iterator[zipfile.ZipFile]:
    """The ZIP of an archive; whatever it stumbles over is told with the archive's name.

    Raises
    ------
    JobError
        If it is none, or is damaged.
    """
    try:
        _check_ending(source, limits)
        with zipfile.ZipFile(source) as archive:
            yield archive
    except JobError as error:
        raise JobError(replace(problem, file=name) for problem in error.problems) from None
    except (zipfile.BadZipFile, zlib.error, struct.error, OSError, EOFError, RuntimeError, ValueError, OverflowError) as error:
        # RuntimeError holds what is locked with a password, packed in a way of its own, or nested without end.
        why = str(error) or type(error).__name__
        told = refused("archive-damaged", read=why[:80], allowed="This is no archive, or it is damaged or was cut short.", advice=WHOLE)
        raise JobError(replace(problem, file=name) for problem in told.problems) from None


def rows_of(archive: zipfile.ZipFile, limits: Limits) -> Rows:
    """The list of an archive, every value of it looked at.

    Raises
    ------
    JobError
        If anything is other than it should be.
    """
    _check_entries(archive, limits)
    told = json.loads(_unpacked(archive, LIST, most=limits.list_bytes))
    _check_form(told)
    listed = told["rows"]
    if set(listed) - {table.name for table in ROWS} or not all(isinstance(rows, list) for rows in listed.values()):
        raise refused("archive-list", where="rows", allowed=f"It lists {', '.join(table.name for table in ROWS)}.")
    rows = {table.name: [_row(table, i, row) for i, row in enumerate(listed.get(table.name, ()))] for table in ROWS}
    _check_once(rows)
    _check_whole(rows)
    return rows


def digests_of(rows: Rows) -> list[str]:
    """SHA-256 of every content that the rows name."""
    return sorted({row["sha256"] for name in ("state_file", "pack_file") for row in rows[name]})


def content_of(archive: zipfile.ZipFile, sha256: str) -> bytes:
    """One content of an archive (raises `JobError` if it is not there, too large, or another)."""
    name = f"{BLOB}{sha256}"
    data = _unpacked(archive, name, most=MOST_BYTES)
    found = hashlib.sha256(data).hexdigest()
    if found != sha256:
        words = "A content is the one whose SHA-256 is its name; this one was changed."
        raise refused("archive-content", where=name, read=found, allowed=words)
    return data


def refused(code: str, *, where: str = "", read: str = "", allowed: str, advice: str = WHOLE) -> JobError:
    """Why an archive is not taken in."""
    return JobError([Problem(code=code, path=where, read=_shown(read), allowed=allowed, advice=advice)])


def _shown(text: str) -> str:
    return text[:80] if text.isprintable() else ascii(text[:60])[1:-1]


# The ZIP ---------------------------------------------------------------------------------------------------------------


def _check_ending(source: IO[bytes] | Path, limits: Limits) -> None:
    """A ZIP ends with the size of its directory: one that is too long is not even read."""
    with source.open("rb") if isinstance(source, Path) else _kept(source) as stream:
        stream.seek(0, 2)
        stream.seek(max(0, stream.tell() - 65_557))  # the longest ending: 22 bytes and a comment
        ending = stream.read()
    at = ending.rfind(b"PK\x05\x06")
    size = int.from_bytes(ending[at + 12 : at + 16], "little") if 0 <= at <= len(ending) - 22 else 0
    if size != 0xFFFFFFFF and size > limits.entries * 160:  # 46 bytes and the name of each entry
        raise _too_many(limits)


@contextmanager
def _kept(stream: IO[bytes]) -> Iterator[IO[bytes]]:
    yield stream
    stream.seek(0)


def _too_many(limits: Limits) -> JobError:
    return refused("archive-too-many", allowed=f"An archive has at most {limits.entries} files in it.", advice=WHOLE)


def _check_entries(archive: zipfile.ZipFile, limits: Limits) -> None:
    entries = archive.infolist()
    if len(entries) > limits.entries:
        raise _too_many(limits)
    seen: set[str] = set()
    for entry in entries:
        if entry.filename != LIST and not re.fullmatch(BLOB + "[0-9a-f]{64}", entry.filename):
            words = f"An archive holds {LIST}, and contents named {BLOB} and their SHA-256; nothing else is read."
            raise refused("archive-entry", where="file in it", read=entry.filename, allowed=words)
        if entry.filename in seen:
            raise refused("archive-twice", where="file in it", read=entry.filename, allowed="Every file in it stands once.")
        if entry.compress_type not in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED} or entry.flag_bits & 1:
            words = "Its files are stored or deflated, and not locked with a password."
            raise refused("archive-packing", where="file in it", read=entry.filename, allowed=words)
        seen.add(entry.filename)
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > limits.all_bytes:
        words = f"All of it unpacks to at most {limits.all_bytes // MIB} MiB."
        raise refused("archive-too-large", read=f"{unpacked // MIB} MiB", allowed=words)


def _unpacked(archive: zipfile.ZipFile, name: str, *, most: int) -> bytes:
    try:
        entry = archive.getinfo(name)
    except KeyError:
        raise refused("archive-lacks", where=name, allowed="The archive does not hold this file, which it needs.") from None
    least = max(MIB, MOST_RATIO * entry.compress_size)
    if entry.file_size > min(most, least):
        words = f"This file unpacks to at most {min(most, least) // MIB} MiB."
        raise refused("archive-too-large", where=name, read=f"{entry.file_size} bytes", allowed=words)
    with archive.open(entry) as stream:
        return stream.read(most)


# Its list --------------------------------------------------------------------------------------------------------------


def _check_form(told: Any) -> None:
    form = told.get("format") if isinstance(told, dict) else None
    if form == FORMAT and isinstance(told.get("rows"), dict):
        return
    words = f"This program reads the form {FORMAT}."
    if isinstance(form, str) and re.fullmatch(r"halfsilver/archive/\d{1,6}", form) and form != FORMAT:
        raise refused("newer-version", where=f"{LIST}: format", read=form, allowed=words, advice="Take it in with the newer program.")
    raise refused("archive-form", where=f"{LIST}: format", read=str(form), allowed=words)


def _row(table: Table, index: int, row: Any) -> Row:
    where = f"{LIST}: {table.name}[{index}]"
    if not isinstance(row, dict) or set(row) != {column.name for column in table.columns}:
        words = f"It has the fields {', '.join(column.name for column in table.columns)}, no more and no less."
        raise refused("archive-row", where=where, allowed=words)
    for column in table.columns:
        value, due = row[column.name], column.type.python_type
        if value is None and column.nullable:
            continue
        longest = getattr(column.type, "length", None) or LONGEST_TEXT
        if type(value) is not due or not _fits(value, longest):
            words = f"A text of at most {longest} characters." if due is str else "A whole number, 0 to 2147483647."
            raise refused("archive-value", where=f"{where}.{column.name}", read=str(value)[:80], allowed=words)
    for name, words in _at_odds(table, row):
        raise refused("archive-value", where=f"{where}.{name}", read=str(row[name]), allowed=words)
    return row


def _fits(value: str | int, longest: int) -> bool:
    return len(value) <= longest and not NO_TEXT.search(value) if isinstance(value, str) else 0 <= value < 2**31


def _at_odds(table: Table, row: Row) -> Iterator[tuple[str, str]]:
    """Values that no program of ours writes: the field, and what may stand there."""
    if table is t.record:
        if not ID.fullmatch(row["id"]):
            yield "id", "An id has small letters, digits and hyphens."
        if row["kind"] not in {kind.value for kind in Kind} or (row["kind"] == row["id"]) != (row["kind"] == Kind.WORKSHOP.value):
            yield "kind", f"A record is a {Kind.JOB.value}, or the one {Kind.WORKSHOP.value}, whose id is that word."
    if "name" in row and not _plain_name(row["name"]):
        yield "name", "The name of a file in the store leads nowhere else: no .., no drive, no / at its beginning."
    if "sha256" in row and not re.fullmatch(r"[0-9a-f]{64}", row["sha256"]):
        yield "sha256", "A SHA-256 has 64 digits, 0 to f."
    if "at" in row and not _is_time(row["at"], datetime.fromisoformat):
        yield "at", "A moment as YYYY-MM-DDThh:mm:ssZ."
    for name in {"due_on", "date"} & set(row):
        if not (_is_time(row[name], date.fromisoformat) or (name == "due_on" and not row[name])):
            yield name, "A date as YYYY-MM-DD."


def _is_time(text: str, read: Any) -> bool:
    try:
        read(text)
    except ValueError:
        return False
    return True


def _plain_name(name: str) -> bool:
    plain = bool(name) and name.isprintable() and "\\" not in name and not re.match("[A-Za-z]:", name)
    return plain and not {"", ".", ".."} & set(name.split("/"))


def _check_once(rows: Rows) -> None:
    """Nothing stands twice, and what a row leans on is there."""
    keys: dict[str, set[tuple[Any, ...]]] = {}
    for table in ROWS:
        names = [column.name for column in table.primary_key.columns]
        found = [tuple(row[name] for name in names) for row in rows[table.name]]
        keys[table.name] = set(found)
        if len(keys[table.name]) < len(found):
            twice = Counter(found).most_common(1)[0][0]
            raise refused("archive-twice", where=f"{LIST}: {table.name}", read=str(twice), allowed="Every row stands once.")
    leaning = {"state_file": ("state", "number"), "pack": ("state", "number"), "pack_file": ("pack", "revision")}
    for name, (on, number) in leaning.items():
        for i, row in enumerate(rows[name]):
            if (row["record"], row[number]) not in keys[on]:
                read = f"{row['record']}, {number} {row[number]}"
                raise refused("archive-lacks", where=f"{LIST}: {name}[{i}]", read=read, allowed=f"It belongs to a {on} that is not there.")
    tokens = [row["token"] for row in rows["state"] if row["token"]]
    if len(set(tokens)) < len(tokens):
        raise refused("archive-twice", where=f"{LIST}: state.token", allowed="Every change has a token of its own.")


def _check_whole(rows: Rows) -> None:
    """Every record's states are there from the first to the one that stands."""
    numbers: dict[str, list[int]] = {row["id"]: [] for row in rows["record"]}
    for row in rows["state"]:
        numbers.setdefault(row["record"], []).append(row["number"])
    heads = {row["id"]: row["head"] for row in rows["record"]}
    for record, found in numbers.items():
        head = heads.get(record, 0)
        if not head or sorted(found) != list(range(1, head + 1)):
            words = f"Its states are there from 1 to the one that stands, {head}; of this record some are missing."
            raise refused("archive-gaps", where=f"{LIST}: state", read=record, allowed=words)
