"""A desk on a store of its own, and a client that fills in forms as a browser does."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from httpx import BaseTransport, Client, Request, Response
from starlette.types import ASGIApp, Message

from halfsilver.services.desk import Desk
from halfsilver.store.store import Store
from halfsilver.web.app import create_app

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
NOW = "2026-03-04T08:00:00Z"


@contextmanager
def desk_in(folder: Path) -> Iterator[Desk]:
    with Store(f"sqlite:///{folder / 'store.sqlite'}") as store:
        yield Desk(store=store, cache=folder / "cache", now=lambda: NOW)


class InProcess(BaseTransport):
    """Requests straight to an application, chunk by chunk as they are sent; what it raises after its answer is dropped."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    def handle_request(self, request: Request) -> Response:
        with ThreadPoolExecutor(1) as aside:  # a browser's fixture may keep a loop of its own in this thread
            return aside.submit(lambda: asyncio.run(self._answer(request))).result()

    async def _answer(self, request: Request) -> Response:
        url = request.url
        scope = {
            "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": request.method, "scheme": "http",
            "path": url.path, "raw_path": url.raw_path, "query_string": url.query, "root_path": "", "server": ("localhost", 80),
            "client": ("127.0.0.1", 5000), "headers": [(name.lower(), value) for name, value in request.headers.raw],
        }  # fmt: skip
        chunks, sent = iter(request.stream), list[Message]()  # type: ignore[arg-type]
        over = False

        async def receive() -> Message:
            nonlocal over
            if over:
                await asyncio.Event().wait()  # nobody hangs up before the answer is there
            chunk = next(chunks, None)
            over = chunk is None
            return {"type": "http.request", "body": chunk or b"", "more_body": chunk is not None}

        async def send(message: Message) -> None:
            sent.append(message)

        try:
            await self.app(scope, receive, send)
        except Exception:
            if not sent:
                raise
        body = b"".join(message.get("body", b"") for message in sent[1:])
        return Response(sent[0]["status"], headers=sent[0]["headers"], content=body)


class Visitor:
    """A browser without script: it keeps cookies, reads tokens off pages, follows redirects."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.app = create_app(desk)
        self.client = Client(transport=InProcess(self.app), base_url="http://localhost", follow_redirects=False)

    def get(self, path: str, **more: Any) -> Response:
        return self.client.get(path, **more)

    def token(self) -> str:
        return str(re.findall(r'data-token="(\w+)"', self.get("/new").text)[0])

    def post(self, path: str, fields: Mapping[str, str] | None = None, *, files: Any = None, follow: bool = False, **more: Any) -> Response:
        data = {"token": self.token(), **(fields or {})}
        return self.client.post(path, data=data, files=files, follow_redirects=follow, **more)

    def begin(self, example: str = "foyer.yaml") -> str:
        """Take up an example; its id."""
        answer = self.post("/new/file", files={"file": (example, (EXAMPLES / example).read_bytes())})
        assert answer.status_code == 303, answer.text
        return answer.headers["location"].split("/")[2]

    def number(self, job: str) -> str:
        return str(self.desk.head(job).number)

    def change(self, job: str, fields: Mapping[str, str], *, based_on: str = "") -> Response:
        named = {f"v:{path}": value for path, value in fields.items()}
        return self.post(f"/jobs/{job}/brief", {"based_on": based_on or self.number(job), **named})
