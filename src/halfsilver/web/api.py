"""The API for jobs that come with the request: the same services, under the same names, as the command line."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Depends, Request, Response
from pydantic import Field
from starlette.responses import JSONResponse

from halfsilver.errors import JobError, Problem
from halfsilver.ledger.explain import why as explained
from halfsilver.model.results import CompareRecord
from halfsilver.services.desk import Desk
from halfsilver.services.desk_reckoned import Reckoned
from halfsilver.services.records import bill_record, cut_plan_record, design_record, document, findings_record, why_record
from halfsilver.units.words import nearest_word
from halfsilver.web.answers import REFUSALS, Asked, JobAsked, JobText, Short, as_json, as_zip
from halfsilver.web.shown import AtDesk, desk_of

router = APIRouter(prefix="/api", tags=["jobs that come with the request"], responses=REFUSALS, dependencies=[Depends(desk_of)])


class WhyAsked(JobAsked):
    """A job and one of its sizes."""

    name: Short


class MeasureAsked(WhyAsked):
    """A job and a reading."""

    value: Short
    at: Short = ""
    by: Short | None = None
    when: Short | None = None


class CompareAsked(Asked):
    """Two to four jobs."""

    jobs: Annotated[list[JobText], Field(max_length=8)]


class PackAsked(JobAsked):
    """A job and the date on its documents."""

    date: Short
    pictures: bool = False


class CutAsked(Asked):
    """A cutting task in the neutral form."""

    instance: dict[str, Any]
    effort: Literal["quick", "usual"] = "quick"


class CutCheckAsked(Asked):
    """A cutting task and a plan."""

    instance: dict[str, Any]
    solution: dict[str, Any]


class ReckonAsked(Asked):
    """A formula and its inputs."""

    name: Short
    inputs: dict[str, Any]


def read(desk: Desk, asked: JobAsked) -> Reckoned:
    """The job of a request."""
    return desk.reckoned_text(asked.job, file=asked.file)


def findings_told(reckoned: Reckoned) -> Response:
    """``findings``, as ``check --json`` writes it."""
    return as_json(document("findings", findings_record(reckoned.findings, reckoned.workings)))


def design_told(reckoned: Reckoned) -> Response:
    """``design``, as ``resolve`` writes it."""
    return as_json(document("design", design_record(reckoned.design, reckoned.show)))


def why_told(reckoned: Reckoned, name: str) -> Response:
    """``why``, as ``why --json`` writes it."""
    ledger = reckoned.design.ledger
    if name not in ledger:
        near = nearest_word(name, ledger.entries)
        advice = f"Did you mean {near}?" if near else "`halfsilver resolve` lists them all."
        allowed = f"The ledger of this job has {len(ledger.entries)} names."
        raise JobError([Problem(code="unknown-name", read=name, allowed=allowed, advice=advice)])
    return as_json(document("why", why_record(explained(ledger, name, show=reckoned.show))))


def appearance_told(reckoned: Reckoned) -> Response:
    """``appearance``, as ``predict`` writes it."""
    return as_json(document("appearance", reckoned.appearance))


def bill_told(reckoned: Reckoned) -> Response:
    """``bill``, as the pack holds it."""
    return as_json(document("bill", bill_record(reckoned.making.bill)))


def cut_plan_told(reckoned: Reckoned) -> Response:
    """``cut_plan``, as the pack holds it."""
    return as_json(document("cut_plan", cut_plan_record(reckoned.making.plan)))


@router.post("/check", response_model=None)
def check(desk: AtDesk, asked: JobAsked) -> Response:
    """Read a job: its problems, or its findings."""
    return findings_told(read(desk, asked))


@router.post("/resolve", response_model=None)
def resolve(desk: AtDesk, asked: JobAsked) -> Response:
    """Every size, part and layer."""
    return design_told(read(desk, asked))


@router.post("/why", response_model=None)
def why(desk: AtDesk, asked: WhyAsked) -> Response:
    """Where a size comes from, and how far it may be off."""
    return why_told(read(desk, asked), asked.name)


@router.post("/predict", response_model=None)
def predict(desk: AtDesk, asked: JobAsked) -> Response:
    """What will be seen, in numbers."""
    return appearance_told(read(desk, asked))


@router.post("/bill", response_model=None)
def bill(desk: AtDesk, asked: JobAsked) -> Response:
    """What it costs, line by line."""
    return bill_told(read(desk, asked))


@router.post("/cut-plan", response_model=None)
def cut_plan(desk: AtDesk, asked: JobAsked) -> Response:
    """Which piece comes out of which stick or sheet."""
    return cut_plan_told(read(desk, asked))


@router.post("/compare", response_model=None)
def compare(desk: AtDesk, asked: CompareAsked) -> Response:
    """Two to four jobs side by side."""
    from halfsilver.services.compare import LEAST, MOST, option

    if not LEAST <= len(asked.jobs) <= MOST:
        allowed = f"{LEAST} to {MOST} jobs can be compared."
        raise JobError([Problem(code="number-of-jobs", read=str(len(asked.jobs)), allowed=allowed, advice="Name that many.")])
    found = [desk.reckoned_text(text, file=f"job {i}") for i, text in enumerate(asked.jobs, 1)]
    record = CompareRecord(options=tuple(option(one.loaded, one.design) for one in found))
    return as_json(document("compare", record))


@router.post("/measure", response_model=None)
def measure(desk: AtDesk, asked: MeasureAsked) -> Response:
    """The job with one more reading, and what it moved."""
    from halfsilver.services.measuring import measured_text

    text, lines = measured_text(
        read(desk, asked).loaded, name=asked.name, value=asked.value, at=asked.at, by=asked.by, when=asked.when
    )  # fmt: skip
    return as_json({"schema": "halfsilver/measured/1", "job": text, "lines": list(lines)})


@router.post("/pack", response_model=None)
def pack(desk: AtDesk, asked: PackAsked) -> Response:
    """The documents of a job, as a ZIP."""
    from halfsilver.services.desk_packs import packed

    return as_zip(packed(read(desk, asked).loaded, date=asked.date, pictures=asked.pictures))


@router.post("/cut", response_model=None)
def cut(asked: CutAsked) -> Response:
    """A cutting plan for a task in the neutral form."""
    from halfsilver.making.cutting.neutral_reading import instance_from_dict
    from halfsilver.making.cutting.portfolio import solve
    from halfsilver.services.cutting import plan_document

    return as_json(plan_document(solve(instance_from_dict(asked.instance), effort=asked.effort)))


@router.post("/cut-check", response_model=None)
def cut_check(asked: CutCheckAsked) -> Response:
    """Whether a plan can be cut and meets its task."""
    from halfsilver.making.cutting.neutral_reading import instance_from_dict, solution_from_dict
    from halfsilver.services.cutting import check_document

    return as_json(check_document(instance_from_dict(asked.instance), solution_from_dict(asked.solution)))


@router.get("/reckon", response_model=None)
def formulas() -> Response:
    """Every published formula of the program."""
    from halfsilver.services.reckon import listed

    return as_json(document("reckon", listed()))


@router.post("/reckon", response_model=None)
def reckon(asked: ReckonAsked) -> Response:
    """One published formula, evaluated."""
    from halfsilver.services.reckon import reckon as reckoned

    return as_json(document("reckon", reckoned(asked.name, asked.inputs), places=None))


@router.get("/schema/{name}", response_model=None)
def schema(name: str) -> Response:
    """The JSON Schema of a file."""
    from halfsilver.services.schemas import schema_text

    return Response(schema_text(name[:100]), media_type="application/json")


@router.get("/openapi.json", include_in_schema=False)
def described(request: Request) -> Response:
    """The API in OpenAPI's form."""
    return JSONResponse(request.app.openapi())
