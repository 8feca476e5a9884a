"""What stands before every page: only this machine's own names, only its own forms, no more bytes than due, and strict headers.

Written on the bare protocol, so that a body is counted while it arrives and nothing large is ever held.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final
from urllib.parse import urlsplit

from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES: Final = 24 * 1024 * 1024
READS: Final = frozenset({"GET", "HEAD", "OPTIONS"})
LOOPBACK: Final = ("localhost", "127.0.0.1", "::1")
POLICY: Final = (
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; "
    "object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
HEADERS: Final = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=(), payment=()"),
)


class TooMuch(Exception):  # noqa: N818  (a signal, not a fault)
    """A body is larger than it may be."""


class Guard:
    """Looks at host, origin and size of every request before anything else does.

    Parameters
    ----------
    app : ASGI application
        What is guarded.
    hosts : iterable of str
        Names under which the program may be asked; a page of another name that leads here is refused.
    """

    def __init__(self, app: ASGIApp, *, hosts: Iterable[str] = LOOPBACK) -> None:
        self.app, self.hosts = app, frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass on what may pass; nothing but plain requests is served."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http":
            await self._guarded(scope, receive, _with_headers(send))

    async def _guarded(self, scope: Scope, receive: Receive, send: Send) -> None:
        headers = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        refusal = self._refusal(scope["method"], headers)
        if refusal is not None:
            await refusal(scope, receive, send)
            return
        seen = 0
        begun = False

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > MOST_BYTES:
                raise TooMuch
            return message

        async def told(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self.app(scope, counted, told)
        except TooMuch:
            if not begun:
                await _too_much()(scope, receive, send)

    def _refusal(self, method: str, headers: dict[bytes, str]) -> Response | None:
        host = headers.get(b"host", "")
        if _name(host) not in self.hosts:
            return PlainTextResponse("This program answers to this machine only: open it as http://localhost or http://127.0.0.1.", 421)
        if method not in READS:
            origin = headers.get(b"origin", "")
            site = headers.get(b"sec-fetch-site", "same-origin")
            if (origin and urlsplit(origin).netloc.lower() != host.lower()) or site not in {"same-origin", "none"}:
                return PlainTextResponse("This request comes from another page. Nothing was changed.", 403)
        length = headers.get(b"content-length", "0")
        if not length.isdecimal() or len(length) > 12:
            return PlainTextResponse("The length of what was sent is not a number.", 400)
        return _too_much() if int(length) > MOST_BYTES else None


def _name(host: str) -> str:
    """The name in a Host header, without its port."""
    match = re.fullmatch(r"(\[[0-9a-fA-F:]+\]|[A-Za-z0-9.-]+)(:[0-9]{1,5})?", host)
    return match[1].strip("[]").lower() if match else ""


def _too_much() -> Response:
    return PlainTextResponse(f"That is more than {MOST_BYTES // 1024**2} MB. Nothing was taken.", 413)


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            own = {name.lower() for name, _ in message["headers"]}
            message["headers"] = [*message["headers"], *((name, value) for name, value in HEADERS if name not in own)]
            if b"cache-control" not in own:
                message["headers"].append((b"cache-control", b"no-store"))
        await send(message)

    return sent
