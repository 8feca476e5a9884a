"""What is shown when something cannot be done: one shape for pages, one for the API, and never a traceback."""

from __future__ import annotations

import logging
import re
from dataclasses import dataclass
from typing import Final

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response

from halfsilver.errors import HalfsilverError, JobError, NoDesignError, Problem, StoreError
from halfsilver.store.values import ConflictError, NoSuchRecordError
from halfsilver.web.forms import StaleForm
from halfsilver.web.guard import MOST_BYTES, TooMuch
from halfsilver.web.shown import show

log = logging.getLogger("halfsilver.web")

STATUS: Final = ((NoSuchRecordError, 404), (ConflictError, 409), (StoreError, 503), (HalfsilverError, 422))
JOB_PATH: Final = re.compile(r"/jobs/([a-z0-9-]{1,40})/")
TITLES: Final = {
    400: "This cannot be read", 403: "Not from here", 404: "There is no such page", 405: "Not this way", 409: "Changed in between",
    413: "Too large", 422: "Something has to be mended first", 500: "That went wrong", 503: "The store cannot be used",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusalPage:
    """Why something was not done, and the job to go back to; empty where there is none."""

    title: str
    said: str
    problems: tuple[Problem, ...] = ()
    job: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AgainPage:
    """A form that was open while the program started anew."""

    action: str
    values: dict[str, str]
    had_files: bool


def problems_of(error: HalfsilverError) -> tuple[Problem, ...]:
    """An error of ours as problems."""
    if isinstance(error, JobError):
        return error.problems
    if isinstance(error, NoDesignError):
        return (Problem(code="no-design", allowed=error.limit, advice=" ".join(part for part in (error.nearest, error.advice) if part)),)
    return (Problem(code=type(error).__name__.removesuffix("Error").lower(), allowed=str(error)),)


def is_api(request: Request) -> bool:
    """Whether a program asks, not a person."""
    return request.url.path.startswith("/api")


def refused(request: Request, status: int, problems: tuple[Problem, ...], said: str = "") -> Response:
    """The refusal in the shape that suits who asked."""
    if is_api(request):
        from halfsilver.services.records import as_text, document, problems_record

        told = problems or (Problem(code=TITLES.get(status, "refused").lower().replace(" ", "-"), allowed=said),)
        return Response(as_text(document("problems", problems_record(told))), status, media_type="application/json")
    title = TITLES.get(status, "This was not done")
    known = JOB_PATH.match(request.url.path) if status != 404 else None
    page = RefusalPage(title=title, said=said, problems=problems, job=known[1] if known else "")
    return show(request, "refusal.html", page, status=status)


def add_refusals(app: FastAPI) -> None:
    """Put the handlers in place."""

    @app.exception_handler(HalfsilverError)
    def ours(request: Request, error: HalfsilverError) -> Response:
        status = next(code for kind, code in STATUS if isinstance(error, kind))
        return refused(request, status, problems_of(error))

    @app.exception_handler(HTTPException)
    def plain(request: Request, error: HTTPException) -> Response:
        said = error.detail if error.status_code not in {404, 405} else ""
        return refused(request, error.status_code, (), said or TITLES.get(error.status_code, "This was not done"))

    @app.exception_handler(RequestValidationError)
    def unreadable(request: Request, error: RequestValidationError) -> Response:
        problems = tuple(
            Problem(code="bad-request", path=".".join(str(step) for step in one["loc"]), allowed=str(one["msg"]))
            for one in error.errors()
        )  # fmt: skip
        return refused(request, 422, problems)

    @app.exception_handler(StaleForm)
    def stale(request: Request, error: StaleForm) -> Response:
        if is_api(request) or request.headers.get("hx-request"):
            return refused(request, 403, (), "The program was started anew. Load the page again.")
        page = AgainPage(action=request.url.path, values=dict(error.posted.values), had_files=bool(error.posted.files))
        return show(request, "again.html", page, status=403)

    @app.exception_handler(TooMuch)
    def large(request: Request, error: TooMuch) -> Response:
        return refused(request, 413, (), f"That is more than {MOST_BYTES // 1024**2} MB. Nothing was taken.")

    @app.exception_handler(Exception)
    def fault(request: Request, error: Exception) -> Response:
        log.error("A fault at %s %s: %s", request.method, request.url.path, type(error).__name__)
        return refused(request, 500, (), "A fault in the program. Nothing was changed; what you typed is still in your browser's page.")
