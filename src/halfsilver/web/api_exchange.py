"""The API for what is brought and taken away: a screen's own block, the workshop's list, whole jobs out and in.

These verbs of the command line are not here, and why:

- ``serve`` is what answers; ``demo`` is ``pack`` of the job that comes with the program.
- ``backup`` and ``restore`` are about the whole store: whoever may read the disk does that, not whoever may ask the server.
- ``workshop copy`` and ``workshop profile`` write a folder of the machine; a file of the workshop is exchanged on its page.
"""

from __future__ import annotations

from typing import Annotated, Any, Final

from fastapi import APIRouter, Body, Depends, Query, Response
from pydantic import Field

from halfsilver.web.answers import REFUSALS, Asked, JobId, Short, as_json, as_zip
from halfsilver.web.jobs import plain_name
from halfsilver.web.shop import SHELVES
from halfsilver.web.shown import AtDesk, desk_of

ZIP: Final[dict[int | str, dict[str, Any]]] = {200: {"description": "The archive.", "content": {"application/zip": {}}}}
MOST_HEX: Final = 200_000

router = APIRouter(prefix="/api", responses=REFUSALS, dependencies=[Depends(desk_of)])


class ScreenAsked(Asked):
    """A screen's own block, as hexadecimal digits."""

    edid: Annotated[str, Field(max_length=MOST_HEX)]
    file: Short = "screen.edid"


@router.post("/screen", response_model=None, tags=["jobs that come with the request"])
def screen(asked: ScreenAsked) -> Response:
    """What a screen says of itself, as ``screen edid --json`` writes it."""
    from halfsilver.files.edid import edid_of
    from halfsilver.model.edid import edid_record
    from halfsilver.services.records import document

    return as_json(document("edid", edid_record(edid_of(asked.edid.encode(), file=asked.file))))


@router.get("/workshop", response_model=None, tags=["jobs of the store"])
def workshop(desk: AtDesk) -> Response:
    """What the workshop has, by catalogue."""
    shop = desk.shop()
    shelves = {name: {key: entry.name for key, entry in getattr(shop.workshop, name).items()} for name, _ in SHELVES}
    return as_json({"schema": "halfsilver/shop/1", "name": shop.workshop.head.name, "number": shop.state.number, **shelves})


@router.get("/jobs/{job}/export", response_model=None, responses=ZIP, tags=["jobs of the store"])
def export(desk: AtDesk, job: JobId) -> Response:
    """The job with its options, history and packs, as an archive."""
    from halfsilver.services.desk_exchange import archive_of

    return as_zip(archive_of(desk.store, job)[0])


@router.post("/import", response_model=None, status_code=201, tags=["jobs of the store"])
def import_(
    desk: AtDesk,
    data: Annotated[bytes, Body(media_type="application/octet-stream")],
    file: Annotated[str, Query(max_length=200)] = "file",
    by: Annotated[str, Query(max_length=80)] = "",
) -> Response:
    """Take in a job file, or an archive of whole jobs, sent as it is."""
    from halfsilver.services.desk_exchange import taken_in

    taken = taken_in(desk, data, name=plain_name(file), by=by)
    return as_json({"schema": "halfsilver/imported/1", "id": taken.record, "words": taken.words}, 201)
