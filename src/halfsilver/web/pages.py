"""The pages of a job, in the order in which they stand along its ruler, and every router of the program.

A further page is a module with a ``router`` and one line here. Its paths begin with ``/jobs/{job}/NAME``, its template extends
``job.html``, and its view takes ``job: JobHead = Depends(job_head)``. The jobs' page is answered before the others are loaded
(`halfsilver.web.app.Rest`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from typing import Final

from fastapi import APIRouter


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page of a job.

    Parameters
    ----------
    name : str
        Last step of its path.
    label : str
        As the ruler shows it.
    module : str
        Where its router is.
    """

    name: str
    label: str
    module: str


PAGES: Final = (
    Page(name="brief", label="Brief", module="halfsilver.web.brief"),
    Page(name="look", label="Look", module="halfsilver.web.look"),
    Page(name="sizes", label="Sizes", module="halfsilver.web.sizes"),
    Page(name="findings", label="Findings", module="halfsilver.web.findings"),
    Page(name="price", label="Price", module="halfsilver.web.price"),
    Page(name="documents", label="Documents", module="halfsilver.web.documents"),
    Page(name="bench", label="Bench", module="halfsilver.web.bench"),
    Page(name="history", label="History", module="halfsilver.web.history"),
)
FIRST: Final = "halfsilver.web.jobs"
OTHERS: Final = (
    "halfsilver.web.options",
    "halfsilver.web.file",
    "halfsilver.web.shop",
    "halfsilver.web.settings",
    "halfsilver.web.api",
    "halfsilver.web.api_look",
    "halfsilver.web.api_exchange",
    "halfsilver.web.api_jobs",
)


@cache
def pages() -> tuple[Page, ...]:
    """The pages whose modules are there."""
    return tuple(page for page in PAGES if find_spec(page.module))


def first_router() -> APIRouter:
    """That of the page on which the workshop opens."""
    return _router(FIRST)


def other_routers() -> tuple[APIRouter, ...]:
    """All the others, the ones of fixed paths first."""
    modules = (*(name for name in OTHERS if find_spec(name)), *(page.module for page in pages()))
    return tuple(map(_router, modules))


def _router(module: str) -> APIRouter:
    found: APIRouter = import_module(module).router
    return found
