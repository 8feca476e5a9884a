"""Stores for tests: the embedded engine in a folder, and a real PostgreSQL started on a free port."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp

from halfsilver.store.store import Store
from halfsilver.store.values import ConflictError, Content, Made

AT = "2026-03-04T08:00:00Z"


def made(what: str = "edited", *, by: str = "AB", at: str = AT, words: str = "", token: str = "") -> Made:
    return Made(by=by, at=at, what=what, words=words, token=token)


def content(
    text: str = "title: x\n", *, title: str = "Night sky", client: str = "Planetarium", stage: str = "asked", due_on: str = ""
) -> Content:
    return Content(title=title, client=client, stage=stage, due_on=due_on, files={"job.yaml": text.encode()})


@contextmanager
def others_writing(store: Store, record: str) -> Iterator[None]:
    """Two writers that go on changing a record for as long as the block lasts."""
    stop = threading.Event()

    def write() -> None:
        while not stop.is_set():
            head = store.head(record)
            with suppress(ConflictError):
                store.append(record, content(f"text {head.number}"), made(), based_on=head.number)

    writers = [threading.Thread(target=write) for _ in range(2)]
    for writer in writers:
        writer.start()
    try:
        yield
    finally:
        stop.set()
        for writer in writers:
            writer.join()


def postgres_programs() -> Path | None:
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    on_path = shutil.which("initdb")
    return found[-1].parent if found else Path(on_path).parent if on_path else None


@contextmanager
def postgresql() -> Iterator[str]:
    """A server of its own in a folder of its own; it never runs as root."""
    programs = postgres_programs()
    assert programs is not None
    folder = Path(mkdtemp(prefix="pg-"))
    data = folder / "data"
    runs_as = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    if runs_as:
        shutil.chown(folder, "postgres")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]

    def run(*words: str) -> None:
        subprocess.run([*runs_as, *words], check=True, cwd=folder, capture_output=True)

    try:
        run(str(programs / "initdb"), "-D", str(data), "-U", "shop", "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C")
        options = f"-p {port} -k {folder} -c listen_addresses=127.0.0.1 -c fsync=off"
        run(str(programs / "pg_ctl"), "-D", str(data), "-o", options, "-l", str(folder / "log"), "-w", "start")
        yield f"postgresql+psycopg://shop@127.0.0.1:{port}/postgres"
    finally:
        subprocess.run(
            [*runs_as, str(programs / "pg_ctl"), "-D", str(data), "-m", "immediate", "stop"], capture_output=True, check=False, cwd=folder
        )
        shutil.rmtree(folder, ignore_errors=True)
