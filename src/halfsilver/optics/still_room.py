"""The room in a still: the wall behind the piece with its shadow, and the room that the glass mirrors.

The room is invented and plausible: a lit wall with windows and a doorway opposite, floor and ceiling. Its mean over what is usually
mirrored is the luminance that the job states.
"""

from __future__ import annotations

from functools import cache
from math import pi

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.still import Frame, RoomLook
from halfsilver.optics.still_frame import LAMP
from halfsilver.optics.still_view import Box, View

Real = NDArray[np.float64]
PAINT = (0.315, 0.335, 0.355)  # a cool grey: assumed
CEILING_MM, SIDE_MM = 2800.0, 3400.0
SOFT_MM = 60.0  # out of focus: the camera is set to the piece


def rise(value: Real, edge: float, soft: float) -> Real:
    """0 before an edge, 1 after it, a smooth slope of ``2 soft`` between."""
    part = np.clip((value - edge) / (2 * soft) + 0.5, 0.0, 1.0)
    return np.asarray(part * part * (3 - 2 * part))


def between(value: Real, start: float, end: float, soft: float) -> Real:
    """1 inside an interval with soft ends."""
    return rise(value, start, soft) * (1 - rise(value, end, soft))


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


def mirrored_light(room: RoomLook, view: View, box: Box, white: Real, *, glass_mm: float) -> Real:
    """Light that the glass would mirror whole, (pixels, 3): the room seen from the eye's mirror image."""
    away = view.distance_mm + room.facing_mm + 2 * glass_mm
    x, y = view.x_mm + box.x * away, view.y_mm + box.y * away + room.centre_height_mm
    pixel = 0.5 * (box.right - box.left) * away
    soft = float(max(SOFT_MM, pixel.max() if pixel.size else 0.0))
    return np.asarray(facing(x, y, soft) * (room.mirrored_cd_m2 / _mean()) * white)


def facing(x: Real, y: Real, soft: float) -> Real:
    """The room opposite, (places, 3), relative: x from the middle of the piece, y from the floor. [mm]"""
    wall = 0.86 + 0.16 * np.clip(y / CEILING_MM, 0, 1.2) + 0.30 * np.exp(-(((x - 420) / 560) ** 2) - (((y - 1500) / 640) ** 2))
    light = wall[..., None] * np.array([1.02, 0.99, 0.94])
    light = light * (1 - 0.16 * (1 - rise(y, 930, soft)))[..., None]
    light = _laid(light, between(x, 1080, 1950, soft) * (1 - rise(y, 2120, soft)), (0.46, 0.45, 0.44))
    for left in (-1750.0, -1010.0):
        pane = between(x, left, left + 600, soft) * between(y, 850, 2300, soft)
        bars = 1 - 0.30 * np.maximum(between(x, left + 270, left + 330, soft), between(y, 1740, 1800, soft))
        day = (1.15 + 0.65 * np.clip((y - 850) / 1450, 0, 1)) * bars
        light = _laid(light, pane, np.stack([0.90 * day, 0.98 * day, 1.10 * day], axis=-1))
    light = _laid(light, between(x, -150, 780, soft) * (1 - rise(y, 740, soft)), (0.42, 0.38, 0.35))
    light = _laid(light, between(x, 270, 520, soft) * between(y, 1120, 1360, soft), (2.5, 2.05, 1.5))
    light = _laid(light, rise(y, CEILING_MM, soft), (1.15, 1.14, 1.12))
    light = _laid(light, rise(np.abs(x), SIDE_MM, soft), (0.70, 0.69, 0.67))
    return _laid(light, 1 - rise(y, 0.0, soft), (0.42, 0.38, 0.34))


def _laid(under: Real, cover: Real, colour: tuple[float, float, float] | Real) -> Real:
    return np.asarray(under + cover[..., None] * (np.asarray(colour) - under))


@cache
def _mean() -> float:
    """Mean green of what is usually mirrored."""
    x, y = np.meshgrid(np.linspace(-1800, 1800, 73), np.linspace(600, 2500, 39))
    return float(facing(x.ravel(), y.ravel(), SOFT_MM)[:, 1].mean())
