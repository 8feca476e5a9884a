"""The API for the jobs of the store."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Response
from pydantic import Field

from halfsilver.services.desk import Desk
from halfsilver.services.desk_readings import take_reading
from halfsilver.services.desk_values import TooLate
from halfsilver.store.values import Pack, State
from halfsilver.web import api
from halfsilver.web.answers import REFUSALS, Asked, JobId, JobText, Name, Short, StateNumber, Words, as_json
from halfsilver.web.shown import AtDesk

router = APIRouter(prefix="/api/jobs", tags=["jobs of the store"], responses=REFUSALS)
READINGS: dict[int | str, dict[str, Any]] = {
    201: {"description": "Written down."},
    202: {"description": "It looks like a slip: questioned, not written."},
}


class Begun(Asked):
    """A new job."""

    job: JobText
    by: Short = ""
    due_on: Short = ""


class Change(Asked):
    """Values at key paths; an empty one takes the key out."""

    values: Annotated[dict[Annotated[str, Field(max_length=200)], Annotated[str, Field(max_length=2000)]], Field(max_length=400)]
    based_on: StateNumber
    by: Short = ""
    token: Short = ""


class Moved(Asked):
    """Stage and due date."""

    stage: Short
    due_on: Short = ""
    based_on: StateNumber
    by: Short = ""


class ReadingSent(Asked):
    """A reading; the same token is written down once, however often it is sent."""

    name: Short
    value: Short
    at: Short = ""
    by: Short = ""
    when: Short = ""
    sure: bool = False
    token: Short = ""


class Restored(Asked):
    """Which state shall stand again."""

    number: StateNumber
    based_on: StateNumber
    by: Short = ""


def state_told(state: State) -> dict[str, Any]:
    """A state, as JSON shows it."""
    return {
        "id": state.record, "number": state.number, "title": state.title, "client": state.client, "stage": state.stage,
        "due_on": state.due_on, "by": state.made.by, "at": state.made.at, "what": state.made.what, "words": state.made.words,
        "files": dict(state.files),
    }  # fmt: skip


def pack_told(pack: Pack) -> dict[str, Any]:
    """A pack, as JSON shows it."""
    return {
        "revision": pack.revision, "number": pack.number, "date": pack.date, "by": pack.by, "at": pack.at, "files": dict(pack.files)
    }  # fmt: skip


@router.get("", response_model=None)
def jobs(desk: AtDesk, q: Words = "", stage: Annotated[str, Query(max_length=24)] = "") -> Response:
    """The standing states of all jobs, those due first at the top."""
    return as_json({"schema": "halfsilver/jobs/1", "jobs": [state_told(state) for state in desk.jobs(words=q, stage=stage)]})


@router.post("", response_model=None, status_code=201)
def begin(desk: AtDesk, asked: Begun) -> Response:
    """A new job."""
    return _state(desk.begin(asked.job, by=asked.by, words="Through the API.", due_on=asked.due_on, what="imported"), 201)


@router.get("/{job}", response_model=None)
def job(desk: AtDesk, job: JobId) -> Response:
    """One job as it stands, with its text."""
    state = desk.head(job)
    return as_json({"schema": "halfsilver/state/1", **state_told(state), "job": desk.text(state)})


@router.get("/{job}/history", response_model=None)
def history(desk: AtDesk, job: JobId) -> Response:
    """Every state, the first first."""
    return as_json({"schema": "halfsilver/history/1", "states": [state_told(state) for state in desk.store.history(job)]})


@router.post("/{job}/change", response_model=None)
def change(desk: AtDesk, job: JobId, asked: Change) -> Response:
    """Set values; where another state stands by now, both are told and nothing is written."""
    done = desk.change(job, asked.values, based_on=asked.based_on, by=asked.by, token=asked.token)
    return _too_late(done) if isinstance(done, TooLate) else _state(done)


@router.post("/{job}/move", response_model=None)
def move(desk: AtDesk, job: JobId, asked: Moved) -> Response:
    """Say what has happened to it, and when it is due."""
    return _state(desk.move(job, stage=asked.stage, due_on=asked.due_on, based_on=asked.based_on, by=asked.by))


@router.post("/{job}/restore", response_model=None)
def restore(desk: AtDesk, job: JobId, asked: Restored) -> Response:
    """Let a state stand again."""
    return _state(desk.restore(job, asked.number, based_on=asked.based_on, by=asked.by))


@router.post("/{job}/measure", response_model=None, status_code=201, responses=READINGS)
def measure(desk: AtDesk, job: JobId, asked: ReadingSent) -> Response:
    """Write a reading down, or question it."""
    taken = take_reading(desk, job, **asked.model_dump())
    if taken.state is None:
        doubts = [{"code": doubt.code, "said": doubt.said, "meant": doubt.meant} for doubt in taken.doubts]
        return as_json({"schema": "halfsilver/doubts/1", "doubts": doubts}, 202)
    return as_json({"schema": "halfsilver/reading/1", "number": taken.state.number, "lines": list(taken.lines)}, 201)


@router.get("/{job}/check", response_model=None)
def check(desk: AtDesk, job: JobId) -> Response:
    """Its findings."""
    return api.findings_told(desk.reckoned(desk.head(job)))


@router.get("/{job}/resolve", response_model=None)
def resolve(desk: AtDesk, job: JobId) -> Response:
    """Its sizes, parts and layers."""
    return api.design_told(desk.reckoned(desk.head(job)))


@router.get("/{job}/why/{name}", response_model=None)
def why(desk: AtDesk, job: JobId, name: Name) -> Response:
    """Where one of its sizes comes from."""
    return api.why_told(desk.reckoned(desk.head(job)), name)


@router.get("/{job}/predict", response_model=None)
def predict(desk: AtDesk, job: JobId) -> Response:
    """What will be seen of it."""
    return api.appearance_told(desk.reckoned(desk.head(job)))


@router.get("/{job}/bill", response_model=None)
def bill(desk: AtDesk, job: JobId) -> Response:
    """What it costs."""
    return api.bill_told(desk.reckoned(desk.head(job)))


@router.get("/{job}/cut-plan", response_model=None)
def cut_plan(desk: AtDesk, job: JobId) -> Response:
    """How it is cut."""
    return api.cut_plan_told(desk.reckoned(desk.head(job)))


@router.get("/{job}/packs", response_model=None)
def packs(desk: AtDesk, job: JobId) -> Response:
    """Its packs, the first revision first."""
    return as_json({"schema": "halfsilver/packs/1", "packs": [pack_told(pack) for pack in _packs(desk, job)]})


def _packs(desk: Desk, job: str) -> tuple[Pack, ...]:
    return desk.store.packs(desk.head(job).record)


def _state(state: State, status: int = 200) -> Response:
    return as_json({"schema": "halfsilver/state/1", **state_told(state)}, status)


def _too_late(late: TooLate) -> Response:
    clashes = [{"path": c.path, "was": c.was, "theirs": c.theirs, "mine": c.mine, "both": c.is_real} for c in late.clashes]
    theirs = [{"path": d.path, "was": d.was, "now": d.now} for d in late.theirs]
    told = {"schema": "halfsilver/conflict/1", "based_on": late.based_on, "head": late.head.number, "clashes": clashes, "theirs": theirs}
    return as_json(told, 409)
