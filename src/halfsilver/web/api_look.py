"""The API's pictures: the verb ``look`` for a job or a scene that comes with the request, and for a job of the store.

The bytes are those of the command line for the same job, viewer and size. A server also has other things to do: sizes are smaller here,
and one picture is drawn at a time.
"""

from __future__ import annotations

from threading import Lock
from typing import Annotated, Any, Final, Literal

from fastapi import APIRouter, Depends, Query, Response
from pydantic import Field

from halfsilver.errors import JobError, Problem
from halfsilver.services.desk_look import OWN
from halfsilver.services.load import Loaded
from halfsilver.services.look_size import SIZE, size_of
from halfsilver.web.answers import REFUSALS, JobAsked, JobId, Short, as_png
from halfsilver.web.shown import AtDesk, desk_of

MOST_PX: Final = 1920
MOST_TRACED: Final = 4 * 1920 * 1080  # pixels times samples
PICTURE: Final[dict[int | str, dict[str, Any]]] = {200: {"description": "The picture.", "content": {"image/png": {}}}}

router = APIRouter(prefix="/api", responses={**REFUSALS, **PICTURE}, dependencies=[Depends(desk_of)])
_drawing = Lock()

Lit = Literal["on", "dark", "lights", "all"]
Shown = Literal["night-sky", "grid", "bars", "content.png"]
Samples = Annotated[int, Field(ge=1, le=64)]


class LookAsked(JobAsked):
    """A job or a scene, who looks, and how large the picture is."""

    viewer: Short | None = None
    size: Short = SIZE
    samples: Samples | None = None
    state: Lit = "all"
    content: Literal["night-sky", "grid", "bars"] | None = None


@router.post("/look", response_model=None, tags=["jobs that come with the request"])
def look(desk: AtDesk, asked: LookAsked) -> Response:
    """A picture of a job as a viewer sees it, or of a scene."""
    from halfsilver.files.located import locate
    from halfsilver.files.scene import is_scene, scene_of

    width_px, height_px = _size(asked.size, asked.samples or 1)
    node = locate(asked.job, file=asked.file)
    if is_scene(node):
        from halfsilver.services.look_scene import as_png as scene_png
        from halfsilver.services.look_scene import scene_picture

        if asked.content is not None:
            words = "A scene has its own checker on its screen."
            raise JobError([Problem(code="content-of-scene", path="content", read=asked.content, allowed=words, advice="Leave it out.")])
        scene = scene_of(node, file=asked.file)
        with _drawing:
            return as_png(scene_png(scene_picture(scene, width_px=width_px, height_px=height_px, samples=asked.samples)))
    loaded = desk.reckoned_text(asked.job, file=asked.file).loaded
    return _drawn(loaded, asked.viewer, asked.state, asked.content or "night-sky", (width_px, height_px), asked.samples or 1)


@router.get("/jobs/{job}/look", response_model=None, tags=["jobs of the store"])
def look_at(
    desk: AtDesk, job: JobId,
    viewer: Annotated[str | None, Query(max_length=200)] = None, size: Annotated[str, Query(max_length=20)] = SIZE,
    samples: Annotated[int, Query(ge=1, le=64)] = 1, state: Lit = "all", content: Shown | None = None,
) -> Response:  # fmt: skip
    """A picture of it as a viewer sees it; ``content.png`` is the picture that was put with it."""
    head = desk.head(job)
    shown: Any = content or "night-sky"
    if content == OWN:
        from halfsilver.services.content import content_from

        if OWN not in head.files:
            words = "No picture was put with this job."
            raise JobError([Problem(code="no-content", path="content", read=OWN, allowed=words, advice="Name night-sky, grid or bars.")])
        shown = content_from(desk.store.blobs([head.files[OWN]])[head.files[OWN]], file=OWN)
    return _drawn(desk.reckoned(head).loaded, viewer, state, shown, _size(size, samples), samples)


def _size(text: str, samples: int) -> tuple[int, int]:
    width_px, height_px = size_of(text, path="size", most_px=MOST_PX)
    if width_px * height_px * samples > MOST_TRACED:
        allowed = f"Width times height times samples is at most {MOST_TRACED} here; `halfsilver look` draws larger ones."
        raise JobError([Problem(code="bad-size", path="samples", read=str(samples), allowed=allowed, advice="Ask for fewer samples.")])
    return width_px, height_px


def _drawn(loaded: Loaded, viewer: str | None, state: Lit, content: Any, size: tuple[int, int], samples: int) -> Response:
    from halfsilver.services.look_job import picture_of

    with _drawing:
        _, png = picture_of(loaded, viewer=viewer, state=state, content=content, width_px=size[0], height_px=size[1], samples=samples)
    return as_png(png)
