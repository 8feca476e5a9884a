"""Findings: stops first, each with its working where an engineer would want to see it; and what was not checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfsilver.engineering.working import Working
from halfsilver.errors import HalfsilverError, Problem
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/findings")
TITLES: Final = {
    Severity.STOP: ("Stops", "It cannot be made like this."),
    Severity.CAUTION: ("Cautions", "Somebody has to decide, or to take care."),
    Severity.NOTE: ("Notes", "Held, or worth knowing."),
    Severity.NOT_RUN: ("Not checked", "What the program cannot say."),
}
STATUS: Final = {
    "seen": "the text was read", "oracle": "agrees with an independent library", "derived": "from first principles",
    "memory": "from memory, not looked up", "practice": "common practice", "assumed": "assumed",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Sorted:
    """Findings of one weight."""

    key: str
    title: str
    said: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsPage:
    """All findings."""

    job: JobHead
    page: str
    problems: tuple[Problem, ...] = ()
    groups: tuple[Sorted, ...] = ()
    workings: Mapping[Finding, tuple[Working, ...]] | None = None
    status: Mapping[str, str] | None = None
    seen: bool = False


@router.get("")
def findings(request: Request, job: Job, desk: AtDesk, seen: bool = False) -> Response:
    """What the rules say; with ``seen`` also what will be seen, which takes a moment."""
    try:
        reckoned = desk.reckoned(job.state)
        page = _page(job, reckoned, seen=seen)
    except HalfsilverError as error:
        page = FindingsPage(job=job, page="findings", problems=problems_of(error))
    part = request.headers.get("hx-request") and seen
    return show(request, "findings_part.html" if part else "findings.html", page)


def _page(job: JobHead, reckoned: Reckoned, *, seen: bool) -> FindingsPage:
    found = reckoned.all_findings if seen else reckoned.findings
    groups = tuple(
        Sorted(key=severity.value, title=title, said=said, findings=some)
        for severity, (title, said) in TITLES.items()
        if (some := tuple(one for one in found if one.severity is severity))
    )
    return FindingsPage(job=job, page="findings", groups=groups, workings=reckoned.workings, status=STATUS, seen=seen)
