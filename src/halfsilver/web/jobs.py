"""The jobs: by what has happened to each piece, what is due, a search, and the ways in which a job begins."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING, Final

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import HalfsilverError, JobError, Problem
from halfsilver.services.desk_values import Stage
from halfsilver.store.values import State
from halfsilver.web.forms import Form, Posted
from halfsilver.web.shown import AtDesk, Who, show

if TYPE_CHECKING:
    from halfsilver.layout.design import Design
    from halfsilver.model.workshop import Workshop

router = APIRouter(include_in_schema=False)
RESTING: Final = (Stage.HUNG.value, Stage.PUT_ASIDE.value)
MOST_FOUND: Final = 300
ASKED: Final[Mapping[str, str]] = {
    "due": "due_on",
    "screen.diagonal": "diagonal",
    "screen.aspect": "aspect",
    "size.width": "width",
    "size.height": "height",
    "mounting.kind": "kind",
    "place.visitors": "visitors",
    "viewers[0].distance": "distance",
}  # fmt: skip  (keys of the job file as the enquiry asks for them)


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One job on the wall."""

    state: State
    late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """The jobs at one stage: pieces hang side by side on a rail."""

    stage: Stage
    cards: tuple[Card, ...]
    rests: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JobsPage:
    """All jobs."""

    rails: tuple[Rail, ...]
    words: str
    found: int
    due: tuple[Card, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPage:
    """The form with which a job begins."""

    values: Mapping[str, str]
    errors: Mapping[str, Problem]
    others: tuple[Problem, ...]
    workshop: Workshop
    brought: str = ""


@router.get("/")
def jobs(request: Request, desk: AtDesk, q: str = "") -> Response:
    """The jobs on their rails; with words, those that have them all."""
    words = q.strip()[:100]
    today = desk.now()[:10]
    found = desk.jobs(words=words)[:MOST_FOUND]
    cards = tuple(Card(state=state, late=bool(state.due_on) and state.due_on < today and state.stage not in RESTING) for state in found)
    rails = tuple(
        Rail(stage=stage, cards=some, rests=stage.value in RESTING)
        for stage in Stage
        if (some := tuple(card for card in cards if card.state.stage == stage.value))
    )
    due = tuple(card for card in cards if card.state.due_on and card.state.stage not in RESTING)[:6]
    return show(request, "jobs.html", JobsPage(rails=rails, words=words, found=len(cards), due=due))


@router.get("/jobs/{job}/piece.svg")
def piece(request: Request, job: str, desk: AtDesk) -> Response:
    """The piece in outline, in its own proportions; a bare frame while there is no design."""
    state = desk.head(job[:40])
    tag = f'"{state.record}-{state.number}-{desk.shop().digest[:12]}"'
    headers = {"etag": tag, "cache-control": "no-cache"}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    try:
        picture = outline_svg(desk.reckoned(state).design)
    except HalfsilverError:
        picture = BARE
    return Response(picture, media_type="image/svg+xml", headers=headers)


BARE: Final = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 100"><rect x="2" y="2" width="156" height="96" fill="none" '
    'stroke="#8d8676" stroke-width="1.5" stroke-dasharray="5 4"/></svg>'
)


def outline_svg(design: Design) -> str:
    """Frame, sight and what is lit of a piece, 1 mm to a unit."""
    ledger, job = design.ledger, design.facts.job
    width, height = ledger["outside.width"], ledger["outside.height"]
    across, up = ledger["front.sight.width"], ledger["front.sight.height"]
    x, y = (width - across) / 2, (height - up) / 2
    pen = max(width, height) / 150
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-pen:.1f} {-pen:.1f} {width + 2 * pen:.1f} {height + 2 * pen:.1f}">',
        f"<title>{escape(job.title)}</title>",
        f'<rect width="{width:.1f}" height="{height:.1f}" fill="#3a3f45" stroke="#8d8676" stroke-width="{pen:.1f}"/>',
        f'<path d="M0 0L{x:.1f} {y:.1f}M{width:.1f} 0L{width - x:.1f} {y:.1f}M0 {height:.1f}L{x:.1f} {height - y:.1f}'
        f'M{width:.1f} {height:.1f}L{width - x:.1f} {height - y:.1f}" stroke="#22262a" stroke-width="{pen * 0.7:.1f}"/>',
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{across:.1f}" height="{up:.1f}" fill="#15222b"/>',
    ]
    if job.lights is not None and "gap" in ledger:
        for k in range(1, 5):
            inset = across * 0.035 * k
            parts.append(
                f'<rect x="{x + inset:.1f}" y="{y + inset:.1f}" width="{across - 2 * inset:.1f}" height="{up - 2 * inset:.1f}" fill="none" '
                f'stroke="#f4b63f" stroke-opacity="{0.95 / k:.2f}" stroke-width="{pen * 1.3 / k**0.5:.1f}"/>'
            )
    if "screen.picture.width" in ledger:
        wide, high = (min(ledger[f"screen.picture.{d}"], o) * 0.62 for d, o in (("width", across), ("height", up)))
        parts.append(
            f'<rect x="{(width - wide) / 2:.1f}" y="{(height - high) / 2:.1f}" width="{wide:.1f}" height="{high:.1f}" fill="#5d92a8"/>'
        )
    return "".join((*parts, "</svg>"))


# How a job begins -------------------------------------------------------------------------------------------------------


@router.get("/new")
def new(request: Request, desk: AtDesk) -> Response:
    """The form of an enquiry."""
    units = desk.shop().workshop.head.units.value
    return show(request, "new.html", _new_page(desk.shop().workshop, {"units": units, "aspect": "16:9"}, ()))


@router.post("/new")
def begin(request: Request, desk: AtDesk, form: Form, who: Who) -> Response:
    """A job from an enquiry."""
    from halfsilver.services.desk_new import Enquiry, enquiry_text

    workshop = desk.shop().workshop
    names = Enquiry.__dataclass_fields__
    answers = {name: value[:400] for name, value in form.values.items() if name in names}
    try:
        text = enquiry_text(Enquiry(**{"title": "", **answers}), workshop)
        state = desk.begin(text, by=who, words="Begun from an enquiry.", due_on=form["due_on"])
    except JobError as error:
        return show(request, "new.html", _new_page(workshop, form.values, error.problems), status=422)
    return RedirectResponse(f"/jobs/{state.record}/brief", 303)


@router.post("/new/file")
def take_up(request: Request, desk: AtDesk, form: Form, who: Who) -> Response:
    """A job from a file: a job file, or an archive of whole jobs with options, history and packs."""
    from halfsilver.services.desk_exchange import taken_in

    workshop = desk.shop().workshop
    upload = form.files.get("file")
    if upload is None:
        problem = Problem(code="file-missing", path="file", allowed="No file was chosen.", advice="Choose a job file, such as foyer.yaml.")
        return show(request, "new.html", _new_page(workshop, {}, (problem,)), status=422)
    try:
        taken = taken_in(desk, upload.data, name=plain_name(upload.name), by=who)
    except JobError as error:
        return show(request, "new.html", _new_page(workshop, {}, error.problems, brought=plain_name(upload.name)), status=422)
    return RedirectResponse(f"/jobs/{taken.record}/brief", 303)


@router.post("/new/example")
def example(desk: AtDesk, form: Form, who: Who) -> Response:
    """The invented job that ships with the program, to look around in."""
    from halfsilver.services.desk_new import example_text

    state = desk.begin(example_text(), by=who, words="The invented example.")
    return RedirectResponse(f"/jobs/{state.record}/brief", 303)


@router.get("/jobs/{job}")
def open_job(job: str, desk: AtDesk) -> Response:
    """A job opens at its brief."""
    return RedirectResponse(f"/jobs/{desk.head(job[:40]).record}/brief", 303)


@router.post("/jobs/{job}/move")
def move(job: str, desk: AtDesk, form: Form, who: Who) -> Response:
    """Stage and due date."""
    state = desk.move(job[:40], stage=form["stage"], due_on=form["due_on"], based_on=form.whole("based_on"), by=who)
    return back_to(form, state.record)


def back_to(form: Posted, record: str) -> Response:
    """Back to the page of the job from which the form came."""
    last = form["back"].rpartition("/")[2]
    if not re.fullmatch(r"[a-z]{3,12}", last):
        last = "brief"
    return RedirectResponse(f"/jobs/{record}/{last}", 303)


def plain_name(name: str) -> str:
    """The last step of an uploaded file's name, in plain signs: for words, never for the disk."""
    last = re.split(r"[/\\]", name)[-1]
    return re.sub(r"[^\w .()+-]", "", last)[:60].strip() or "file"


def _new_page(workshop: Workshop, values: Mapping[str, str], problems: tuple[Problem, ...], *, brought: str = "") -> NewPage:
    from halfsilver.services.desk_new import Enquiry

    names = {*Enquiry.__dataclass_fields__, "due_on", "file"}
    fields = {problem: ASKED.get(problem.path, problem.path) for problem in problems}
    by_field = {field: problem for problem, field in reversed(fields.items()) if field in names and not brought}
    rest = tuple(problem for problem in problems if problem not in by_field.values())
    return NewPage(values=values, errors=by_field, others=rest, workshop=workshop, brought=brought)


def unknown(what: str) -> HTTPException:
    """There is no such thing."""
    return HTTPException(404, f"There is no {what}.")
