"""The look: the piece on its wall, drawn live by the page, with the numbers of the eye that looks; as a still where it cannot be drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Final

from fastapi import APIRouter, Depends, Query, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import HalfsilverError, JobError, Problem
from halfsilver.model.job import Viewer
from halfsilver.model.workshop import GlassDuty, GlassKind, Workshop
from halfsilver.services.desk import Desk
from halfsilver.services.desk_look import (
    OWN,
    PATTERNS,
    TRIED,
    asset,
    changes,
    eye_numbers,
    light_changes,
    pattern_png,
    pattern_size,
    piece_numbers,
    put_picture,
    still_png,
    tried,
)
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.services.desk_values import TooLate
from halfsilver.services.records import as_text, document, problems_record
from halfsilver.store.values import State
from halfsilver.web.forms import Form
from halfsilver.web.jobs import unknown
from halfsilver.web.look_rows import Row, eye_rows, piece_rows
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, show

if TYPE_CHECKING:
    from halfsilver.services.pictures import StateWord

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/look")
FARTHEST_MM: Final = 50_000.0
DUTIES: Final = {
    GlassDuty.SPLITTER: "Part mirrors", GlassDuty.CLEAR: "Clear and tinted", GlassDuty.MIRROR: "Mirrors",
}  # fmt: skip
CONTENT: Final = {"own": "The picture that was put with it", "night-sky": "A night sky", "grid": "A grid", "bars": "Bars of colour"}
Place = Annotated[float | None, Query(ge=-FARTHEST_MM, le=FARTHEST_MM, allow_inf_nan=False)]
Factor = Annotated[float, Query(ge=0.0, le=10.0, allow_inf_nan=False)]
Said = Annotated[str, Query(max_length=80)]


@dataclass(frozen=True, kw_only=True)
class Asked:
    """How somebody wants to see it: other glass or gap, who looks, and what is switched on."""

    front: Said = ""
    rear: Said = ""
    gap: Said = ""
    viewer: Said = ""
    content: Said = ""
    said: bool = False  # a form that leaves a switch out says that it is off
    screen: bool = False
    lights: bool = False

    @property
    def tries(self) -> Mapping[str, str]:
        """What is tried."""
        return {name: getattr(self, name) for name in TRIED}

    @property
    def state(self) -> StateWord:
        """What is switched on, as the stills take it."""
        on, lit = (self.screen, self.lights) if self.said else (True, True)
        return "all" if on and lit else "on" if on else "lights" if lit else "dark"


As = Annotated[Asked, Depends()]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """Sheets of one duty, to choose from."""

    title: str
    kinds: tuple[GlassKind, ...]


@dataclass(frozen=True, kw_only=True)
class Looked:
    """A job that can be looked at, as it stands and as it is tried."""

    stands: Reckoned
    now: Reckoned
    trying: Mapping[str, str]

    @cached_property
    def viewers(self) -> tuple[Viewer, ...]:
        """Who looks."""
        return self.stands.loaded.job.viewers


@dataclass(frozen=True, slots=True, kw_only=True)
class LookPage:
    """The picture with its controls."""

    job: JobHead
    page: str
    asked: Asked
    problems: tuple[Problem, ...] = ()
    tried_problems: tuple[Problem, ...] = ()
    looked: Looked | None = None
    viewer: Viewer | None = None
    shelves: tuple[Shelf, ...] = ()
    contents: tuple[tuple[str, str], ...] = ()
    content: str = ""
    eye: tuple[Row, ...] = ()
    piece: tuple[Row, ...] = ()
    up_mm: Mapping[str, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NumbersPart:
    """The numbers beside the picture."""

    eye: tuple[Row, ...]
    piece: tuple[Row, ...]
    trying: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One option beside the others."""

    state: State
    letter: str
    piece: tuple[Row, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BesidePage:
    """Up to four options, each as the same eye sees it."""

    job: JobHead
    page: str
    asked: Asked
    ways: tuple[Way, ...]
    viewers: tuple[Viewer, ...]
    viewer: str


@router.get("")
def look(request: Request, job: Job, desk: AtDesk, asked: As) -> Response:
    """The page."""
    try:
        stands = desk.reckoned(job.state)
        _ = stands.design
        page = _page(job, desk, stands, asked)
    except HalfsilverError as error:
        page = LookPage(job=job, page="look", asked=asked, problems=problems_of(error))
    return show(request, "look.html", page)


@router.get("/asset")
def header(job: Job, desk: AtDesk, asked: As) -> Response:
    """Header of what a page draws from."""
    try:
        return Response(asset(tried(desk, job.state, asked.tries))[0], media_type="application/json")
    except HalfsilverError as error:
        return _refused(error)


@router.get("/tables")
def tables(job: Job, desk: AtDesk, asked: As) -> Response:
    """Tables of what a page draws from."""
    try:
        return Response(asset(tried(desk, job.state, asked.tries))[1], media_type="application/octet-stream")
    except HalfsilverError as error:
        return _refused(error)


@router.get("/numbers")
def numbers(
    request: Request, job: Job, desk: AtDesk, asked: As, x: Place = None, y: Place = None, away: Place = None,
    dim: Factor = 1.0, shown: Factor = 1.0,
) -> Response:  # fmt: skip
    """The numbers of an eye where it is: a part of the page."""
    try:
        looked = _looked(desk, job.state, asked)
        viewer = _viewer(looked, asked)
        at = _places(looked, viewer)
        eye = (at[0] if x is None else x, at[1] if y is None else y, max(at[2] if away is None else away, 1.0))
        part = NumbersPart(eye=_eye(looked, eye, dim, shown), piece=_piece(looked), trying=looked.trying)
    except HalfsilverError as error:
        return _refused(error)
    return show(request, "look_numbers.html", part)


@router.get("/still.png")
def still(job: Job, desk: AtDesk, asked: As) -> Response:
    """The picture drawn here, for pages that cannot."""
    reckoned = tried(desk, job.state, asked.tries)
    own = job.state.files.get(OWN, "") if asked.content == "own" else ""
    name = asked.content if asked.content in PATTERNS else PATTERNS[0]
    viewer = asked.viewer or next((one.id for one in reckoned.loaded.job.viewers), "")
    png = still_png(desk, reckoned, viewer=viewer, state=asked.state, content=name, own=own)
    return Response(png, media_type="image/png")


@router.get("/content/{name}.png")
def content(job: Job, desk: AtDesk, name: str) -> Response:
    """A built-in picture in the proportions of the screen."""
    if name not in PATTERNS:
        raise unknown("such picture")
    width, height = pattern_size(desk.reckoned(job.state))
    return Response(pattern_png(name, width_px=width, height_px=height), media_type="image/png")


@router.post("/content")
def put_content(job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Put a picture with the job."""
    put_picture(desk, job.id, form.file("file"), based_on=form.whole("based_on"), by=who)
    return RedirectResponse(f"/jobs/{job.id}/look?content=own", 303)


@router.post("/keep")
def keep(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Make what is tried the job."""
    based_on = form.whole("based_on")
    seen = desk.store.state(job.id, based_on)
    _ = tried(desk, seen, form.values).design  # what has no design is not kept
    values = changes(desk, seen, form.values)
    return _kept(request, job, desk.change(job.id, values, based_on=based_on, by=who))


def _kept(request: Request, job: JobHead, done: State | TooLate) -> Response:
    if isinstance(done, TooLate):
        from halfsilver.web.brief import ChoicePage

        return show(request, "choice.html", ChoicePage(job=job, page="look", late=done), status=409)
    return RedirectResponse(f"/jobs/{job.id}/look", 303)


@router.post("/light")
def keep_light(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Keep how the lights are dimmed and coloured."""
    based_on = form.whole("based_on")
    values = light_changes(desk, desk.store.state(job.id, based_on), form.values)
    return _kept(request, job, desk.change(job.id, values, based_on=based_on, by=who))


@router.get("/beside")
def beside(request: Request, job: Job, desk: AtDesk, asked: As) -> Response:
    """Options side by side."""
    ways = tuple(_way(desk, job, state) for state in job.options)
    viewers: tuple[Viewer, ...] = ()
    for way in ways:
        if not way.problems:
            viewers = desk.reckoned(way.state).loaded.job.viewers
            break
    viewer = asked.viewer if asked.viewer in {one.id for one in viewers} else next((one.id for one in viewers), "")
    return show(request, "look_beside.html", BesidePage(job=job, page="look", asked=asked, ways=ways, viewers=viewers, viewer=viewer))


def _way(desk: Desk, job: JobHead, state: State) -> Way:
    from halfsilver.services.desk_options import letter_of

    letter = letter_of(state.record)
    try:
        reckoned = desk.reckoned(state)
        if not reckoned.loaded.job.viewers:
            raise JobError([NOBODY])
        return Way(state=state, letter=letter, piece=piece_rows(piece_numbers(reckoned), None))
    except HalfsilverError as error:
        return Way(state=state, letter=letter, problems=problems_of(error))


NOBODY: Final = Problem(code="nobody-looks", path="viewers", allowed="The job names nobody who looks.", advice="Add one in its brief.")


def _page(job: JobHead, desk: Desk, stands: Reckoned, asked: Asked) -> LookPage:
    if not stands.loaded.job.viewers:
        raise JobError([NOBODY])
    problems: tuple[Problem, ...] = ()
    try:
        looked = _looked(desk, job.state, asked)
        _ = looked.now.design
    except HalfsilverError as error:
        problems, looked = problems_of(error), Looked(stands=stands, now=stands, trying={})
    viewer = _viewer(looked, asked)
    contents = tuple((name, said) for name, said in CONTENT.items() if name != "own" or OWN in job.state.files)
    chosen = asked.content if asked.content in dict(contents) else contents[0][0]
    return LookPage(
        job=job, page="look", asked=asked, tried_problems=problems, looked=looked, viewer=viewer,
        shelves=_shelves(desk.shop().workshop), contents=contents, content=chosen, eye=_eye(looked, _places(looked, viewer), 1.0, 1.0),
        piece=_piece(looked), up_mm={one.id: _places(looked, one)[1] for one in looked.viewers},
    )  # fmt: skip


def _looked(desk: Desk, state: State, asked: Asked) -> Looked:
    stands = desk.reckoned(state)
    if not stands.loaded.job.viewers:
        raise JobError([NOBODY])
    trying = changes(desk, state, asked.tries)
    return Looked(stands=stands, now=tried(desk, state, asked.tries) if trying else stands, trying=trying)


def _viewer(looked: Looked, asked: Asked) -> Viewer:
    return next((one for one in looked.viewers if one.id == asked.viewer), looked.viewers[0])


def _places(looked: Looked, viewer: Viewer) -> tuple[float, float, float]:
    """Where a viewer's eye is: to the right of and above the centre, and before the front face. [mm]"""
    centre = looked.stands.loaded.job.mounting.centre_height
    up = 0.0 if viewer.eye_height is None or centre is None else viewer.eye_height - centre
    return viewer.sideways, up, viewer.distance


def _eye(looked: Looked, at: tuple[float, float, float], dim: float, shown: float) -> tuple[Row, ...]:
    def of(one: Reckoned) -> tuple[Row, ...]:
        found = eye_numbers(one, sideways_mm=at[0], up_mm=at[1], distance_mm=at[2], lights=dim, screen=shown)
        return eye_rows(found, one.show)

    was = {row.name: row.value for row in of(looked.stands)} if looked.trying else {}
    return tuple(row.beside(was.get(row.name, "")) for row in of(looked.now))


def _piece(looked: Looked) -> tuple[Row, ...]:
    return piece_rows(piece_numbers(looked.now), piece_numbers(looked.stands) if looked.trying else None)


def _shelves(workshop: Workshop) -> tuple[Shelf, ...]:
    kinds = workshop.glass.values()
    found = (Shelf(title=title, kinds=tuple(one for one in kinds if one.duty is duty)) for duty, title in DUTIES.items())
    return tuple(shelf for shelf in found if shelf.kinds)


def _refused(error: HalfsilverError) -> Response:
    return Response(as_text(document("problems", problems_record(problems_of(error)))), 422, media_type="application/json")
