"""A shop with a day of work in it, at a clock that stands still: every page that a person can meet, to be looked at in a browser."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from html.parser import HTMLParser
from itertools import count
from pathlib import Path
from unittest.mock import patch

import uvicorn
from playwright.sync_api import Page

from desks import Visitor, desk_in
from halfsilver.web.run import _socket

LONG = "An uncommonly long name for a piece that hangs in the stairwell between the second and the third floor of the old customs house"
NEXT_BOX = '[data-name="front.rebate.width"] .box[data-at="bottom"]'
WHOLE = """async () => {
for (const image of document.images) image.loading = "eager";
await Promise.all([...document.images].map((image) => image.decode().catch(() => {})));
await document.fonts.ready; }"""
STILL = """() => { const sheet = new CSSStyleSheet();
sheet.replaceSync(`*, *::before, *::after { animation: none !important; transition: none !important; caret-color: transparent !important;
scroll-behavior: auto !important; scrollbar-width: none !important; }
.sticky, .onward, .rightside, .whydesk, .look-stage, .look-under { position: static !important; }`);
document.adoptedStyleSheets = [sheet]; }"""


@dataclass(frozen=True, kw_only=True)
class Shot:
    """A page: its path, or the form that leads to it; ``ready`` is there once it is whole, ``first`` is clicked before."""

    name: str
    path: str
    fields: Mapping[str, str] | None = None
    ready: str = "main"
    first: tuple[str, ...] = ()
    mask: str = ""
    most_px: int = 2640


@dataclass(frozen=True, kw_only=True)
class Shop:
    """The shop that is shown, and where it answers."""

    visitor: Visitor
    address: str
    shots: Mapping[str, Shot] = field(default_factory=dict)

    def open(self, page: Page, name: str) -> None:
        """Show a page and wait until it is whole."""
        shot = self.shots[name]
        address = f"{self.address}{shot.path}"
        if shot.fields is None:
            page.goto(address)
        else:
            answer = self.visitor.post(shot.path, {**filled(self.visitor, shot.path), **shot.fields})
            assert answer.status_code in {200, 403, 409, 422}, (name, answer.status_code)
            shown = {key: value for key, value in answer.headers.items() if key in {"content-type", "content-security-policy"}}
            page.route(address, lambda route: route.fulfill(status=200, headers=shown, body=answer.text))
            page.goto(address)
            page.unroute(address)
        page.evaluate(STILL)
        for selector in shot.first:
            page.locator(selector).first.click()
        page.locator(shot.ready).first.wait_for()
        page.evaluate(WHOLE)


@contextmanager
def open_shop(folder: Path) -> Iterator[Shop]:
    """A shop in a folder, served on a free port."""
    chance = count(1)
    listening = _socket("127.0.0.1", 0)
    with desk_in(folder) as desk, patch("halfsilver.services.desk.new_id", lambda title: f"{title.split()[0].lower()}-{next(chance):06x}"):
        visitor = Visitor(desk)
        shots = {shot.name: shot for shot in worked(visitor)}
        server = uvicorn.Server(uvicorn.Config(visitor.app, log_level="warning", access_log=False, timeout_graceful_shutdown=1))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            yield Shop(visitor=visitor, address=f"http://localhost:{listening.getsockname()[1]}", shots=shots)
        finally:
            server.should_exit = True
            thread.join(20)


def worked(visitor: Visitor) -> tuple[Shot, ...]:
    """Do a day of work; the pages that are there then."""
    visitor.post("/who", {"who": "Mara", "back": "/"})
    job, mirror, archive = (visitor.begin(f"{name}.yaml") for name in ("foyer", "kit-mirror", "archive-mirror"))
    client = "The society of friends of long names and longer corridors, second chamber"
    asked = {"title": LONG, "client": client, "construction": "lit-screen", "units": "mm", "diagonal": "1520 mm", "aspect": "16:9"}
    long = visitor.post("/new", asked).headers["location"].split("/")[2]
    for one, stage, due in ((job, "cutting", "2026-03-20"), (mirror, "quoted", "2026-02-27"), (archive, "hung", "")):
        visitor.post(f"/jobs/{one}/move", {"stage": stage, "due_on": due, "based_on": visitor.number(one), "back": "/brief"})
    visitor.change(job, {"lights.dim": "0.7"})
    visitor.post(f"/jobs/{job}/options", {"name": "Darker glass"})
    option = f"{job}--b"
    visitor.change(option, {"glass.front.kind": "split-t50-6", "gap": "2 in"})
    visitor.post(f"/jobs/{job}/documents/make", {"date": "2026-03-04"})
    for at, value in (("top", "53 11/32 in"), ("middle", "53 3/8 in")):
        visitor.post(f"/jobs/{job}/bench/measure/reading", {"name": "front.rebate.width", "at": at, "value": value, "key": f"k{at}"})
    visitor.post(f"/jobs/{job}/bench/measure-screen/done", {"key": "d1", "done": "yes"})
    settled(visitor, job)
    here, now = f"/jobs/{job}", visitor.number(job)
    return (
        Shot(name="jobs", path="/"),
        Shot(name="jobs-found", path="/?q=nothing+of+that+name"),
        Shot(name="new", path="/new"),
        Shot(name="new-errors", path="/new", fields={"title": "", "construction": "lit-screen", "diagonal": "5 1/8 mm"}),
        Shot(name="brief", path=f"{here}/brief", ready="#beside svg"),
        Shot(name="brief-long", path=f"/jobs/{long}/brief", ready="#beside svg"),
        Shot(name="brief-errors", path=f"{here}/brief", fields={"based_on": now, "v:gap": "5 1/8 mm", "v:screen.mass": "heavy"}),
        Shot(name="look", path=f"{here}/look", ready="#at-x:visible", mask=".look-view, .look-plan"),
        Shot(name="look-beside", path=f"{here}/look/beside", ready=".look-rows", mask=".look-view"),
        Shot(name="sizes", path=f"{here}/sizes"),
        Shot(name="why", path=f"{here}/sizes/why/front.glass.width"),
        Shot(name="findings", path=f"{here}/findings?seen=true", most_px=720),
        Shot(name="price", path=f"{here}/price"),
        Shot(name="options", path=f"{here}/options"),
        Shot(name="documents", path=f"{here}/documents"),
        Shot(name="documents-none", path=f"/jobs/{mirror}/documents"),
        Shot(name="bench", path=f"{here}/bench/measure", ready="#bench[data-at-hand]"),
        Shot(name="bench-steps", path=f"{here}/bench/measure", ready="#bench[data-at-hand]", first=(".jump summary",)),
        Shot(name="bench-first", path=f"{here}/bench", ready="#bench[data-at-hand]"),
        Shot(name="bench-reading", path=f"{here}/bench/measure", ready="#readout[open]", first=(NEXT_BOX,)),
        Shot(name="history", path=f"{here}/history"),
        Shot(name="state", path=f"{here}/history/2"),
        Shot(name="measure", path=f"{here}/history/measure?name=front.rebate.width"),
        Shot(name="file", path=f"{here}/file"),
        Shot(name="choice", path=f"{here}/brief", fields={"based_on": "1", "v:lights.dim": "0.5", "v:client": "Somebody else"}),
        Shot(name="workshop", path="/workshop"),
        Shot(name="unknown", path="/jobs/nobody/brief"),
        Shot(name="again", path="/new", fields={"token": "", "title": "Typed before", "client": "Somebody", "screen": "screen-60a"}),
    )  # fmt: skip


def filled(visitor: Visitor, path: str) -> dict[str, str]:
    """What a form of a page holds before anybody types."""
    found = Filled()
    found.feed(visitor.get(path).text)
    return {name: value for name, value in found.values.items() if name.startswith("v:")}


class Filled(HTMLParser):
    """Fields of a page and what they hold."""

    def __init__(self) -> None:
        super().__init__()
        self.values: dict[str, str] = {}
        self.choosing = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        if tag == "select":
            self.choosing = told.get("name", "")
        elif tag == "option" and "selected" in told:
            self.values[self.choosing] = told["value"]
        elif tag == "input" and "name" in told:
            self.values[told["name"]] = told.get("value", "")


def settled(visitor: Visitor, job: str) -> None:
    """Wait until the documents are made."""
    from time import monotonic, sleep

    until = monotonic() + 120
    while (work := visitor.app.state.works.of(job)) is not None and not work.done and monotonic() < until:
        sleep(0.05)
    assert work is not None
    assert work.revision, work.failed
