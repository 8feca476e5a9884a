"""The brief: what was asked and chosen, as a form; front view and section beside it, redrawn while somebody types."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import HalfsilverError, JobError, Problem
from halfsilver.model.finding import Finding, Severity
from halfsilver.services.desk import Desk, edited
from halfsilver.services.desk_fields import Group, groups, stands
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.services.desk_values import TooLate, leaves
from halfsilver.store.values import State
from halfsilver.web.forms import Form, Posted
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/brief")
FIELD: Final = "v:"
VIEWS: Final = ("front", "section-left")


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What stands beside the form.

    Parameters
    ----------
    headline : tuple of (words, value)
        The few sizes that people ask for first.
    drawings : tuple of (name, SVG)
        Front view and section.
    stops : tuple of Finding
        What has to be mended.
    assumed : tuple of Finding
        What nobody has said yet.
    problems : tuple of Problem
        Why there is no design; the drawings are empty then.
    """

    headline: tuple[tuple[str, str], ...] = ()
    drawings: tuple[tuple[str, str], ...] = ()
    stops: tuple[Finding, ...] = ()
    assumed: tuple[Finding, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefPage:
    """The form and what stands beside it."""

    job: JobHead
    page: str
    groups: tuple[Group, ...]
    values: Mapping[str, str]
    stands: Mapping[str, str]
    errors: Mapping[str, Problem]
    others: tuple[Problem, ...]
    beside: Beside
    based_on: int
    saved: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftPart:
    """What changes while somebody types."""

    job: JobHead
    groups: tuple[Group, ...]
    stands: Mapping[str, str]
    errors: Mapping[str, Problem]
    others: tuple[Problem, ...]
    beside: Beside


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoicePage:
    """Two changes that met."""

    job: JobHead
    page: str
    late: TooLate
    labels: Mapping[str, str] = field(default_factory=dict)


@router.get("")
def brief(request: Request, job: Job, desk: AtDesk, kept: int = 0) -> Response:
    """The form of the job as it stands."""
    text = desk.text(job.state)
    saved = f"Kept as state {job.state.number}." if kept == job.state.number else ""
    return show(request, "brief.html", _page(desk, job, text, leaves(text), (), saved=saved))


@router.post("/draft")
def draft(request: Request, job: Job, desk: AtDesk, form: Form) -> Response:
    """What the form would come to: nothing is kept."""
    seen = desk.store.state(job.id, form.whole("based_on"))
    text = desk.text(seen)
    problems: tuple[Problem, ...] = ()
    try:
        text = edited(text, wanted(form))
    except JobError as error:
        problems = error.problems
    page = _page(desk, job, text, dict(form.under(FIELD)), problems, seen=seen)
    part = DraftPart(job=job, groups=page.groups, stands=page.stands, errors=page.errors, others=page.others, beside=page.beside)
    return show(request, "brief_part.html", part)


@router.post("")
def keep(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Keep what the form says, or show what stands in the way."""
    values, based_on = wanted(form), form.whole("based_on")
    try:
        done = desk.change(job.id, values, based_on=based_on, by=who)
    except JobError as error:
        seen = desk.store.state(job.id, based_on)
        page = _page(desk, job, desk.text(seen), dict(form.under(FIELD)), error.problems, seen=seen)
        return show(request, "brief.html", page, status=422)
    if isinstance(done, TooLate):
        labels = {one.path: f"{group.title}: {one.label}" for group in _groups(desk, desk.text(done.head)) for one in group.fields}
        return show(request, "choice.html", ChoicePage(job=job, page="brief", late=done, labels=labels), status=409)
    return RedirectResponse(f"/jobs/{job.id}/brief?kept={done.number}", 303)


@router.post("/settle")
def settle(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """The choice between two changes: mine on top of theirs, or theirs alone."""
    if form["choice"] != "mine":
        return RedirectResponse(f"/jobs/{job.id}/brief", 303)
    return keep(request, job, desk, form, who)


def wanted(form: Posted) -> dict[str, str]:
    """Key paths and what a form wants there."""
    return {path: value[:2000] for path, value in form.under(FIELD)}


def _groups(desk: Desk, text: str) -> tuple[Group, ...]:
    count = len({path.partition("]")[0] for path in leaves(text) if path.startswith("viewers[")})
    return groups(desk.shop().workshop, viewers=count)


def _page(
    desk: Desk,
    job: JobHead,
    text: str,
    values: Mapping[str, str],
    problems: tuple[Problem, ...],
    *,
    seen: State | None = None,
    saved: str = "",
) -> BriefPage:  # fmt: skip
    state = seen or job.state
    reckoned: Reckoned | None = None
    if not problems:
        try:
            reckoned = desk.reckoned_text(text, beside=state.files)
            beside, problems = _beside(reckoned), ()
        except HalfsilverError as error:
            problems = problems_of(error)
    if problems:
        reckoned, beside = None, Beside(problems=problems)
    shown = _groups(desk, text)
    paths = {one.path for group in shown for one in group.fields}
    errors = {_nearest(problem.path, paths): problem for problem in reversed(problems)}
    others = tuple(problem for problem in problems if _nearest(problem.path, paths) not in paths)
    found = dict(stands(reckoned.design, reckoned.show)) if reckoned else {}
    return BriefPage(
        job=job, page="brief", groups=shown, values=values, stands=found, errors=errors, others=others, beside=beside,
        based_on=state.number, saved=saved,
    )  # fmt: skip


def _nearest(path: str, paths: set[str]) -> str:
    """The field that a problem belongs to: its own, or the first of its group."""
    if path in paths:
        return path
    return next((one for one in sorted(paths) if path and one.startswith((f"{path}.", f"{path}["))), "")


def _beside(reckoned: Reckoned) -> Beside:
    design, shown = reckoned.design, reckoned.show
    ledger, found = design.ledger, reckoned.findings
    across, up, deep = (shown(ledger[f"outside.{d}"], "mm") for d in ("width", "height", "depth"))
    headline = [("Outside", f"{across} × {up}"), ("Depth", deep), ("Mass", f"{design.mass_kg:.1f} kg")]
    if "gap" in ledger:
        headline.append(("Gap", shown(ledger["gap"], "mm")))
    if "hidden.share" in ledger:
        headline.append(("Picture hidden", f"{100 * ledger['hidden.share']:.1f} %"))
    return Beside(
        headline=tuple(headline),
        drawings=tuple((name, reckoned.svg(name)) for name in VIEWS),
        stops=tuple(one for one in found if one.severity is Severity.STOP),
        assumed=tuple(one for one in found if one.rule.startswith("assumed.")),
    )
