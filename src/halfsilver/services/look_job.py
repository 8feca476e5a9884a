"""A still of a job file: who looks, at which state, with what on the screen."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import JobError, Problem, RangeError
from halfsilver.services.content import content_of
from halfsilver.services.load import Loaded, load, placed, resolve
from halfsilver.services.pictures import NIGHT_SKY, StateWord, picture


def job_picture(
    file: str, *, workshop: str | None = None, viewer: str | None = None, state: StateWord = "all", content: str | None = None,
    width_px: int, height_px: int, samples: int = 1, tell: Callable[[float], None] | None = None,
) -> tuple[NDArray[np.float32], bytes]:  # fmt: skip
    """Still of a job file, linear and as a PNG (see `halfsilver.services.pictures.picture`).

    Parameters
    ----------
    file : str
        The job.
    workshop : str, optional
        Folder of the workshop.
    viewer : str, optional
        Who looks; may be left out where the job names only one.
    state : str
        ``on``, ``lights``, ``all`` or ``dark``.
    content : str, optional
        A built-in picture or a picture file on the screen.
    width_px, height_px : int
        Size.
    samples : int
        Samples per pixel.
    tell : callable, optional
        Told the share that is done.

    Raises
    ------
    JobError
        If the job, the viewer or the picture file cannot be used, with its place.
    NoDesignError
        If there is no design.
    """
    loaded = load(file, workshop=workshop)
    shown = NIGHT_SKY if content is None else content_of(content)
    return picture_of(
        loaded, viewer=viewer, state=state, content=shown, width_px=width_px, height_px=height_px, samples=samples, tell=tell
    )  # fmt: skip


def picture_of(
    loaded: Loaded, *, viewer: str | None = None, state: StateWord = "all", content: NDArray[np.float32] | str = NIGHT_SKY,
    width_px: int, height_px: int, samples: int = 1, tell: Callable[[float], None] | None = None,
) -> tuple[NDArray[np.float32], bytes]:  # fmt: skip
    """The same of a job that was read (parameters and errors as `job_picture`; ``content`` is a picture, or the name of a built-in one)."""
    try:
        who = viewer_of(loaded, viewer)
        return picture(
            resolve(loaded), viewer=who, state=state, width_px=width_px, height_px=height_px, samples=samples,
            content=content, folder=loaded.folder, tell=tell,
        )  # fmt: skip
    except JobError as error:
        raise placed(loaded, error) from None
    except RangeError as error:
        raise placed(loaded, JobError([Problem(code="out-of-range", path="viewers", allowed=str(error))])) from None


def viewer_of(loaded: Loaded, viewer: str | None) -> str:
    """The viewer asked for, or the only one.

    Raises
    ------
    JobError
        If the job names several and none was asked for.
    """
    ids = [one.id for one in loaded.job.viewers]
    if viewer is not None or len(ids) == 1:
        return viewer if viewer is not None else ids[0]
    allowed = f"Viewers of this job: {', '.join(ids)}." if ids else "The job names no viewer."
    advice = f"Say who looks: --viewer {ids[0]}." if ids else "Add one under `viewers`, with a distance."
    raise JobError([Problem(code="which-viewer", path="viewers", allowed=allowed, advice=advice)])
