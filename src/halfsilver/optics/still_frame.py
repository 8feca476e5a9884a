"""The frame in a still: what shows of its profile on each side, shaded by the room's light from above and in front.

Each side is a moulding drawn straight along, so what a ray meets depends on one slope only: every side becomes a table along that slope.
At a mitre the side whose ray lies nearer to the outer edge is seen.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import pi

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.still import Finish, Frame, RoomLook
from halfsilver.optics.still_content import clouds
from halfsilver.optics.still_view import Box, View, Window

Real = NDArray[np.float64]
Point = tuple[float, float]

SAMPLES = 1024  # places along the slope across one side
LAMP = (-0.29, 0.70, 0.65)  # towards the room's light, as lamps in a ceiling before the wall throw it
DIFFUSE_ROOM = 0.42  # share of the light on the wall that comes from all round
MITRE_MM, MITRE_DARK = 0.4, 0.5
GRAIN_MM = (260.0, 3.6)  # along and across the stick
LIP_LIGHT = 0.35  # light on the lip's inner edge over that on the wall: assumed
SIDES = ("left", "right", "bottom", "top")
OUTWARD = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "bottom": (0.0, -1.0), "top": (0.0, 1.0)}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SideLook:
    """One side: running sums along the outward slope of inset [mm] and of light [cd/m2], three channels.

    ``start`` and ``step`` place the sums.
    """

    start: float
    step: float
    sums: Real

    def mean(self, near: Real, far: Real, distance_mm: float) -> tuple[Real, Real]:
        """Means of inset and light between two outward slopes, as far as the side reaches; the inset goes on into the opening."""
        beyond = np.maximum(self.start - far, 0.0) * distance_mm
        last = self.sums.shape[0] - 1
        low, high = ((np.clip((one - self.start) / self.step, 0, last)) for one in (near, far))
        middle = np.clip((low + high) / 2, 0.5, last - 0.5)
        high, low = np.maximum(high, middle + 0.5), np.minimum(low, middle - 0.5)
        found = (self._at(high) - self._at(low)) / (high - low)[..., None]
        return found[..., 0] + beyond, found[..., 1:]

    def _at(self, place: Real) -> Real:
        low = np.minimum(place.astype(np.intp), self.sums.shape[0] - 2)
        part = (place - low)[..., None]
        return np.asarray(self.sums[low] * (1 - part) + self.sums[low + 1] * part)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FrameLook:
    """The frame from one eye: its four sides, the window that it fills, and the window that it leaves open.

    ``clear`` is the part of ``sight`` where the glass mirrors the room; round it, it mirrors the lip's inner edge, of light ``lip``.
    """

    sides: dict[str, SideLook]
    outer: Window
    sight: Window
    clear: Window
    lip: Real
    finish: Finish
    grain: NDArray[np.float32]
    view: View

    def light(self, box: Box) -> Real:
        """Light of pixels on the frame, (pixels, 3)."""
        distance = self.view.distance_mm
        inset_x, light_x = self._pair("left", "right", box.left, box.right)
        inset_y, light_y = self._pair("bottom", "top", box.bottom, box.top)
        pixel = np.maximum(box.right - box.left, box.top - box.bottom) * distance
        share = np.clip(0.5 + (inset_y - inset_x) / (2 * pixel), 0.0, 1.0)[:, None]
        x, y = self.view.x_mm + box.x * distance, self.view.y_mm + box.y * distance
        light_x = light_x * self._grain(y + 5000 * (box.x > 0), inset_x, pixel)[:, None]
        light_y = light_y * self._grain(x + 2500 + 5000 * (box.y > 0), inset_y, pixel)[:, None]
        line = np.clip((pixel / 2 + MITRE_MM - np.abs(inset_x - inset_y)) / pixel, 0.0, np.minimum(1.0, 2 * MITRE_MM / pixel))
        return np.asarray((light_y + share * (light_x - light_y)) * (1 - MITRE_DARK * line)[:, None])

    def _pair(self, before: str, after: str, low: Real, high: Real) -> tuple[Real, Real]:
        """Inset and light by the nearer of two opposite sides."""
        middle = (self.sight.left + self.sight.right if before == "left" else self.sight.bottom + self.sight.top) / 2
        later = (low + high) / 2 > middle
        inset, light = np.empty(low.size), np.empty((low.size, 3))
        for side, chosen, ends in ((before, ~later, (-high, -low)), (after, later, (low, high))):
            inset[chosen], light[chosen] = self.sides[side].mean(ends[0][chosen], ends[1][chosen], self.view.distance_mm)
        return inset, light

    def _grain(self, along: Real, across: Real, pixel: Real) -> Real:
        """Factor of the wood's grain, or of leaf; fades where pixels are larger than it."""
        if not self.finish.grain:
            return np.ones_like(along)
        size = self.grain.shape[0]
        u = (along / GRAIN_MM[0]) * 16 % size
        v = (across / GRAIN_MM[1]) * 4 % size
        fade = np.minimum(1.0, 2.5 * GRAIN_MM[1] / pixel)
        low_u, low_v = u.astype(np.intp), v.astype(np.intp)
        pu, pv = u - low_u, v - low_v
        next_u, next_v = (low_u + 1) % size, (low_v + 1) % size
        tile = self.grain
        value = (tile[low_v, low_u] * (1 - pu) + tile[low_v, next_u] * pu) * (1 - pv) + (
            tile[next_v, low_u] * (1 - pu) + tile[next_v, next_u] * pu
        ) * pv
        return np.asarray(1 + self.finish.grain * fade * value)


def frame_look(frame: Frame, room: RoomLook, view: View, *, white: Real, glass_mm: float) -> FrameLook:
    """The frame from one eye; ``white`` is linear sRGB of the room's light at 1 cd/m2, ``glass_mm`` the depth of the mirroring face."""
    found = {side: _side(frame, room, view, side, white) for side in SIDES}
    outer, inner = ({side: ends[which] for side, (_, *ends) in found.items()} for which in (0, 1))
    tip = max(frame.profile)
    mirrored = {side: min(inner[side], _slope(frame, view, side, (tip[0], 2 * glass_mm - tip[1]))) for side in SIDES}
    lip = np.array(frame.finish.albedo) * (LIP_LIGHT * room.illuminance_lx / pi) * white
    return FrameLook(
        sides={side: look for side, (look, _, _) in found.items()},
        outer=_window(outer), sight=_window(inner), clear=_window(mirrored), lip=lip, finish=frame.finish, grain=_tile(), view=view,
    )  # fmt: skip


def _window(outward: dict[str, float]) -> Window:
    return Window(left=-outward["left"], right=outward["right"], bottom=-outward["bottom"], top=outward["top"])


def _slope(frame: Frame, view: View, side: str, point: tuple[float, float]) -> float:
    """Outward slope of a point (inset, depth) of a side."""
    x, y = OUTWARD[side]
    half = (frame.width_mm if x else frame.height_mm) / 2
    return (half - point[0] - view.x_mm * x - view.y_mm * y) / (view.distance_mm + point[1])


def _side(frame: Frame, room: RoomLook, view: View, side: str, white: Real) -> tuple[SideLook, float, float]:
    """Table of one side with the outward slopes of its outer and inner edge."""
    along_x = side in ("left", "right")
    half = (frame.width_mm if along_x else frame.height_mm) / 2
    eye = (view.x_mm if along_x else view.y_mm) * (OUTWARD[side][0] + OUTWARD[side][1])
    slopes = [_slope(frame, view, side, point) for point in frame.profile]
    outer, inner = max(slopes), min(slopes)
    step = (outer - inner) / SAMPLES
    at = np.asarray(inner + (np.arange(SAMPLES) + 0.5) * step, dtype=np.float64)
    best, insets, lights = np.full(SAMPLES, np.inf), np.zeros(SAMPLES), np.zeros((SAMPLES, 3))
    for (a, b), (sa, sb) in zip(pairwise(frame.profile), pairwise(slopes), strict=True):
        if abs(sa - sb) < 1e-12:
            continue
        # Along the stretch from a to b the ray of a slope meets the point where half - inset - eye = slope (distance + depth).
        rise = (a[0] - b[0]) - at * (b[1] - a[1])
        with np.errstate(divide="ignore", invalid="ignore"):
            part = (at * (view.distance_mm + a[1]) - (half - a[0] - eye)) / np.where(np.abs(rise) < 1e-12, np.nan, rise)
        depth = a[1] + part * (b[1] - a[1])
        seen = (part >= -1e-9) & (part <= 1 + 1e-9) & (depth < best)
        best = np.where(seen, depth, best)
        insets = np.where(seen, a[0] + part * (b[0] - a[0]), insets)
        lights = np.where(seen[:, None], _shaded(frame.finish, room, side, a, b, at, white), lights)
    sums = np.concatenate((np.zeros((1, 4)), np.cumsum(np.column_stack((insets, lights)), axis=0)))
    return SideLook(start=inner, step=step, sums=sums), outer, inner


def _shaded(finish: Finish, room: RoomLook, side: str, a: Point, b: Point, at: Real, white: Real) -> Real:
    """Light of a flat stretch of the profile, (samples, 3)."""
    out = np.array([*OUTWARD[side], 0.0])
    normal = (a[1] - b[1]) * out + np.array([0.0, 0.0, b[0] - a[0]])
    normal = normal / np.linalg.norm(normal)
    towards = np.stack([-at * out[0], -at * out[1], np.ones_like(at)], axis=1)
    towards /= np.linalg.norm(towards, axis=1)[:, None]
    matt = np.array(finish.albedo) * (on_facet(normal) * room.illuminance_lx / pi)
    facing = np.clip(towards @ normal, 0.0, 1.0)
    mirrored = 2 * facing[:, None] * normal - towards
    shine = room.mirrored_cd_m2 * soft_room(mirrored, finish.gloss)
    fresnel = 0.04 + 0.96 * (1 - facing) ** 5
    glossy = (finish.gloss * fresnel * (1 - finish.metal) * shine)[:, None] * np.ones(3)
    metal = finish.metal * shine[:, None] * np.array(finish.albedo)
    return np.asarray((matt * (1 - finish.metal) + glossy + metal) * white)


def on_facet(normal: Real) -> float:
    """Illuminance of a facet over that of the wall, by the lamps and from all round."""
    lamp = np.array(LAMP) / np.linalg.norm(LAMP)
    round_ = (0.55 + 0.45 * normal[2]) * (1 + 0.3 * normal[1])
    return float(DIFFUSE_ROOM * round_ + (1 - DIFFUSE_ROOM) * max(0.0, float(normal @ lamp)) / lamp[2])


def soft_room(direction: Real, gloss: float) -> Real:
    """Luminance of the room seen in a satin surface, over what a mirror shows: lighter above, with the lamps' sheen."""
    lamp = np.array(LAMP) / np.linalg.norm(LAMP)
    sharp = 6 + 40 * gloss
    sheen = np.exp(sharp * (direction @ lamp - 1))
    return np.asarray(1.0 + 0.75 * direction[:, 1] + (2.0 + 10 * gloss) * sheen)


def _tile() -> NDArray[np.float32]:
    """A square of noise that may be laid side by side without a seam."""
    size = 128
    field = clouds(2 * size, 2 * size, cells=48, octaves=2, seed=3)
    ramp = np.linspace(0, 1, size, dtype=np.float32)
    level = field[:, :size] * ramp + field[:, size:] * (1 - ramp)
    found = level[:size] * ramp[:, None] + level[size:] * (1 - ramp)[:, None]
    return np.asarray(found / np.abs(found).max(), dtype=np.float32)
