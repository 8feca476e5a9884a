"""A server of its own for a browser, and a page that minds every fault."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Page

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--enable-unsafe-swiftshader",
)  # fmt: skip
SIZES = {"desk": (1440, 900), "tablet": (820, 1180), "phone": (390, 844)}
PATIENCE_MS = 60_000  # a shared machine may be slow; what comes at all is what counts


class Server:
    """``halfsilver serve`` in a folder; it may be stopped and started again on the same port."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, 0
        self.process: subprocess.Popen[str] | None = None
        self.log = folder / "serve.log"

    def start(self) -> None:
        environment = {**os.environ, "XDG_DATA_HOME": str(self.folder), "HALFSILVER_STORE": f"sqlite:///{self.folder / 'store.sqlite'}"}
        words = [sys.executable, "-u", "-m", "halfsilver", "serve", "--port", str(self.port)]
        with self.log.open("a") as log:
            self.process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=log, env=environment, text=True)
        assert self.process.stdout is not None
        said = self.process.stdout.readline()
        self.port = int(re.findall(r":(\d+) ", said)[0])

    def stop(self) -> None:
        if self.process is not None:
            self.process.terminate()
            self.process.wait(20)
            assert self.process.stdout is not None
            self.process.stdout.close()
            self.process = None

    @property
    def address(self) -> str:
        return f"http://localhost:{self.port}"


def watched(page: Page) -> Page:
    """A page on which a fault of a script, or something that the policy forbids, fails the test."""
    page.set_default_timeout(PATIENCE_MS)
    page.on("pageerror", lambda error: pytest.fail(f"a script failed: {error}"))
    page.on("console", lambda message: pytest.fail(message.text) if "Content Security Policy" in message.text else None)
    return page
