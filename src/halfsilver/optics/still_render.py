"""Stills of a piece: wall, frame, glass with the room in it, the lit space, the screen. Every edge is filtered exactly over its pixel.

Everything stands square to everything else, so each opening is a rectangle in the slopes of the rays, and what lies in it is laid
over what lies behind by the share of the pixel that it covers. No ray is traced and nothing is thrown at random.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import RangeError
from halfsilver.optics.each import Each
from halfsilver.optics.picture import GREY, XYZ_TO_SRGB
from halfsilver.optics.still import State, Still, Texture
from halfsilver.optics.still_frame import SIDES, FrameLook, frame_look
from halfsilver.optics.still_mirrored import RoomSeen, room_seen
from halfsilver.optics.still_room import wall_light
from halfsilver.optics.still_screen import PictureLook, behind_light, picture_look
from halfsilver.optics.still_space import WallLook, diodes, wall_look
from halfsilver.optics.still_view import Box, View

Real = NDArray[np.float64]
Whole = NDArray[np.intp]
PIXELS_AT_ONCE = 32_000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Looks:
    """Everything that one eye sees, made ready."""

    still: Still
    view: View
    state: State
    white: Real
    frame: FrameLook
    walls: dict[str, WallLook | None]
    picture: PictureLook | None
    room: RoomSeen
    mirror: Real
    passed: Real


def render_still(
    still: Still,
    view: View,
    *,
    state: State,
    content: Texture,
    samples: int = 1,
    each: Each = map,
    tell: Callable[[float], None] | None = None,
) -> NDArray[np.float32]:  # fmt: skip
    """Linear picture of a piece.

    Parameters
    ----------
    still : Still
        The piece in its room.
    view : View
        The camera.
    state : State
        What is switched on.
    content : array, shape (rows, columns, 3)
        What the screen shows, linear, 0 to 1.
    samples : int
        Samples per pixel, taken as the nearest square. Edges are exact with one.
    each : callable
        Maps a function over parts of the work, such as bands of rows; ``Executor.map`` spreads them over threads.
    tell : callable, optional
        Told the share of the rows that is done.

    Returns
    -------
    array, shape (height, width, 3), float32
        Linear sRGB, 1 being 1 cd/m2; row 0 on top.

    Raises
    ------
    RangeError
        If the number of samples is below 1.
    """
    if samples < 1:
        raise RangeError("A picture needs at least one sample.")
    looks = _looks(still, view, state, content, each)
    side = max(1, round(samples**0.5))
    columns, rows = view.columns(side), view.rows(side)
    found = np.zeros((view.height_px, view.width_px, 3), dtype=np.float32)
    step = max(1, PIXELS_AT_ONCE // (view.width_px * side**2))

    def fill(band: slice) -> None:
        light = _band(looks, columns, rows[band.start * side : band.stop * side + 1])
        found[band] = light.reshape(band.stop - band.start, side, view.width_px, side, 3).mean(axis=(1, 3))

    bands = [slice(row, min(row + step, view.height_px)) for row in range(0, view.height_px, step)]
    for done, _ in enumerate(each(fill, bands), start=1):
        if tell:
            tell(done / len(bands))
    return found


def _looks(still: Still, view: View, state: State, content: Texture, each: Each) -> _Looks:
    white = np.array(still.room.XYZ) @ XYZ_TO_SRGB.T
    frame = frame_look(still.frame, still.room, view, white=white, glass_mm=still.front.depth_mm)
    grid = still.table.incidence_deg
    shares = np.asarray(still.screen.shares) if still.screen else np.ones(still.table.screen.shape[0]) / still.table.screen.shape[0]
    passed = np.einsum("e,eax->ax", shares, still.table.screen.mean(axis=1).sum(axis=2))[:, 1]
    mirror = still.table.mirror(incidence_deg=grid) @ XYZ_TO_SRGB.T
    # A pool takes on all of it at once; `map` does each when it is asked for.
    rooms = each(lambda sight: room_seen(still.room, view, sight, glass_mm=still.front.depth_mm), (frame.sight,))
    pictures = each(lambda sight: picture_look(still, view, sight, content), (frame.sight,))
    sides = each(lambda side: wall_look(still, view, frame.sight, side) if state.strip else None, SIDES)
    walls = dict(zip(SIDES, sides, strict=True))
    (room,), (picture,) = rooms, pictures
    return _Looks(
        still=still, view=view, state=state, white=white, frame=frame, walls=walls, picture=picture, room=room, mirror=mirror, passed=passed
    )


def _band(looks: _Looks, columns: tuple[Real, Real], edges: Real) -> Real:
    """Light of whole rows."""
    across, turned = columns
    tall = edges.size - 1
    box = Box(
        left=np.broadcast_to(across[:-1], (tall, turned.size)), right=np.broadcast_to(across[1:], (tall, turned.size)),
        bottom=edges[1:, None] * turned, top=edges[:-1, None] * turned,
    )  # fmt: skip
    outer, sight = (window.cover(box).ravel() for window in (looks.frame.outer, looks.frame.sight))
    found = np.zeros((outer.size, 3))
    for cover, light in ((1 - outer, _wall), (outer - sight, _frame), (sight, _inside)):
        chosen = np.flatnonzero(cover > 1e-9)
        if chosen.size:
            found[chosen] += light(looks, box.taken(chosen)) * cover[chosen][:, None]
    return np.maximum(found, 0.0)


def _wall(looks: _Looks, box: Box) -> Real:
    return wall_light(looks.still.frame, looks.still.room, looks.view, box, looks.white)


def _frame(looks: _Looks, box: Box) -> Real:
    return looks.frame.light(box)


def _inside(looks: _Looks, box: Box) -> Real:
    """Light through the opening: the room mirrored, the space between the sheets, the screen."""
    still, view = looks.still, looks.view
    sine = np.sqrt((box.x**2 + box.y**2) / (1 + box.x**2 + box.y**2))
    angle = np.degrees(np.arcsin(sine))
    mirror = _at_angle(looks.mirror, angle, looks)
    passed = _at_angle(looks.passed[:, None], angle, looks)[:, 0]
    if still.screen and looks.picture and not still.space:
        beside = 1 - looks.picture.outline.cover(box)
        mirror = mirror - (beside * passed**2 * still.screen.face_mirror)[:, None]
    room = looks.room.light(box)
    clear = looks.frame.clear.cover(box) / np.maximum(looks.frame.sight.cover(box), 1e-9)
    room = looks.frame.lip / looks.white + np.minimum(clear, 1.0)[:, None] * (room - looks.frame.lip / looks.white)
    found = room * mirror + behind_light(still, view, looks.picture, box, passed, looks.white, lit=looks.state.strip)
    if looks.picture and looks.state.screen:
        found += looks.picture.light(box)
    if looks.state.strip and still.space:
        found += _space(looks, box)
    return found


def _at_angle(table: Real, angle_deg: Real, looks: _Looks) -> Real:
    grid = looks.still.table.incidence_deg
    place = np.clip(angle_deg / (grid[1] - grid[0]), 0, grid.size - 1)
    low = np.minimum(place.astype(np.intp), grid.size - 2)
    part = (place - low)[:, None]
    return np.asarray(table[low] * (1 - part) + table[low + 1] * part)


def _space(looks: _Looks, box: Box) -> Real:
    """Light of the four side walls with all their images; each pixel sees the wall that its ray meets first."""
    found = np.zeros((box.left.size, 3))
    upright = _nearer(looks, box)
    for side in SIDES:
        look = looks.walls[side]
        if look is None:
            continue
        level = side in ("bottom", "top")
        low, high = (box.bottom, box.top) if level else (box.left, box.right)
        low, high = (-high, -low) if side in ("left", "bottom") else (low, high)
        share = 1 - upright if level else upright
        seen = np.flatnonzero((share > 0) & (high > max(float(look.nodes[0]), 0.0)))
        if seen.size:
            found[seen] += _wall_pixels(looks, look, box.taken(seen), low[seen], high[seen], level=level) * share[seen][:, None]
    return found


def _wall_pixels(looks: _Looks, look: WallLook, box: Box, low: Real, high: Real, *, level: bool) -> Real:
    strip = looks.still.strip
    assert strip is not None
    along, ends = (box.x, (box.left, box.right)) if level else (box.y, (box.bottom, box.top))
    light = look.light(low, high, along)
    bright = np.maximum(light[:, :3] @ GREY, 1e-12)
    away = np.where(light[:, 6] > 0, light[:, 6] / bright, look.reach_mm / np.maximum((low + high) / 2, 1e-6))
    spread = np.sqrt(np.maximum(light[:, 7] / bright - away**2, 0.0)) * np.abs(along)
    place = (looks.view.x_mm if level else looks.view.y_mm) + along * away
    footprint = (ends[1] - ends[0]) * away
    lit = np.clip((look.half_lit_mm - np.abs(place)) / (footprint + 2 * spread) + 0.5, 0.0, 1.0)
    lit = lit * diodes(place + strip.pitch_mm / 2, footprint, spread, pitch_mm=strip.pitch_mm, bell_mm=strip.spread_mm)
    return np.asarray(light[:, :3] * lit[:, None] + light[:, 3:6])


def _nearer(looks: _Looks, box: Box) -> Real:
    """Share of each pixel whose rays meet an upright wall before a level one: depth goes as reach over slope."""
    over = []
    for name, before, after in (("x", "left", "right"), ("y", "bottom", "top")):
        slope = box.x if name == "x" else box.y
        half = (box.right - box.left) / 2 if name == "x" else (box.top - box.bottom) / 2
        reaches = [look.reach_mm if (look := looks.walls[side]) else np.inf for side in (before, after)]
        reach = np.where(slope < 0, *reaches)
        over.append((np.abs(slope) / reach, half / reach))
    (x, x_half), (y, y_half) = over
    return np.asarray(np.clip(0.5 + (x - y) / (2 * np.maximum(x_half + y_half, 1e-12)), 0.0, 1.0))
