"""The screen in a still: its picture through the sheets with every echo, and what lies round it when it is dark.

Echo n is the picture 2 n gaps further back, so from an eye off the axis it stands beside the one before it. Each is seen through the window
that the side walls leave on its way.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.picture import XYZ_TO_SRGB
from halfsilver.optics.still import Face, Pane, Rectangle, ScreenLook, Still, Texture
from halfsilver.optics.still_frame import OUTWARD, SIDES
from halfsilver.optics.still_space import edges_before
from halfsilver.optics.still_view import Box, View, Window, slope_to

Real = NDArray[np.float64]
Whole = NDArray[np.intp]
LEAST_ECHO = 3e-3
ANGLES = 2048
FINER = 1.3  # texels per pixel
STRAY_IMAGES = 12
MOST_TEXELS = 1920


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PictureLook:
    """The screen from one eye.

    Parameters
    ----------
    windows : tuple of Window
        Where each echo is seen.
    outline : Window
        Where the screen's body is seen.
    texture : array, float32
        Content, 0 to 1.
    gains : array, shape (ANGLES, 3, echoes, 2)
        Luminance of each echo of each primary at 1 cd/m2 over the square of the sine, in s and in p.
    colours : array, shape (3, 3)
        Linear sRGB of each primary at 1 cd/m2, seen through the sheets.
    """

    still: Still
    view: View
    windows: tuple[Window, ...]
    outline: Window
    texture: Texture
    gains: Real
    colours: Real
    most: float
    stray: dict[float, tuple[Real, Real]]

    def light(self, box: Box) -> Real:
        """Light of the picture and its echoes, (pixels, 3)."""
        screen = self.still.screen
        assert screen is not None
        found = np.zeros((box.left.size, 3))
        first = self._depth(box)
        gap = self.still.space.gap_mm if self.still.space else 0.0
        place, share = self._angle(box, screen)
        for number, window in enumerate(self.windows):
            cover = window.cover(box)
            seen = np.flatnonzero(cover)
            if not seen.size:
                continue
            away = first[seen] + 2 * number * gap
            content = self._content(screen.picture, self.view.x_mm + box.x[seen] * away, self.view.y_mm + box.y[seen] * away)
            found[seen] += content * self._gain(number, place[seen], None if share is None else share[seen]) * cover[seen][:, None]
        levels = screen.white_cd_m2 * np.asarray(screen.shares)
        return np.asarray((found * levels) @ self.colours)

    def _depth(self, box: Box) -> Real:
        """Depth of the picture in air for each ray."""
        screen, square = self.still.screen, box.x**2 + box.y**2
        assert screen is not None
        last = self.still.rear or self.still.front
        depth: Real = np.full_like(square, self.view.distance_mm + last.depth_mm + screen.air_mm)
        for pane in _panes(self.still):
            depth = depth + pane.thickness_mm / np.sqrt(pane.index**2 * (1 + square) - square)
        return np.asarray(depth - (self.still.front.thickness_mm if self.still.rear else 0.0))

    def _angle(self, box: Box, screen: ScreenLook) -> tuple[Whole, Real | None]:
        """Place in the table of angles, and share of p in the screen's light where it is polarised."""
        square = box.x**2 + box.y**2
        place = np.minimum(square / (1 + square) * ((ANGLES - 1) / self.most) + 0.5, ANGLES - 1).astype(np.intp)
        if screen.axis_deg is None:
            return place, None
        turn = np.radians(screen.axis_deg)
        in_plane = (box.x * np.cos(turn) + box.y * np.sin(turn)) ** 2
        return place, np.divide(in_plane, square, out=np.full_like(square, 0.5), where=square > 1e-12)

    def _gain(self, number: int, place: Whole, share: Real | None) -> Real:
        s, p = self.gains[..., number, 0], self.gains[..., number, 1]
        if share is None:
            return np.take((s + p) / 2, place, axis=0)
        return np.asarray(np.take(s, place, axis=0) + share[:, None] * np.take(p - s, place, axis=0))

    def _content(self, picture: Rectangle, x: Real, y: Real) -> Real:
        """Content at places of the screen, straight between texels."""
        height, width = self.texture.shape[:2]
        u = np.clip((x - picture.left) / (picture.right - picture.left) * width - 0.5, 0, width - 1 - 1e-6)
        v = np.clip((picture.top - y) / (picture.top - picture.bottom) * height - 0.5, 0, height - 1 - 1e-6)
        column, row = u.astype(np.intp), v.astype(np.intp)
        part_u, part_v = (u - column).astype(np.float32)[:, None], (v - row).astype(np.float32)[:, None]
        flat = self.texture.reshape(-1, 3)
        at = row * width + column
        right, down = min(1, width - 1), width * min(1, height - 1)  # a picture of one texel has no neighbour
        corners = [np.take(flat, at + step, axis=0) for step in (0, right, down, down + right)]
        above, below = (left + part_u * (right - left) for left, right in (corners[:2], corners[2:]))
        return np.asarray(above + part_v * (below - above))


def picture_look(still: Still, view: View, sight: Window, content: Texture) -> PictureLook | None:
    """The screen from one eye; None where there is none."""
    screen = still.screen
    if screen is None:
        return None
    most = max(_sine_squared(sight.left, sight.bottom, sight.right, sight.top), 1e-6)
    angles = np.degrees(np.arcsin(np.sqrt(np.linspace(0, most, ANGLES))))
    both = np.stack([still.table.picture(incidence_deg=angles, to_plane_deg=turn) for turn in (90.0, 0.0)], axis=-1)
    gains = both[:, :, :, 1]
    ratio = gains[0].max(axis=(0, 2))
    echoes = max(1, int((ratio >= LEAST_ECHO * ratio[0]).sum())) if still.space else 1
    middle = both[ANGLES // 3, :, 0].mean(axis=-1)
    edges = {side: edges_before(still, view, side, echoes) for side in SIDES}
    windows = tuple(_echo_window(still, view, sight, screen.picture, number, edges) for number in range(echoes))
    return PictureLook(
        still=still, view=view, windows=windows, outline=_echo_window(still, view, sight, screen.outline, 0, edges),
        texture=_texture(content, screen, still, view), gains=_with_tail(gains, echoes), most=most,
        stray={size: _stray_table(still, size) for size in (still.frame.width_mm, still.frame.height_mm)},
        colours=(middle / np.maximum(middle[:, 1:2], 1e-12)) @ XYZ_TO_SRGB.T,
    )  # fmt: skip


def _with_tail(gains: Real, echoes: int) -> Real:
    """The first echoes, the light of all later ones laid on the last."""
    found = gains[:, :, :echoes].copy()
    found[:, :, -1] += gains[:, :, echoes:].sum(axis=2)
    return found


def _sine_squared(left: float, bottom: float, right: float, top: float) -> float:
    square = max(left**2, right**2) + max(bottom**2, top**2)
    return square / (1 + square)


def _panes(still: Still) -> tuple[Pane, ...]:
    return (still.front, still.rear) if still.rear else (still.front,)


def _echo_window(still: Still, view: View, sight: Window, rectangle: Rectangle, number: int, edges: dict[str, list[float]]) -> Window:
    """Where an echo of a rectangle behind the sheets is seen."""
    screen = still.screen
    assert screen is not None
    last = still.rear or still.front
    air = view.distance_mm + last.depth_mm + screen.air_mm - (still.front.thickness_mm if still.rear else 0.0)
    if number and still.space:
        air += 2 * number * still.space.gap_mm
    outward = {"left": -rectangle.left, "right": rectangle.right, "bottom": -rectangle.bottom, "top": rectangle.top}
    sights = {"left": -sight.left, "right": sight.right, "bottom": -sight.bottom, "top": sight.top}
    ends = {}
    for side in SIDES:
        x, y = OUTWARD[side]
        own = slope_to(outward[side] - (view.x_mm * x + view.y_mm * y), air, _panes(still))
        ends[side] = min(own, sights[side], edges[side][number])
    return Window(left=-ends["left"], right=ends["right"], bottom=-ends["bottom"], top=ends["top"])


def texture_px(picture: Rectangle, still: Still, view: View) -> tuple[int, int]:
    """Width and height of the content at about the resolution at which it is seen."""
    wide, high = picture.right - picture.left, picture.top - picture.bottom
    width = max(64, min(MOST_TEXELS, round(wide * FINER / (view.step * (view.distance_mm + still.front.depth_mm)))))
    return width, max(36, round(width * high / wide))


def _texture(content: Texture, screen: ScreenLook, still: Still, view: View) -> Texture:
    """Content with the screen's black, at its own resolution or the one at which it is seen, whichever is coarser."""
    width, height = (min(new, old) for new, old in zip(texture_px(screen.picture, still, view), content.shape[1::-1], strict=False))
    if (height, width) != content.shape[:2]:
        content = _means(_means(content, height).transpose(1, 0, 2), width).transpose(1, 0, 2)
    black = np.float32(screen.black_cd_m2 / screen.white_cd_m2)
    found = np.multiply(content, 1 - black, dtype=np.float32)
    found += black
    return np.ascontiguousarray(found)


def _means(values: Texture, count: int) -> Texture:
    """Means of the first axis over ``count`` equal parts, from its running sums."""
    sums = np.zeros((values.shape[0] + 1, *values.shape[1:]))
    np.cumsum(values, axis=0, out=sums[1:])
    place = np.linspace(0, values.shape[0], count + 1)
    low = np.minimum(place.astype(np.intp), values.shape[0] - 1)
    part = (place - low).reshape(-1, *([1] * (values.ndim - 1)))
    at = sums[low] * (1 - part) + sums[low + 1] * part
    return np.asarray(np.diff(at, axis=0) * (count / values.shape[0]), dtype=np.float32)


def behind_light(still: Still, view: View, look: PictureLook | None, box: Box, passed: Real, white: Real, *, lit: bool) -> Real:
    """Light that the screen's face, or what lies beside it, throws back of the room's light and the strip's, (pixels, 3)."""
    screen = still.screen
    if screen is None or look is None:
        return np.zeros((box.left.size, 3))
    face = look.outline.cover(box)
    diffuse = screen.beside_diffuse + face * (screen.face_diffuse - screen.beside_diffuse)
    room = (passed**2 * still.room.illuminance_lx)[:, None] * white
    found = (diffuse / pi)[:, None] * room
    if lit and still.space and still.strip:
        depth = look._depth(box)
        x, y = view.x_mm + box.x * depth, view.y_mm + box.y * depth
        lux = np.zeros_like(x)
        for place, size in ((x, still.frame.width_mm), (y, still.frame.height_mm)):
            lux += np.interp(place, *look.stray[size])
        tint = still.table.walls[0, :, 0, 0].mean(axis=0)
        found = found + (passed * diffuse / pi * lux)[:, None] * (tint / tint[1] @ XYZ_TO_SRGB.T)
    return found


def _stray_table(still: Still, size_mm: float) -> tuple[Real, Real]:
    """Places across the piece, and the light there; closer together towards the walls."""
    places = np.sin(np.linspace(-np.pi / 2, np.pi / 2, 257)) * size_mm / 2
    return places, _stray(still, places, size_mm) if still.space and still.strip else np.zeros_like(places)


def _stray(still: Still, place: Real, size_mm: float) -> Real:
    """Illuminance of the screen's face from the strips on two opposite walls and their images: pi L w d z/(2 (d^2 + z^2)^1.5) each. [lx]"""
    space, strip, screen = still.space, still.strip, still.screen
    assert space is not None
    assert strip is not None
    assert screen is not None
    faces = [s for s in space.side if s.face is Face.STRIP]
    width = sum(abs(s.behind_mm[1] - s.behind_mm[0]) for s in faces)
    at = sum(sum(s.behind_mm) / 2 for s in faces) / len(faces)
    half = size_mm / 2 - max(inset for s in faces for inset in s.inset_mm)
    behind = screen.air_mm + (still.rear.thickness_mm / still.rear.index if still.rear else 0.0)
    orders = still.table.walls[0, :, 0, :3, 1].mean(axis=0)
    crossing = still.table.screen[:, :, 0, 0, 1].mean() / max(orders[0], 1e-9)
    rear, front = orders[1] / orders[0], orders[2] / max(orders[1], 1e-9)
    total = np.zeros_like(place)
    weight = crossing
    for k in range(STRAY_IMAGES):
        height = behind + (k + 1) * space.gap_mm - (space.gap_mm - at if k % 2 else at)
        weight = crossing if k == 0 else weight * (front if k % 2 else rear)
        for d in (np.maximum(half - place, 1.0), np.maximum(half + place, 1.0)):
            total += weight * pi * strip.luminance_cd_m2 * width * d * height / (2 * (d**2 + height**2) ** 1.5)
    return total
