"""A still as a page draws it itself: sizes for its uniforms, and tables for its textures. The formula is in ``docs/shader-input.md``.

Everything that hangs on the eye is left to the page. Tables of light are for a luminance of 1 cd/m2 and in linear sRGB, so that dimming and
colour are factors.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from halfsilver.model.look_asset import AssetFrame, AssetRectangle, AssetRoom, AssetSpace
from halfsilver.optics.picture import XYZ_TO_SRGB
from halfsilver.optics.still import Face, Frame, RoomLook, Space, Still
from halfsilver.optics.still_frame import frame_look
from halfsilver.optics.still_mirrored import room_seen
from halfsilver.optics.still_room import PAINT
from halfsilver.optics.still_screen import picture_look
from halfsilver.optics.still_space import ring_lx
from halfsilver.optics.still_view import Box, View

Real = NDArray[np.float64]
Table = NDArray[np.float32] | NDArray[np.float16] | NDArray[np.int8]

LEAST_WEIGHT, MOST_ORDERS = 1e-4, 48
PLACE_MM = 20.0
STRAY_PLACES = 129
ROOM_TEXELS = 22_000  # of all viewers together


def tables_of(still: Still, view: View, rooms: Mapping[str, Table]) -> Iterator[tuple[str, Table]]:
    """Tables of a still whose cavity covers all angles that a page may look at, by name.

    Parameters
    ----------
    still : Still
        The piece; its emitters are those that the page may mix, the job's own strip first.
    view : View
        Any eye of the job.
    rooms : mapping of str to array
        The room mirrored, by viewer (see :func:`room_table`).
    """
    table = still.table
    passed = _passed(still)
    mirror = table.mirror(incidence_deg=table.incidence_deg) @ XYZ_TO_SRGB.T
    yield "glass", np.column_stack((mirror, passed)).astype(np.float32)
    yield from ((f"room {who}", room) for who, room in rooms.items())
    frame = frame_look(still.frame, still.room, view, white=np.ones(3), glass_mm=still.front.depth_mm)
    if still.frame.finish.grain:
        yield "grain", np.rint(127 * frame.grain).astype(np.int8)
    if still.space and still.strip:
        walls = table.walls.mean(axis=1)[:, :, : _orders(still)] @ XYZ_TO_SRGB.T
        yield "walls", walls.transpose(0, 2, 1, 3).astype(np.float16)
        yield from ((f"wood_{name}", _wood(still, still.space, side)) for name, side in (("upright", "left"), ("level", "top")))
    look = picture_look(still, view, frame.sight, np.zeros((2, 2, 3), dtype=np.float32))
    if look is None:
        return
    yield "screen", _screen(still, look.gains.shape[2])
    if still.space and still.strip:
        for name, size in (("across", still.frame.width_mm), ("up", still.frame.height_mm)):
            turn = np.sin(np.linspace(-pi / 2, pi / 2, STRAY_PLACES)) * size / 2
            lux = np.interp(turn, *look.stray[size])
            yield f"stray_{name}", (lux / still.strip.luminance_cd_m2).astype(np.float32)


def _passed(still: Still) -> Real:
    """Transmittance of the whole assembly for the screen's white, by angle."""
    primaries = still.table.screen
    shares = np.asarray(still.screen.shares) if still.screen else np.ones(primaries.shape[0]) / primaries.shape[0]
    return np.asarray(np.einsum("e,ea->a", shares, primaries.mean(axis=1).sum(axis=2)[..., 1]))


def _orders(still: Still) -> int:
    """Orders worth drawing: until an image is fainter than so much of the first."""
    luminance = still.table.walls[0].mean(axis=0)[..., 1].max(axis=0)
    return min(int((luminance > LEAST_WEIGHT * luminance[0]).sum()), MOST_ORDERS)


def _wood(still: Still, space: Space, side: str) -> NDArray[np.float16]:
    """Luminance (stretches, places) of each stretch of wood over the strip's, places even and about the wall's middle."""
    assert still.strip is not None
    size = still.frame.height_mm if side == "left" else still.frame.width_mm
    half = ceil(size / 2 / PLACE_MM)
    places: Real = np.arange(-half, half + 1, dtype=float) * PLACE_MM
    given = space.wood / pi / still.strip.luminance_cd_m2
    rows = [given * ring_lx(still, side, height_mm=sum(one.behind_mm) / 2, place_mm=places) for one in space.side]
    return np.stack([row * (one.face is not Face.STRIP) for row, one in zip(rows, space.side, strict=True)]).astype(np.float16)


def _screen(still: Still, echoes: int) -> NDArray[np.float32]:
    """Luminance (echoes, 2, angles, 3) of each primary at 1 cd/m2, in s and in p; all later echoes are laid on the last."""
    gains = still.table.screen[..., 1].transpose(3, 1, 2, 0)
    found = gains[:echoes].copy()
    found[-1] += gains[echoes:].sum(axis=0)
    return found.astype(np.float32)


def colours_of(still: Still) -> Real:
    """Linear sRGB (3, 3) of each primary at 1 cd/m2, seen through the sheets at the middle angle."""
    seen = still.table.screen[:, :, still.table.incidence_deg.size // 4, 0].mean(axis=1)
    return np.asarray((seen / np.maximum(seen[:, 1:2], 1e-12)) @ XYZ_TO_SRGB.T)


def room_table(still: Still, view: View, *, viewers: int) -> tuple[AssetRectangle, NDArray[np.float16]]:
    """The room as one eye sees it in the glass, cd/m2 but for the glass's own factor, (rows, columns, 3), row 0 below; and what it covers.

    It lies in the plane of the wall opposite, mirrored; places from the centre of the outside.
    """
    glass = still.front.depth_mm
    sight = frame_look(still.frame, still.room, view, white=np.ones(3), glass_mm=glass).sight
    wide, high = sight.right - sight.left, sight.top - sight.bottom
    columns = round(sqrt(ROOM_TEXELS / viewers * wide / high))
    rows = max(2, round(columns * high / wide))
    x, y = (one.ravel() for one in np.meshgrid(sight.left + _middles(columns) * wide, sight.bottom + _middles(rows) * high))
    values = room_seen(still.room, view, sight, glass_mm=glass).light(Box(left=x, right=x, bottom=y, top=y))
    away = view.distance_mm + 2 * glass + still.room.facing_mm
    extent = AssetRectangle(
        left_mm=view.x_mm + sight.left * away, right_mm=view.x_mm + sight.right * away,
        bottom_mm=view.y_mm + sight.bottom * away, top_mm=view.y_mm + sight.top * away,
    )  # fmt: skip
    return extent, values.reshape(rows, columns, 3).astype(np.float16)


def _middles(count: int) -> Real:
    return np.asarray((np.arange(count) + 0.5) / count)


def frame_of(frame: Frame) -> AssetFrame:
    """The frame's part of the header."""
    red, green, blue = frame.finish.albedo
    return AssetFrame(
        width_mm=frame.width_mm, height_mm=frame.height_mm, profile_mm=frame.profile, wall_depth_mm=frame.wall_depth_mm,
        recess_mm=frame.recess_mm, albedo=(red, green, blue), gloss=frame.finish.gloss, metal=frame.finish.metal, grain=frame.finish.grain,
    )  # fmt: skip


def space_of(space: Space | None) -> AssetSpace | None:
    """The lit space's part of the header."""
    if space is None:
        return None
    points = [(one.inset_mm[0], one.behind_mm[0]) for one in space.side]
    points.append((space.side[-1].inset_mm[1], space.side[-1].behind_mm[1]))
    return AssetSpace(
        gap_mm=space.gap_mm, before_mm=space.before_mm, points_mm=tuple(points), strip=tuple(one.face is Face.STRIP for one in space.side)
    )


def room_of(room: RoomLook) -> AssetRoom:
    """The room's part of the header."""
    red, green, blue = (float(one) for one in np.array(room.XYZ) @ XYZ_TO_SRGB.T)
    return AssetRoom(
        illuminance_lx=room.illuminance_lx, mirrored_cd_m2=room.mirrored_cd_m2, white=(red, green, blue),
        centre_height_mm=room.centre_height_mm, paint=PAINT,
    )  # fmt: skip
