"""Programs that are killed while they write: every acknowledged change is there, nothing half, and the file is sound."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import time
from pathlib import Path

import pytest

from halfsilver.store.store import Store
from halfsilver.store.values import Content, Kind, Pack
from stores import made

KILLS = 200
LONGEST_S = 0.03  # a few changes are acknowledged in that time

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="forks are POSIX")


def text_of(number: int) -> str:
    """A state's content says its own number, so that half a change shows."""
    return f"title: state {number}\n" + f"# {number}\n" * (1 + number % 400)


def content(number: int) -> Content:
    files = {"job.yaml": text_of(number).encode(), "beside.txt": f"{number}".encode() * 50}
    return Content(title=f"state {number}", stage="asked", files=files)


def write_until_killed(url: str, tell: int) -> None:
    store = Store(url)
    number = store.head("job").number
    os.write(tell, b"ready\n")
    while True:
        number += 1
        store.append("job", content(number), made(token=f"token-{number}"), based_on=number - 1)
        os.write(tell, f"{number}\n".encode())
        if number % 7 == 0:
            pack = Pack(record="job", number=number, revision=number, at="", by="", date="2026-03-04", files={})
            store.keep_pack(pack, {"shop.pdf": text_of(number).encode()})
            os.write(tell, f"pack {number}\n".encode())


def killed_child(url: str, after_s: float, *, in_its_stride: bool) -> list[str]:
    """What a child acknowledged before it was killed that long after it was ready, or after its first change."""
    mine, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(mine)
            write_until_killed(url, theirs)
        finally:
            os._exit(1)
    os.close(theirs)
    with os.fdopen(mine, "rb", buffering=0) as told:
        heard = told.read(6)
        if in_its_stride:
            heard += told.read(65536)
        time.sleep(after_s)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while more := told.read(65536):
            heard += more
    return heard.decode().splitlines()


@pytest.mark.filterwarnings("ignore:.*multi-threaded:DeprecationWarning")
def test_what_was_acknowledged_is_there_after_every_kill(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'store.sqlite'}"
    with Store(url) as first:
        first.begin("job", Kind.JOB, content(1), made("begun"))
    chance = random.Random(20260304)
    last, packs, busy = 1, set[int](), 0
    for kill in range(KILLS):
        heard = killed_child(url, chance.uniform(0.0, LONGEST_S), in_its_stride=kill % 2 == 1)
        states = [int(line) for line in heard if line.isdecimal()]
        packs |= {int(line.removeprefix("pack ")) for line in heard if line.startswith("pack ")}
        busy += bool(states)
        last = max([last, *states])
        if kill % 20 == 0 or kill == KILLS - 1:
            last = check_whole(url, tmp_path / "store.sqlite", last, packs)
        else:
            with Store(url) as store:
                head = store.head("job")
                assert head.number >= last
                assert store.content(head).files["job.yaml"].decode() == text_of(head.number)
                last = head.number
    assert busy >= KILLS // 2  # on a loaded machine the others are killed before their first change


def check_whole(url: str, path: Path, last: int, packs: set[int]) -> int:
    connection = sqlite3.connect(path)
    assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    connection.close()
    with Store(url) as store:
        states = store.history("job")
        assert [state.number for state in states] == list(range(1, len(states) + 1))
        assert len(states) >= last
        blobs = store.blobs({sha256 for state in states for sha256 in state.files.values()})
        for state in states:
            assert state.title == f"state {state.number}"
            assert blobs[state.files["job.yaml"]].decode() == text_of(state.number)
            assert blobs[state.files["beside.txt"]] == f"{state.number}".encode() * 50
        kept = {pack.revision for pack in store.packs("job")}
        assert packs <= kept
        return len(states)
