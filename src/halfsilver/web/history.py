"""History: every change with who made it and when; any state can be looked at and stands again when somebody says so. Readings too."""

from __future__ import annotations

from dataclasses import dataclass
from secrets import token_hex

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import JobError, Problem
from halfsilver.services.desk_readings import Taken, take_reading
from halfsilver.services.desk_values import Difference
from halfsilver.services.load import is_measurable
from halfsilver.store.values import State
from halfsilver.web.forms import Form
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/history")


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryPage:
    """All states, the newest first."""

    job: JobHead
    page: str
    states: tuple[State, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StatePage:
    """One state."""

    job: JobHead
    page: str
    state: State
    text: str
    changed: tuple[Difference, ...]
    since: tuple[Difference, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingPage:
    """The form of one reading, what is doubtful about it, or what it moved."""

    job: JobHead
    page: str
    names: tuple[tuple[str, str], ...]
    name: str
    value: str
    at: str
    planned: str
    key: str
    problems: tuple[Problem, ...] = ()
    taken: Taken | None = None


@router.get("")
def history(request: Request, job: Job, desk: AtDesk) -> Response:
    """Every change."""
    states = tuple(reversed(desk.store.history(job.id)))
    return show(request, "history.html", HistoryPage(job=job, page="history", states=states))


@router.get("/measure")
def reading(request: Request, job: Job, desk: AtDesk, name: str = "") -> Response:
    """The form of one reading."""
    return show(request, "reading.html", _page(desk, job, name=name))


@router.post("/measure")
def measure(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Write a reading down, or question it first."""
    name, value, at = (form[key][:100] for key in ("name", "value", "at"))
    try:
        taken = take_reading(desk, job.id, name=name, value=value, at=at, by=who, sure=form["sure"] == "yes", token=form["key"])
    except JobError as error:
        return show(request, "reading.html", _page(desk, job, name=name, value=value, at=at, problems=error.problems), status=422)
    fresh = JobHead(state=taken.state, base=job.base, options=job.options, pages=job.pages) if taken.state else job
    return show(request, "reading.html", _page(desk, fresh, name=name, value=value, at=at, taken=taken))


@router.get("/{number}")
def look_back(request: Request, job: Job, desk: AtDesk, number: int) -> Response:
    """One state: what it changed, and what changed since."""
    state = desk.store.state(job.id, number)
    before = desk.store.state(job.id, number - 1) if number > 1 else None
    page = StatePage(
        job=job, page="history", state=state, text=desk.text(state), changed=desk.differs(before, state) if before else (),
        since=desk.differs(state, job.state),
    )  # fmt: skip
    return show(request, "state.html", page)


@router.post("/{number}/restore")
def restore(job: Job, desk: AtDesk, form: Form, who: Who, number: int) -> Response:
    """Let a state stand again."""
    desk.restore(job.id, number, based_on=form.whole("based_on"), by=who)
    return RedirectResponse(f"/jobs/{job.id}/history", 303)


def _page(
    desk: AtDesk,
    job: JobHead,
    *,
    name: str = "",
    value: str = "",
    at: str = "",
    problems: tuple[Problem, ...] = (),
    taken: Taken | None = None,
) -> ReadingPage:
    reckoned = desk.reckoned(job.state)
    ledger = reckoned.design.ledger
    names = tuple((one, entry.label) for one, entry in ledger.entries.items() if is_measurable(ledger, one))
    planned = reckoned.show(ledger.planned.get(name, ledger[name]), "mm") if name in ledger else ""
    return ReadingPage(
        job=job, page="history", names=names, name=name, value=value, at=at, planned=planned, key=token_hex(16), problems=problems,
        taken=taken,
    )  # fmt: skip
