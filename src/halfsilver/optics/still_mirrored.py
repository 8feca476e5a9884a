"""The room that a still's glass mirrors, drawn once per eye on a coarse grid of slopes, out of focus as a lens set to the piece leaves it.

The room is invented: a window at dusk, a shelf of books, a sofa beside a lamp. Its mean over what is usually mirrored is the luminance that
the job states.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import ceil, sqrt

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.still import RoomLook
from halfsilver.optics.still_content import shuffled
from halfsilver.optics.still_view import Box, View, Window

Real = NDArray[np.float64]
Colour = tuple[float, float, float]
CELLS = 420  # across the opening
LENS_MM = 46.0  # width of the lens
HIGH_MM, SIDE_MM = 2800.0, 3600.0
SHELF = (110.0, 1270.0, 0.0, 2180.0)  # left, right, bottom, top
WINDOW = (-1700.0, -560.0, 760.0, 2360.0)
LAMP = (2790.0, 1400.0)
SOFA = 1950.0  # middle of it


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RoomSeen:
    """Luminance over slopes, (rows, columns, 3), from its first row and column on; ``step`` apart both ways."""

    values: Real
    left: float
    bottom: float
    step: float

    def light(self, box: Box) -> Real:
        """Light that the glass would mirror whole, (pixels, 3)."""
        high, wide = self.values.shape[:2]
        u = np.clip((box.x - self.left) / self.step, 0, wide - 1 - 1e-6)
        v = np.clip((box.y - self.bottom) / self.step, 0, high - 1 - 1e-6)
        column, row = u.astype(np.intp), v.astype(np.intp)
        part_u, part_v = (u - column)[:, None], (v - row)[:, None]
        flat, at = self.values.reshape(-1, 3), row * wide + column
        low = flat[at] * (1 - part_u) + flat[at + 1] * part_u
        return np.asarray(low * (1 - part_v) + (flat[at + wide] * (1 - part_u) + flat[at + wide + 1] * part_u) * part_v)


def room_seen(room: RoomLook, view: View, sight: Window, *, glass_mm: float) -> RoomSeen:
    """The room as the glass shows it to one eye."""
    # At grazing sight the lips close before one another: what is then left of the opening is no width at all.
    across, up = sight.right - sight.left, sight.top - sight.bottom
    step = max(abs(across), abs(up)) / CELLS
    near, far = view.distance_mm + glass_mm, view.distance_mm + 2 * glass_mm + room.facing_mm
    blur = LENS_MM / 2 * (1 / near - 1 / far) / step
    edge = ceil(blur) + 2
    x = sight.left + step * np.arange(-edge, max(ceil(across / step), 1) + edge + 1)
    y = sight.bottom + step * np.arange(-edge, max(ceil(up / step), 1) + edge + 1)
    drawn = interior(view, room, *np.meshgrid(x, y, sparse=True), away_mm=view.distance_mm + 2 * glass_mm)
    values = blurred(drawn, blur)[edge:-edge, edge:-edge] * (room.mirrored_cd_m2 / _mean())
    return RoomSeen(values=np.ascontiguousarray(values), left=float(x[edge]), bottom=float(y[edge]), step=step)


def blurred(values: Real, radius: float) -> Real:
    """Means over a disc, the picture of a point out of focus; rows as running sums, their ends in fractions of a cell."""
    if radius < 0.6:
        return values
    reach = ceil(radius) + 1
    high, wide = values.shape[:2]
    sums = np.cumsum(np.pad(values, ((reach, reach), (reach + 1, reach), (0, 0)), mode="edge"), axis=1)
    total, weight = np.zeros_like(values), 0.0
    for down in range(-reach, reach + 1):
        half = sqrt(max(radius**2 - down**2, 0.0))
        if not half:
            continue
        whole, part = int(half + 0.5), (half + 0.5) % 1.0
        rows = sums[reach + down : reach + down + high]

        def upto(place: int, rows: Real = rows) -> Real:
            return rows[:, reach + 1 + place : reach + 1 + place + wide]

        inner = upto(whole - 1) - upto(-whole)
        outer = upto(whole) - upto(-whole - 1)
        total += inner + part * (outer - inner)
        weight += 2 * half
    return np.asarray(total / weight)


def interior(view: View, room: RoomLook, slope_x: Real, slope_y: Real, *, away_mm: float) -> Real:
    """What stands in the room along slopes from the eye's mirror image, relative: facing wall, sides, floor or ceiling.

    ``slope_x`` is a row and ``slope_y`` a column: nearly all that stands before the facing wall is the product of one of each.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        to_floor = (-room.centre_height_mm - view.y_mm) / slope_y
        to_ceiling = (HIGH_MM - room.centre_height_mm - view.y_mm) / slope_y
        to_side = (np.sign(slope_x) * SIDE_MM - view.x_mm) / slope_x
    reach = [np.where(one > 0, one, np.inf) for one in (to_floor, to_ceiling, to_side)]
    facing = away_mm + room.facing_mm
    depth = np.minimum(np.minimum(reach[0], reach[1]), np.minimum(reach[2], facing))
    x, y = view.x_mm + slope_x * depth, view.y_mm + slope_y * depth + room.centre_height_mm
    back = np.clip(depth - away_mm, 0.0, room.facing_mm)
    soft = float(slope_x[0, 1] - slope_x[0, 0]) * facing / 2
    light = facing_wall(view.x_mm + slope_x * facing, view.y_mm + slope_y * facing + room.centre_height_mm, soft)
    on_floor, on_ceiling, on_side = (depth == one for one in reach)
    light[on_floor] = _floor(x[on_floor], back[on_floor], room.facing_mm, soft)
    light[on_ceiling] = _ceiling(x[on_ceiling], back[on_ceiling], soft)
    beside = on_side & ~on_floor & ~on_ceiling
    light[beside] = _shade(0.62 + 0.10 * y[beside] / HIGH_MM, (1.0, 0.985, 0.95))
    return light


def rise(value: Real, edge: float, soft: float) -> Real:
    """0 before an edge, 1 after it, a smooth slope of ``2 soft`` between."""
    part = np.clip((value - edge) / (2 * soft) + 0.5, 0.0, 1.0)
    return np.asarray(part * part * (3 - 2 * part))


def facing_wall(x: Real, y: Real, soft: float) -> Real:
    """The wall opposite with what stands before it: x, a row, from the middle of the piece, y, a column, from the floor. [mm]"""
    tone = 0.70 + 0.22 * np.clip(y / HIGH_MM, 0, 1) ** 2 - 0.10 * (x / SIDE_MM) ** 2
    glow = np.exp(-(((x - LAMP[0]) / 430) ** 2) - ((np.abs(y - LAMP[1]) - 230) / 330) ** 2)
    light = _shade(tone * (1 - 0.10 * (1 - rise(y, 920, soft))), (1.0, 0.985, 0.95)) + _shade(0.85 * glow, (1.0, 0.84, 0.62))
    light = _laid(light, _box(x, y, (-5000, 5000, 0, 150), soft), (0.78, 0.77, 0.74))
    _window(light, x, y, soft)
    _shelf(light, x, y, soft)
    _sofa(light, x, y, soft)
    _lamp(light, x, y, soft)
    return light


def _window(light: Real, x: Real, y: Real, soft: float) -> None:
    left, right, bottom, top = WINDOW
    _lay(light, _box(x, y, (left - 75, right + 75, bottom - 90, top + 75), soft), (0.92, 0.91, 0.88))
    up = np.clip((y - bottom) / (top - bottom), 0, 1)
    sky = np.stack([0.95 - 0.45 * up, 1.02 - 0.22 * up, 1.10 + 0.45 * up], axis=-1) * (1.30 - 0.25 * up)[..., None]
    trees = 1 - rise(y + 45 * np.sin(x / 90) + 30 * np.sin(x / 37 + 1), bottom + 430, 40.0)
    outside = _laid(sky, trees, (0.10, 0.13, 0.12))
    pane = _box(x, y, WINDOW, soft)
    light += pane[..., None] * (outside - light)
    third = (right - left) / 3
    for at in (left + third, right - third):
        _lay(light, _box(x, y, (at - 24, at + 24, bottom, top), soft), (0.72, 0.71, 0.70))
    _lay(light, _box(x, y, (left, right, top - 440, top - 400), soft), (0.72, 0.71, 0.70))
    folds = 0.88 + 0.16 * np.sin(x / 21 + 0.6 * np.sin(x / 55)) + 0.10 * np.clip(y / HIGH_MM, 0, 1)
    for start, end in ((left - 330, left + 50), (right - 40, right + 320)):
        cloth = _box(x, y, (start, end, 20, top + 190), soft)
        light += cloth[..., None] * (_shade(folds, (0.86, 0.82, 0.76)) - light)


def _shelf(light: Real, x: Real, y: Real, soft: float) -> None:
    left, right, bottom, top = SHELF
    _lay(light, _box(x, y, SHELF, soft), (0.20, 0.155, 0.12))
    rows, wide = 6, 44.0
    tall = (top - bottom - 60) / rows
    row = np.clip(((y - bottom) // tall).astype(np.intp), 0, rows - 1)
    book = np.clip(((x - left) / wide + 0.35 * row).astype(np.intp), 0, 63)
    thrown = shuffled(4 * 64 * rows, seed=41).reshape(4, rows, 64)
    hue, tone, high, gone = (one[row, book] for one in thrown)
    up = (y - bottom) - row * tall - 26
    seen = (1 - rise(up, 190, soft) * rise(high, 0.0, 0.5)) * rise(up, 0.0, soft) * (1 - rise(up, 215 + 75 * high.max(), soft))
    seen = seen * (up < 215 + 75 * high) * (gone < 0.86) * _box(x, y, (left + 30, right - 30, bottom, top - 60), soft)
    cloth = np.stack([0.22 + 0.55 * hue, 0.20 + 0.26 * tone, 0.16 + 0.34 * (1 - hue)], axis=-1) * (0.45 + 0.75 * tone)[..., None]
    light += seen[..., None] * (cloth - light)


def _sofa(light: Real, x: Real, y: Real, soft: float) -> None:
    x = x - SOFA + 190
    body = _box(x, y, (-420, 800, 90, 470), max(soft, 25.0))
    back = _box(x, y, (-360, 740, 300, 850), max(soft, 40.0))
    arms = np.maximum(_box(x, y, (-520, -350, 90, 640), max(soft, 30.0)), _box(x, y, (730, 900, 90, 640), max(soft, 30.0)))
    for cover, tone, foot in ((back, 0.30, 0.16), (body, 0.34, 0.10), (arms, 0.32, 0.12)):
        shade = foot + tone * np.clip(y / 850, 0, 1) ** 1.3
        light += cover[..., None] * (_shade(shade, (0.78, 1.0, 0.96)) - light)
    _lay(light, _box(x, y, (360, 640, 470, 760), 28.0), (0.80, 0.47, 0.24))


def _lamp(light: Real, x: Real, y: Real, soft: float) -> None:
    across, middle = LAMP
    _lay(light, _box(x, y, (across - 11, across + 11, 20, middle), soft), (0.16, 0.14, 0.12))
    _lay(light, _box(x, y, (across - 150, across + 150, 0, 26), soft), (0.16, 0.14, 0.12))
    half = 215 - 0.28 * (y - middle)
    shade = rise(half - np.abs(x - across), 0.0, soft) * rise(y, middle - 165, soft) * (1 - rise(y, middle + 165, soft))
    glow = 2.6 + 2.2 * np.exp(-(((y - middle + 20) / 120) ** 2) - (((x - across) / 170) ** 2))
    light += shade[..., None] * (_shade(glow, (1.0, 0.78, 0.50)) - light)


def _floor(x: Real, back: Real, facing_mm: float, soft: float) -> Real:
    """Boards along the room, a rug, the sheen of the window."""
    board = np.floor(x / 140)
    tone = 0.30 + 0.05 * np.sin(board * 2.4) + 0.03 * np.sin(board * 7.1 + np.floor(back / 1200 + 0.37 * board) * 2.9)
    light = _shade(tone + 0.10 * back / facing_mm, (1.0, 0.80, 0.60))
    sheen = np.exp(-(((x + 1130) / 520) ** 2)) * np.clip(back / facing_mm, 0, 1) ** 2
    light += _shade(0.45 * sheen, (0.85, 0.95, 1.10))
    rug = _box(x, back, (-700, 1050, facing_mm - 1900, facing_mm - 500), max(soft, 12.0))
    return _laid(light, rug, (0.42, 0.34, 0.30))


def _ceiling(x: Real, back: Real, soft: float) -> Real:
    light = _shade(0.92 + 0.0 * x, (1.0, 0.985, 0.96))
    for across in (-1300.0, 0.0, 1300.0):
        for deep in (900.0, 2300.0):
            away = np.hypot(x - across, back - deep)
            light += _shade(0.25 * np.exp(-((away / 420) ** 2)) + 11.0 * (1 - rise(away, 62.0, max(soft, 6.0))), (1.0, 0.90, 0.74))
    return light


def _box(x: Real, y: Real, ends: tuple[float, float, float, float], soft: float) -> Real:
    left, right, bottom, top = ends
    across = rise(x, left, soft) * (1 - rise(x, right, soft))
    return np.asarray(across * rise(y, bottom, soft) * (1 - rise(y, top, soft)))


def _shade(tone: Real, colour: Colour) -> Real:
    return np.asarray(tone[..., None] * np.array(colour))


def _laid(under: Real, cover: Real, colour: Colour) -> Real:
    return np.asarray(under + cover[..., None] * (np.array(colour) - under))


def _lay(light: Real, cover: Real, colour: Colour) -> None:
    light += cover[..., None] * (np.array(colour) - light)


@cache
def _mean() -> float:
    """Mean green of what is usually mirrored."""
    x, y = np.meshgrid(np.linspace(-1800, 1800, 145), np.linspace(500, 2600, 85), sparse=True)
    return float(facing_wall(x, y, 12.0)[..., 1].mean())
