"""Stores for tests: the embedded engine in a folder, and a real PostgreSQL started on a free port."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp

from halfsilver.store.values import Content, Made

AT = "2026-03-04T08:00:00Z"


def made(what: str = "edited", *, by: str = "AB", at: str = AT, words: str = "", token: str = "") -> Made:
    return Made(by=by, at=at, what=what, words=words, token=token)


def content(
    text: str = "title: x\n", *, title: str = "Night sky", client: str = "Planetarium", stage: str = "asked", due_on: str = ""
) -> Content:
    return Content(title=title, client=client, stage=stage, due_on=due_on, files={"job.yaml": text.encode()})


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
