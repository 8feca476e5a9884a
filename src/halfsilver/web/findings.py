"""Findings: stops first, each with its working where an engineer would want to see it; and what was not checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfsilver.documents.letter_entries import Entry, entries
from halfsilver.documents.letter_quantities import pair
from halfsilver.documents.letter_words import STATUS_WORDS
from halfsilver.engineering.working import Working
from halfsilver.errors import HalfsilverError, Problem
from halfsilver.ledger.shown import Show
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A working, with its result and limit as they are printed; ``limit`` is empty where there is none."""

    working: Working
    result: str
    limit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A finding as the command line words it: value and limit in the job's units, source and how sure it is."""

    finding: Finding
    held: str
    source: str
    worked: tuple[Worked, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sorted:
    """Findings of one weight."""

    key: str
    title: str
    said: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsPage:
    """All findings."""

    job: JobHead
    page: str
    problems: tuple[Problem, ...] = ()
    groups: tuple[Sorted, ...] = ()
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
    listed = entries(found, reckoned.workings)
    groups = tuple(
        Sorted(key=severity.value, title=title, said=said, rows=rows)
        for severity, (title, said) in TITLES.items()
        if (rows := tuple(_row(one, reckoned.show) for one in listed if one.finding.severity is severity))
    )
    return FindingsPage(job=job, page="findings", groups=groups, seen=seen)


def _row(entry: Entry, shown: Show) -> Row:
    finding, status = entry.finding, STATUS_WORDS[entry.finding.status]
    source = finding.source if finding.source.endswith(status) else f"{finding.source} ({status})"
    held = ", ".join(part for part in entry.held(shown) if part)
    return Row(finding=finding, held=held, source=source, worked=tuple(_worked(one, shown) for one in entry.workings))


def _worked(working: Working, shown: Show) -> Worked:
    result, limit = pair(working.result, working.limit, working.unit or "1", shown)
    return Worked(working=working, result=result, limit=f"{working.side.value} {limit}" if limit else "")
