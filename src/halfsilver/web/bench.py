"""The bench: one build step at a time, made for a tablet at arm's length.

Every step is a page of its own and works as a plain form. A script fetches all steps at once, shows one of them, puts readings into a
queue in the browser and sends them one after the other, each under a key of its own: what is sent twice is written once.
"""

from __future__ import annotations

from dataclasses import dataclass
from secrets import token_hex
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from halfsilver.errors import HalfsilverError, Problem, StoreError
from halfsilver.services.desk import Desk
from halfsilver.services.desk_bench import Card, cards, compared, drawing, take, tick
from halfsilver.services.desk_readings import Taken
from halfsilver.store.values import State
from halfsilver.web.forms import Form, Posted
from halfsilver.web.jobs import unknown
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/bench")


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What came of a reading.

    Parameters
    ----------
    name, at, value : str
        What was read, where, and as written.
    compared : str
        Beside the plan, in words.
    taken : Taken or None
        What was written down, or why it is questioned.
    problems : tuple of Problem
        Why it cannot be taken.
    """

    name: str
    at: str
    value: str
    compared: str = ""
    taken: Taken | None = None
    problems: tuple[Problem, ...] = ()

    @property
    def is_kept(self) -> bool:
        """Whether it was written down."""
        return self.taken is not None and self.taken.state is not None

    def as_json(self) -> dict[str, Any]:
        """For the script."""
        taken = self.taken
        return {
            "kept": self.is_kept, "number": taken.state.number if taken and taken.state else 0, "compared": self.compared,
            "lines": list(taken.lines) if taken else [],
            "doubts": [{"said": d.said, "meant": d.meant} for d in taken.doubts] if taken else [],
            "problems": [" ".join(part for part in (p.allowed, p.advice) if part) for p in self.problems],
        }  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchPage:
    """One step, and the list of all."""

    job: JobHead
    page: str
    problems: tuple[Problem, ...] = ()
    cards: tuple[Card, ...] = ()
    card: Card | None = None
    picture: str = ""
    answer: Answer | None = None
    key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepsPart:
    """All steps, for the script."""

    job: JobHead
    cards: tuple[Card, ...]
    key: str


@router.get("")
def bench(request: Request, job: Job, desk: AtDesk) -> Response:
    """The first step that is not done."""
    try:
        found = cards(desk, job.state)
    except HalfsilverError as error:
        return _shown(request, BenchPage(job=job, page="bench", problems=problems_of(error)))
    if not found:
        return _shown(request, BenchPage(job=job, page="bench"))
    first = next((card for card in found if not card.done), found[-1])
    return RedirectResponse(f"/jobs/{job.id}/bench/{first.step.id}", 303)


@router.get("/all/number")
def number(job: Job) -> Response:
    """The state that stands: it tells a script whether somebody changed something."""
    return JSONResponse({"number": job.state.number})


@router.get("/all/steps")
def steps(request: Request, job: Job, desk: AtDesk) -> Response:
    """All steps, so that a script can go on without a connection."""
    found = cards(desk, job.state)
    return show(request, "bench_steps.html", StepsPart(job=job, cards=found, key=token_hex(16)))


@router.get("/all/drawing/{name}.svg")
def drawn(job: Job, desk: AtDesk, name: str) -> Response:
    """One drawing, lettered for an arm's length."""
    reckoned = desk.reckoned(job.state)
    if name not in reckoned.scenes:
        raise unknown("such drawing")
    return Response(drawing(reckoned, name), media_type="image/svg+xml")


@router.get("/{step}")
def one(request: Request, job: Job, desk: AtDesk, step: str) -> Response:
    """One step."""
    try:
        return _shown(request, _page(desk, job, step))
    except HalfsilverError as error:
        return _shown(request, BenchPage(job=job, page="bench", problems=problems_of(error)))


@router.get("/{step}/reading")
@router.get("/{step}/done")
def back(job: Job, step: str) -> Response:
    """Whoever comes back to the address of a form sees its step."""
    return RedirectResponse(f"/jobs/{job.id}/bench/{quote(step, safe='')}", 303)


@router.post("/{step}/reading")
def reading(request: Request, job: Job, desk: AtDesk, form: Form, who: Who, step: str) -> Response:
    """Write a reading down, or question it first."""
    answer = _answer(desk, job, form, who)
    if wants_json(request):
        return JSONResponse(answer.as_json(), 200 if answer.is_kept else 202 if answer.taken else 422)
    return _shown(request, _page(desk, _fresh(job, desk), step, answer=answer), status=422 if answer.problems else 200)


@router.post("/{step}/done")
def done(request: Request, job: Job, desk: AtDesk, form: Form, who: Who, step: str) -> Response:
    """Tick a step off and go on to the next, or open it again."""
    is_done = form["done"] != "no"
    state = tick(desk, job.id, step, done=is_done, by=who, token=form["key"])
    if wants_json(request):
        return JSONResponse({"kept": True, "number": state.number})
    follows = form["next"][:60] if is_done else ""
    return RedirectResponse(f"/jobs/{job.id}/bench/{quote(follows or step, safe='')}", 303)


def wants_json(request: Request) -> bool:
    """Whether a script asks."""
    return "application/json" in request.headers.get("accept", "")


def _answer(desk: Desk, job: JobHead, form: Posted, who: str) -> Answer:
    name, at, value = (form[key].strip()[:100] for key in ("name", "at", "value"))
    try:
        taken = take(
            desk, job.id, name=name, value=value, at=at, by=who, when=form["when"], sure=form["sure"] == "yes", token=form["key"]
        )  # fmt: skip
        said = _compared(desk, taken, name) if taken.state else ""
    except StoreError:
        raise
    except HalfsilverError as error:
        return Answer(name=name, at=at, value=value, problems=problems_of(error))
    return Answer(name=name, at=at, value=value, compared=said, taken=taken)


def _compared(desk: Desk, taken: Taken, name: str) -> str:
    assert taken.state is not None
    points = [point for card in cards(desk, taken.state) for point in card.points if point.name == name]
    return compared(points[0], taken.reading.value, desk.reckoned(taken.state)) if points else ""


def _fresh(job: JobHead, desk: Desk) -> JobHead:
    state: State = desk.head(job.id)
    return JobHead(state=state, base=job.base, options=job.options, pages=job.pages)


def _page(desk: Desk, job: JobHead, step: str, *, answer: Answer | None = None) -> BenchPage:
    found = cards(desk, job.state)
    card = next((card for card in found if card.step.id == step), None)
    if card is None:
        raise unknown("such step of this job")
    reckoned = desk.reckoned(job.state)
    picture = drawing(reckoned, card.step.drawing) if card.step.drawing in reckoned.scenes else ""
    return BenchPage(job=job, page="bench", cards=found, card=card, picture=picture, answer=answer, key=token_hex(16))


def _shown(request: Request, page: BenchPage, *, status: int = 200) -> Response:
    return show(request, "bench.html", page, status=status)
