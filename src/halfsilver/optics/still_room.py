"""The wall behind the piece in a still: its light, the shadow of the piece, the floor."""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.still import Frame, RoomLook
from halfsilver.optics.still_frame import LAMP
from halfsilver.optics.still_mirrored import rise
from halfsilver.optics.still_view import Box, View

Real = NDArray[np.float64]
PAINT = (0.180, 0.222, 0.250)  # a deep blue grey: assumed


def wall_light(frame: Frame, room: RoomLook, view: View, box: Box, white: Real) -> Real:
    """Light of the wall behind the piece, (pixels, 3)."""
    away = view.distance_mm + frame.wall_depth_mm
    x, y = view.x_mm + box.x * away, view.y_mm + box.y * away
    half_x, half_y = frame.width_mm / 2, frame.height_mm / 2
    reach = 1.3 * max(half_x, half_y, 500.0)
    pool = 0.50 + 0.58 * np.exp(-((x / (1.5 * reach)) ** 2)) * np.exp(-(((y - 0.45 * half_y) / (1.25 * reach)) ** 2))
    light = pool * _unshaded(frame, x, y, half_x, half_y)
    if frame.recess_mm > 0:
        joint = _inside(x, y, half_x + frame.recess_mm, half_y + frame.recess_mm, 0.5 * (box.right - box.left) * away)
        light = light * (1 - 0.9 * joint)
    floor = rise(-y, room.centre_height_mm, 4.0)
    paint = np.array(PAINT) * (1 - floor)[:, None] + np.array([0.16, 0.12, 0.09]) * floor[:, None]
    return np.asarray((light * room.illuminance_lx / pi)[:, None] * paint * white)


def _unshaded(frame: Frame, x: Real, y: Real, half_x: float, half_y: float) -> Real:
    """Share of the light that the piece leaves on the wall: a soft shadow away from the lamps, and the darkness close to its edge."""
    off = frame.wall_depth_mm
    if off <= 0:
        return np.ones_like(x)
    shift_x, shift_y = -off * LAMP[0] / LAMP[2], -off * LAMP[1] / LAMP[2]
    cast = _inside(x - shift_x, y - shift_y, half_x, half_y, 0.42 * off)
    wide = _inside(x - 1.6 * shift_x, y - 1.8 * shift_y, half_x, half_y, 1.5 * off)
    near = _inside(x, y, half_x, half_y, 0.9 * off)
    return np.asarray((1 - 0.50 * cast) * (1 - 0.22 * wide) * (1 - 0.45 * near))


def _inside(x: Real, y: Real, half_x: float, half_y: float, soft: Real | float) -> Real:
    """A rectangle with soft edges."""
    found = []
    for value, half in ((np.abs(x), half_x), (np.abs(y), half_y)):
        part = np.clip((half - value) / (2 * np.asarray(soft)) + 0.5, 0.0, 1.0)
        found.append(part * part * (3 - 2 * part))
    return np.asarray(found[0] * found[1])
