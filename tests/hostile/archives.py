"""Archives that somebody might bring by mistake or in bad faith, made from a good one: name to bytes, and the code of their refusal."""

from __future__ import annotations

import io
import json
import struct
import zipfile
from collections.abc import Callable, Mapping
from functools import cache
from hashlib import sha256
from typing import Any

from halfsilver.store.archive_list import LIST

Told = dict[str, Any]
MIB = 1024 * 1024
NAMES = (
    "../../etc/passwd", "..\\..\\win.ini", "/etc/passwd", "C:\\x", "C:/x", "//server/share/x", "blob/../../x", "blob/" + "a" * 64 + "/..",
    "blob/" + "A" * 64, "archive.json/", "__MACOSX/x", "a" * 65_000, "ä\u202etxt.exe", "\x01", "job.yaml", "inner.zip",
)  # fmt: skip


def entries_of(archive: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(archive)) as old:
        return {entry.filename: old.read(entry) for entry in old.infolist()}


def zipped(entries: Mapping[str, bytes], *, how: int = zipfile.ZIP_DEFLATED, more: tuple[tuple[Any, bytes], ...] = ()) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", how) as new:
        for name, data in (*entries.items(), *more):
            new.writestr(name, data)
    return target.getvalue()


def with_list(archive: bytes, change: Callable[[Told], object]) -> bytes:
    entries = entries_of(archive)
    told = json.loads(entries[LIST])
    change(told)
    return zipped({**entries, LIST: json.dumps(told).encode()})


def with_job(archive: bytes, data: bytes) -> bytes:
    """Every job file of it exchanged for other bytes, honestly named."""
    name = sha256(data).hexdigest()
    entries = entries_of(archive)
    told = json.loads(entries[LIST])
    for row in told["rows"]["state_file"]:
        row["sha256"] = name
    return zipped({LIST: json.dumps(told).encode(), f"blob/{name}": data})


@cache
def hostile_archives(good: bytes) -> dict[str, tuple[bytes, str]]:
    """Those that no store takes in."""
    return {**_zips(good), **_packed(good), **_lists(good), **_values(good)}


@cache
def unfit_archives(good: bytes) -> dict[str, tuple[bytes, str]]:
    """Sound in themselves, but not to be worked with."""

    def renamed(told: Told, new: str) -> None:
        for name, key in (("record", "id"), ("state", "record"), ("state_file", "record"), ("pack", "record"), ("pack_file", "record")):
            for row in told["rows"][name]:
                row[key] = new

    def set_all(table: str, /, **values: object) -> Callable[[Told], object]:
        return lambda told: [row.update(values) for row in told["rows"][table]]

    return {
        "stage": (with_list(good, set_all("state", stage="stolen")), "unknown-stage"),
        "no job file": (with_list(good, set_all("state_file", name="other.txt")), "archive-lacks"),
        "binary job file": (with_job(good, b"\x00\x01\x02"), "not-utf-8"),
        "aliases in the job file": (with_job(good, b"halfsilver: job/1\na: &a [*a]\n"), "anchor"),
        "newer job file": (with_job(good, b"halfsilver: job/9\ntitle: x\n"), "newer-version"),
        "large job file": (with_job(good, b"".join(b"# %a\n" % sha256(b"%d" % i).hexdigest() for i in range(16_000))), "file-too-large"),
        "option without its job": (with_list(good, lambda told: renamed(told, "lost--b")), "archive-option"),
        "option of no letter": (with_list(good, lambda told: renamed(told, "lost--z")), "archive-option"),
        "a workshop": (
            with_list(good, lambda told: (renamed(told, "workshop"), told["rows"]["record"][0].update(kind="workshop"))),
            "archive-no-job",
        ),
        "nothing": (with_list(good, lambda told: told.update(rows={})), "archive-no-job"),
    }


def _zips(good: bytes) -> dict[str, tuple[bytes, str]]:
    entries = entries_of(good)
    link = zipfile.ZipInfo("blob/" + "c" * 64 + "x")
    link.external_attr = 0o120777 << 16
    true_link = zipfile.ZipInfo("link")
    true_link.external_attr = 0o120777 << 16
    found = {f"name {name[:20]!a}": (zipped(entries, more=((name, b"x"),)), "archive-entry") for name in NAMES}
    return found | {
        "symbolic link": (zipped(entries, more=((true_link, b"/etc/passwd"),)), "archive-entry"),
        "link for a content": (zipped(entries, more=((link, b"/etc/passwd"),)), "archive-entry"),
        "entry twice": (_doubled(entries), "archive-twice"),
        "many entries": (zipped({**entries, **{f"blob/{i:064x}": b"" for i in range(21_000)}}, how=zipfile.ZIP_STORED), "archive-too-many"),
        "empty zip": (zipped({}), "archive-lacks"),
        "no list": (zipped({name: data for name, data in entries.items() if name != LIST}), "archive-lacks"),
        "nested": (zipped({"inner.zip": good}), "archive-entry"),
        "locked": (_flagged(good, 1), "archive-packing"),
        "other packing": (zipped(entries, how=zipfile.ZIP_LZMA), "archive-packing"),
        "cut short": (good[: len(good) // 2], "archive-damaged"),
        "last byte gone": (good[:-1], "archive-damaged"),
        "first byte alone": (b"PK", "archive-damaged"),
        "zip of another kind": (zipped({"word/document.xml": b"<x/>"}), "archive-entry"),
        "flipped bits": (good[:60] + bytes(b ^ 0xFF for b in good[60:90]) + good[90:], "archive-damaged"),
    }


def _packed(good: bytes) -> dict[str, tuple[bytes, str]]:
    entries = entries_of(good)
    blobs = [name for name in entries if name != LIST]
    return {
        "bomb": (zipped({**entries, blobs[0]: bytes(40 * MIB)}), "archive-too-large"),
        "many bombs": (_saying(zipped({LIST: entries[LIST], **{f"blob/{i:064x}": b"x" for i in range(9)}}), 60 * MIB), "archive-too-large"),
        "list that is a bomb": (zipped({**entries, LIST: b" " * (20 * MIB)}), "archive-too-large"),
        "size that lies": (_saying(good, 10), "archive-damaged"),
        "other content": (zipped({**entries, blobs[0]: b"other"}), "archive-content"),
        "content gone": (zipped({name: data for name, data in entries.items() if name != blobs[0]}), "archive-lacks"),
    }


def _lists(good: bytes) -> dict[str, tuple[bytes, str]]:
    entries = entries_of(good)

    def listed(data: bytes) -> bytes:
        return zipped({**entries, LIST: data})

    return {
        "no JSON": (listed(b"{"), "archive-damaged"),
        "not text": (listed(b"\xff\xfe\x00"), "archive-damaged"),
        "nested without end": (listed(b"[" * 200_000), "archive-damaged"),
        "a number without end": (listed(b'{"format": ' + b"9" * 100_000 + b"}"), "archive-damaged"),
        "a list": (listed(b"[]"), "archive-form"),
        "a newer form": (with_list(good, lambda told: told.update(format="halfsilver/archive/2")), "newer-version"),
        "another form": (with_list(good, lambda told: told.update(format="halfsilver/job/1")), "archive-form"),
        "rows that are none": (with_list(good, lambda told: told.update(rows=7)), "archive-form"),
        "another table": (with_list(good, lambda told: told["rows"].update(users=[])), "archive-list"),
        "a table that is none": (with_list(good, lambda told: told["rows"].update(pack=7)), "archive-list"),
    }


def _values(good: bytes) -> dict[str, tuple[bytes, str]]:
    def row(table: str, **values: object) -> bytes:
        return with_list(good, lambda told: told["rows"][table][0].update(values))

    def without(table: str) -> bytes:
        return with_list(good, lambda told: told["rows"][table].pop())

    def twice(table: str) -> bytes:
        return with_list(good, lambda told: told["rows"][table].append(told["rows"][table][0]))

    names = {
        f"file {name!a}": (row("state_file", name=name), "archive-value") for name in ("../x", "/x", "a\\b", "C:x", "a//b", "", "\x1b")
    }
    return names | {
        "another field": (row("state", extra=1), "archive-row"),
        "a row that is none": (with_list(good, lambda told: told["rows"].update(state=[7])), "archive-row"),
        "an id that leads out": (row("record", id="../x"), "archive-value"),
        "a kind of its own": (row("record", kind="safe"), "archive-value"),
        "a number without end": (row("record", head=2**70), "archive-value"),
        "a negative number": (row("state", number=-1), "archive-value"),
        "a truth": (row("state", number=True), "archive-value"),
        "a fraction": (row("state", number=1.0), "archive-value"),
        "a number for a name": (row("state", by=7), "archive-value"),
        "half a letter": (row("state", by="\ud800"), "archive-value"),
        "a zero": (row("state", title="a\x00b"), "archive-value"),
        "a long title": (row("state", title="x" * 20_000), "archive-value"),
        "no moment": (row("state", at="yesterday"), "archive-value"),
        "no date": (row("state", due_on="soon"), "archive-value"),
        "no digest": (row("state_file", sha256="x" * 64), "archive-value"),
        "a state too few": (without("state"), "archive-lacks"),
        "a record too few": (without("record"), "archive-gaps"),
        "a state too many": (row("record", head=9), "archive-gaps"),
        "a row twice": (twice("state_file"), "archive-twice"),
        "a record twice": (twice("record"), "archive-twice"),
        "a file of nothing": (row("state_file", number=77), "archive-lacks"),
    }


def _doubled(entries: Mapping[str, bytes]) -> bytes:
    """The same name twice in the directory; the writer only warns of it, so the second name is changed in the bytes."""
    other = LIST[:-1] + "X"
    return zipped(entries, more=((other, entries[LIST]),)).replace(other.encode(), LIST.encode())


def _flagged(archive: bytes, bit: int) -> bytes:
    """Every entry of the directory with a flag set."""
    data, at = bytearray(archive), archive.find(b"PK\x01\x02")
    while at >= 0:
        data[at + 8] |= bit
        at = archive.find(b"PK\x01\x02", at + 1)
    return bytes(data)


def _saying(archive: bytes, size: int) -> bytes:
    """The directory says that each file in it has this many bytes."""
    data, at = bytearray(archive), archive.find(b"PK\x01\x02")
    while at >= 0:
        data[at + 24 : at + 28] = struct.pack("<I", size)
        at = archive.find(b"PK\x01\x02", at + 1)
    return bytes(data)
