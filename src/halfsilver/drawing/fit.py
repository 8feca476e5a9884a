"""Finding room on paper: how large a view prints, the largest scale that fits, a sheet that is just large enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from halfsilver.drawing.ink import Box
from halfsilver.drawing.plot import least_bounds, view_bounds
from halfsilver.drawing.scene import Scene
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle
from halfsilver.drawing.view import SCALES, Scale, Sheet, View
from halfsilver.errors import RenderError


def fitted(
    scene: Scene,
    *,
    box: Box,
    caption: str = "",
    scales: Sequence[Scale] = SCALES,
    style: DrawingStyle = DEFAULT_STYLE,
) -> View:
    """A view at the largest scale at which all it prints fits a box of the sheet, centred in it.

    Parameters
    ----------
    scene : Scene
        What is shown.
    box : Box
        Left, bottom, right and top of the room on the sheet. [mm]
    caption : str
        As in `View`.
    scales : sequence of Scale
        Scales to choose from.
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    View
        Placed.

    Raises
    ------
    RenderError
        If it does not fit at any of the scales.
    """
    room_x, room_y = box[2] - box[0], box[3] - box[1]

    def fits(bounds: Box, tolerance: float = 0.0) -> bool:
        left, bottom, right, top = bounds
        return right - left <= room_x + tolerance and top - bottom <= room_y + tolerance

    left, bottom, right, top = scene.extents()
    for scale in sorted(scales):
        # All that is printed reaches at least as far as the shapes, and as far as is known before callouts find their places:
        # where that is too large already, nothing more need be placed.
        view, k = View(scene=scene, scale=scale, caption=caption), scale.factor
        if not fits((left * k, bottom * k, right * k, top * k), 1e-6) or not fits(least_bounds(view, style=style), 1e-6):
            continue
        x0, y0, x1, y1 = found = view_bounds(view, style=style)
        if fits(found):
            return replace(view, at_mm=((box[0] + box[2] - x0 - x1) / 2.0, (box[1] + box[3] - y0 - y1) / 2.0))
    raise RenderError(
        f"The view '{scene.title}' does not fit {room_x:.0f} x {room_y:.0f} mm of paper at {max(scales).text}."
        " Take a larger sheet or a smaller scale."
    )


def sheet_of(view: View, *, margin_mm: float = 5.0, style: DrawingStyle = DEFAULT_STYLE) -> Sheet:
    """A sheet just large enough for one view, whole millimetres wide and high."""
    left, bottom, right, top = view_bounds(view, style=style)
    width, height = ceil(right - left + 2 * margin_mm), ceil(top - bottom + 2 * margin_mm)
    x = view.at_mm[0] - left + (width - (right - left)) / 2.0
    y = view.at_mm[1] - bottom + (height - (top - bottom)) / 2.0
    return Sheet(width_mm=float(width), height_mm=float(height), views=(replace(view, at_mm=(x, y)),), title=view.scene.title)
