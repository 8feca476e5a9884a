"""The application: guard, pages, API and static files on one desk."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from threading import Lock
from typing import Any

from fastapi import FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.middleware.gzip import GZipMiddleware
from starlette.staticfiles import StaticFiles
from starlette.types import Receive, Scope, Send

from halfsilver import __version__
from halfsilver.services.desk import Desk
from halfsilver.web.guard import LOOPBACK, Guard
from halfsilver.web.pages import first_router, other_routers
from halfsilver.web.refusals import add_refusals
from halfsilver.web.shown import HERE
from halfsilver.web.works import Works


class Kept(StaticFiles):
    """Static files that browsers keep: their addresses change with their contents."""

    def file_response(self, full_path: Any, stat_result: Any, scope: Scope, status_code: int = 200) -> Any:
        """The file, kept for a year where its address names its content."""
        response = super().file_response(full_path, stat_result, scope, status_code)
        lasting = "public, max-age=31536000, immutable" if scope.get("query_string") else "no-cache"
        response.headers["cache-control"] = lasting
        return response


class Rest:
    """The pages behind the first one, loaded while somebody looks at that, or when one of them is asked for.

    The program opens on the list of jobs; what the others need to reckon and to draw takes as long to load as all before it.

    Parameters
    ----------
    app : FastAPI
        Its router comes here with what it does not know yet.
    """

    def __init__(self, app: FastAPI) -> None:
        self._app, self._lock = app, Lock()
        self._nothing, app.router.default = app.router.default, self

    def load(self) -> None:
        """Load them, once; whoever comes meanwhile waits."""
        with self._lock:
            if self._app.router.default is self:
                for router in other_routers():
                    self._app.include_router(router)
                self._app.router.default = self._nothing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer once they are there."""
        await run_in_threadpool(self.load)
        await self._app.router(scope, receive, send)


def create_app(desk: Desk, *, hosts: Iterable[str] = LOOPBACK) -> FastAPI:
    """The application on a desk.

    Parameters
    ----------
    desk : Desk
        The store and what reckons its jobs.
    hosts : iterable of str
        Names under which it may be asked.

    Returns
    -------
    FastAPI
        An ASGI application; the signing secret is made here and dies with it.
    """
    app = FastAPI(title="halfsilver", version=__version__, docs_url=None, redoc_url=None, openapi_url=None)
    app.state.desk, app.state.secret, app.state.works, app.state.rest = desk, secrets.token_bytes(32), Works(), Rest(app)
    add_refusals(app)
    app.include_router(first_router())
    app.mount("/static", Kept(directory=HERE / "static"))
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=6)
    app.add_middleware(Guard, hosts=tuple(hosts))
    return app
