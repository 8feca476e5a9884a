"""Documents: a pack is made of the state that stands, in the background; each and all of its files can be taken away."""

from __future__ import annotations

import mimetypes
from dataclasses import dataclass

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfsilver.errors import HalfsilverError, Problem
from halfsilver.services.desk import Desk
from halfsilver.services.desk_packs import pack_files, zipped
from halfsilver.store.values import Pack
from halfsilver.web.answers import as_zip
from halfsilver.web.forms import Form
from halfsilver.web.jobs import unknown
from halfsilver.web.refusals import problems_of
from halfsilver.web.shown import AtDesk, Job, JobHead, Who, show
from halfsilver.web.works import Work, works_of

router = APIRouter(include_in_schema=False, prefix="/jobs/{job}/documents")
LEADING = {
    "client.pdf": "For the client: pictures, what is included, the price",
    "shop.pdf": "For the shop: drawings, cut sheets, steps, boxes for readings",
    "templates.pdf": "Full size, to stick on",
    "labels.pdf": "Labels for parts and panes",
}
INLINE = (".pdf", ".svg", ".png", ".json")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A pack that was kept."""

    pack: Pack
    stands: bool
    leading: tuple[tuple[str, str], ...]
    others: tuple[tuple[str, tuple[str, ...]], ...]
    changes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentsPage:
    """The packs, the newest first, and what is being made."""

    job: JobHead
    page: str
    problems: tuple[Problem, ...]
    packs: tuple[Kept, ...]
    work: Work | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPart:
    """How far a pack is."""

    job: JobHead
    work: Work | None


@router.get("")
def documents(request: Request, job: Job, desk: AtDesk) -> Response:
    """What there is."""
    problems: tuple[Problem, ...] = ()
    try:
        _ = desk.reckoned(job.state).design
    except HalfsilverError as error:
        problems = problems_of(error)
    packs = tuple(_kept(desk, pack, job) for pack in reversed(desk.store.packs(job.id)))
    work = works_of(request).of(job.id)
    return show(request, "documents.html", DocumentsPage(job=job, page="documents", problems=problems, packs=packs, work=work))


@router.post("/make")
def make(request: Request, job: Job, desk: AtDesk, form: Form, who: Who) -> Response:
    """Begin to make the pack of the job as it stands."""
    from halfsilver.services.desk_packs import make_pack

    date = form["date"] or desk.now()[:10]
    others = tuple(state for state in job.options if state.record != job.id) if form["beside"] else ()
    state, pictures = job.state, bool(form["pictures"])
    works_of(request).begin(
        job.id, lambda say: make_pack(desk, state, date=date, by=who, others=others, pictures=pictures, say=say).revision
    )  # fmt: skip
    return RedirectResponse(f"/jobs/{job.id}/documents", 303)


@router.get("/work")
def work(request: Request, job: Job) -> Response:
    """How far it is; when it is done, the page is loaded anew."""
    found = works_of(request).of(job.id)
    if found is None or found.done:
        return Response(status_code=204, headers={"hx-refresh": "true"})
    return show(request, "work_part.html", WorkPart(job=job, work=found))


@router.get("/{revision}/all.zip")
def everything(job: Job, desk: AtDesk, revision: int) -> Response:
    """All files of a pack."""
    data = zipped(pack_files(desk, _pack(desk, job, revision)))
    return as_zip(data, name=f"{job.id}-revision-{revision}.zip")


@router.get("/{revision}/{name:path}")
def one(job: Job, desk: AtDesk, revision: int, name: str) -> Response:
    """One file of a pack."""
    found = pack_files(desk, _pack(desk, job, revision), (name,)).get(name)
    if found is None:
        raise unknown("such document")
    kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
    how = "inline" if name.endswith(INLINE) else "attachment"
    plain = name.rpartition("/")[2].encode("ascii", "ignore").decode().replace('"', "")
    return Response(found, media_type=kind, headers={"content-disposition": f'{how}; filename="{plain}"'})


def _pack(desk: Desk, job: JobHead, revision: int) -> Pack:
    found = [pack for pack in desk.store.packs(job.id) if pack.revision == revision]
    if not found:
        raise unknown("such revision")
    return found[0]


def _kept(desk: Desk, pack: Pack, job: JobHead) -> Kept:
    from halfsilver.services.revisions import lines_of

    groups: dict[str, list[str]] = {}
    for name in pack.files:
        if name not in LEADING:
            folder = name.partition("/")[0] if "/" in name else "numbers"
            groups.setdefault(folder, []).append(name)
    told = lines_of(pack_files(desk, pack, ("changes.json",)).get("changes.json", b"{}")) or ()
    return Kept(
        pack=pack, stands=pack.number == job.state.number, changes=told,
        leading=tuple((name, said) for name, said in LEADING.items() if name in pack.files),
        others=tuple((folder, tuple(names)) for folder, names in groups.items()),
    )  # fmt: skip
