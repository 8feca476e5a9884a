"""The application: guard, pages, API and static files on one desk."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from typing import Any

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from halfsilver import __version__
from halfsilver.services.desk import Desk
from halfsilver.web.guard import LOOPBACK, Guard
from halfsilver.web.pages import routers
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
    app = FastAPI(title="halfsilver", version=__version__, docs_url=None, redoc_url=None, openapi_url="/api/openapi.json")
    app.state.desk, app.state.secret, app.state.works = desk, secrets.token_bytes(32), Works()
    add_refusals(app)
    for router in routers():
        app.include_router(router)
    app.mount("/static", Kept(directory=HERE / "static"))
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=6)
    app.add_middleware(Guard, hosts=tuple(hosts))
    return app
