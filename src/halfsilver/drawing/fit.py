"""Finding room on paper: how large a view prints, the largest scale that fits, a sheet that is just large enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil

from halfsilver.drawing.ink import Box, bounds
from halfsilver.drawing.plot import plot_view
from halfsilver.drawing.scene import Scene
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle
from halfsilver.drawing.view import SCALES, Scale, Sheet, View
from halfsilver.errors import RenderError


def view_bounds(view: View, *, style: DrawingStyle = DEFAULT_STYLE) -> Box:
    """Left, bottom, right and top of everything the view prints, texts and dimensions included. [mm of paper]"""
    return bounds((plot_view(view, style=style, hatched=False),))


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
    left, bottom, right, top = scene.extents()
    for scale in sorted(scales):
        # All that is printed reaches at least as far as the shapes: where these are too large, nothing need be placed.
        if max((right - left) * scale.factor - room_x, (top - bottom) * scale.factor - room_y) > 1e-6:
            continue
        view = View(scene=scene, scale=scale, caption=caption)
        x0, y0, x1, y1 = view_bounds(view, style=style)
        if x1 - x0 <= room_x and y1 - y0 <= room_y:
            at = ((box[0] + box[2] - x0 - x1) / 2.0, (box[1] + box[3] - y0 - y1) / 2.0)
            return replace(view, at_mm=at)
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
