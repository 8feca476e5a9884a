"""A real browser against a server of its own; the server's log is shown when a test fails."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from browser_parts import FLAGS, PATIENCE_MS, SIZES, Server, watched
from page_shots import Shop, open_shop

expect.set_options(timeout=PATIENCE_MS)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    program = shutil.which("chromium") or shutil.which("google-chrome") or shutil.which("chromium-browser")
    if program is None:
        pytest.skip("needs a Chromium")
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=program, args=list(FLAGS))
        yield launched
        launched.close()


@pytest.fixture(scope="session")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop to look at: nobody who is shown it changes anything in it."""
    with open_shop(tmp_path_factory.mktemp("shop")) as opened:
        yield opened


@pytest.fixture
def server(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Server]:
    made = Server(tmp_path)
    made.start()
    yield made
    made.stop()
    if text := made.log.read_text():
        print(text)  # noqa: T201  (pytest shows it beside a failure)


@pytest.fixture(params=list(SIZES))
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    width, height = SIZES[request.param]
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=request.param != "desk")
    opened = watched(context.new_page())
    yield opened
    context.close()


@pytest.fixture
def desk_page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    opened = watched(context.new_page())
    yield opened
    context.close()
