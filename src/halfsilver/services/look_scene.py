"""The picture of a scene file: linear values, and the same as a PNG with its exposure stated."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

import numpy as np
from numpy.typing import NDArray

from halfsilver.files.png import png_bytes
from halfsilver.optics.picture import GREY, encoded, exposure_for, in_gamut, toned
from halfsilver.optics.render import render_scene
from halfsilver.optics.scene import Scene

Picture = NDArray[np.float32]
PIXELS_AT_ONCE = 30_000
SAMPLES = 960 * 540  # in a picture, each filtered exactly; pixels on the edges of the opening and of its walls take more
MOST_SAMPLES = 36  # a pixel, where nobody asked for more


def scene_picture(
    scene: Scene, *, width_px: int, height_px: int, samples: int | None = None, tell: Callable[[float], None] | None = None
) -> Picture:
    """Linear picture of a scene (rows, columns, 3), on as many threads as there are processors.

    Samples per pixel are one in a large picture and as many more in a smaller one as the same time allows, where they are not given.
    ``tell`` is called with the share that is done. The values do not depend on the number of threads.
    """
    samples = samples or min(max(1, round(SAMPLES / (width_px * height_px))), MOST_SAMPLES)
    with ThreadPoolExecutor(max_workers=_processors()) as pool:
        return render_scene(scene, width_px=width_px, height_px=height_px, samples=samples, each=pool.map, tell=tell)


def as_png(linear: Picture) -> bytes:
    """The picture as people see it: exposure by the log average, highlights rolled off up to the brightest, sRGB."""
    height_px, width_px, _ = linear.shape
    step = max(1, PIXELS_AT_ONCE // width_px)
    starts = range(0, height_px, step)
    exposure, most = exposure_for(linear[row : row + step] @ GREY.astype(np.float32) for row in starts)
    white = max(most, 1.0)
    words = {
        "Description": f"Exposure: a linear luminance of {0.18 / exposure:.6g} is middle grey, one of {white / exposure:.6g} is white. "
        "Tone curve L (1 + L/white^2)/(1 + L) on luminance; colours outside sRGB moved towards grey of the same luminance."
    }

    def band(row: int) -> bytes:
        shown = encoded(in_gamut(toned(linear[row : row + step], exposure=exposure, white=white)))
        return np.rint(255 * shown).astype(np.uint8).tobytes()

    with ThreadPoolExecutor(max_workers=_processors()) as pool:
        return png_bytes(pool.map(band, starts), width_px=width_px, height_px=height_px, words=words)


def as_npy(linear: Picture) -> bytes:
    """The linear values as an NPY file, float32."""
    stream = BytesIO()
    np.save(stream, np.ascontiguousarray(linear, dtype=np.float32), allow_pickle=False)
    return stream.getvalue()


def _processors() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
