"""The job file itself: as text to edit or take away, and the files that stand beside it."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import JobError, Problem
from halfsilver.files.located import text_of
from halfsilver.services.desk import JOB
from halfsilver.services.desk_exchange import archive_of
from halfsilver.services.desk_look import put_picture
from halfsilver.services.desk_values import TooLate
from halfsilver.web.answers import as_zip
from halfsilver.web.forms import Form
from halfsilver.web.jobs import unknown
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, show

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/file")


@dataclass(frozen=True, slots=True, kw_only=True)
class FilePage:
    """The text of a job, or what is wrong with a new one."""

    job: JobHead
    page: str
    text: str
    based_on: int
    problems: tuple[Problem, ...] = ()
    kept: bool = False


@router.get("")
def text(request: Request, job: Job, desk: AtDesk, kept: int = 0) -> Response:
    """The text, to edit."""
    page = FilePage(job=job, page="brief", text=desk.text(job.state), based_on=job.state.number, kept=kept == job.state.number)
    return show(request, "file.html", page)


@router.post("")
def keep(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Keep a text; where another state stands by now, both are shown."""
    wanted, based_on = form["text"].replace("\r\n", "\n"), form.whole("based_on")
    try:
        done = desk.write(job.id, text_of(wanted.encode(), file=JOB), based_on=based_on, by=who)
    except JobError as error:
        page = FilePage(job=job, page="brief", text=wanted, based_on=based_on, problems=error.problems)
        return show(request, "file.html", page, status=422)
    if isinstance(done, TooLate):
        from halfsilver.web.brief import ChoicePage

        return show(request, "choice.html", ChoicePage(job=job, page="brief", late=done), status=409)
    return RedirectResponse(f"/jobs/{job.id}/file?kept={done.number}", 303)


@router.get("/job.yaml")
def download(job: Job, desk: AtDesk) -> Response:
    """The job file, to take away."""
    headers = {"content-disposition": f'attachment; filename="{job.id}.yaml"'}
    return Response(desk.text(job.state), media_type="application/yaml", headers=headers)


@router.get("/archive")
def archive(job: Job, desk: AtDesk) -> Response:
    """The job with options, history and packs, to take away."""
    data, _ = archive_of(desk.store, job.id)
    return as_zip(data, name=f"{job.id}.zip")


@router.get("/beside/{name}")
def beside(job: Job, desk: AtDesk, name: str) -> Response:
    """A file that stands beside the job."""
    sha256 = job.state.files.get(name)
    if sha256 is None or name == JOB:
        raise unknown("such file")
    kind = {"content.png": "image/png", "content.jpg": "image/jpeg"}.get(name, "application/octet-stream")
    return Response(desk.store.blobs([sha256])[sha256], media_type=kind)


@router.post("/edid")
def edid(job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """What the screen says of itself, put with the job."""
    from halfsilver.files.edid import edid_of

    data = form.file("file")
    edid_of(data, file="screen.edid")
    desk.attach(
        job.id, "screen.edid", data, values={"screen.edid": "screen.edid"}, based_on=form.whole("based_on"), by=who,
        words="The screen's own block was put with the job.",
    )  # fmt: skip
    return RedirectResponse(f"/jobs/{job.id}/brief", 303)


@router.post("/content")
def content(job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """A picture to show on the screen: read once and written anew, so that only a picture is kept."""
    put_picture(desk, job.id, form.file("file"), based_on=form.whole("based_on"), by=who)
    return RedirectResponse(f"/jobs/{job.id}/brief", 303)
