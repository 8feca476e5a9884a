"""The lit space in a still: the strip's images receding along the side walls, and the light they leave on the wood.

Unfolded, each side wall is one long profile that repeats, mirrored each time. What a ray meets first depends on the slope across the wall
alone, so each wall becomes running sums along that slope, exact at every edge. The luminance of each image comes from the
cavity's table at its own angle, which also hangs on the slope along the wall: a coarse grid of that slope is enough.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, pi

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.picture import GREY, XYZ_TO_SRGB
from halfsilver.optics.still import Face, Still
from halfsilver.optics.still_frame import OUTWARD
from halfsilver.optics.still_view import View, Window, slope_to

Real = NDArray[np.float64]
GRID = 17  # slopes along a wall
CHANNELS = 8
PARTS = 12  # a stretch of strip is cut into at most so many, to tell where in it a pixel looks
HARMONICS = 3
PLACES = np.sin(np.linspace(-pi / 2, pi / 2, 129))  # along a wall, of its half length: closer where light changes fast


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """A stretch of the unfolded wall as the eye sees it: outward slopes of its ends, order, and which stretch it is."""

    outer: float
    inner: float
    order: int
    stretch: int | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WallLook:
    """One side wall from one eye.

    Parameters
    ----------
    nodes : array, shape (nodes,)
        Outward slopes, rising.
    sums : array, shape (nodes, grid, 8)
        Running sums over them of the strip's light and the wood's, three channels each; then of the strip's light times how far away the
        wall is, and times the square of it.
    along : array, shape (grid,)
        Slopes along the wall, even.
    reach_mm : float
        How far the wall stands beside the eye.
    half_lit_mm : float
        Half of the strip's lit length.
    """

    nodes: Real
    sums: Real
    along: Real
    reach_mm: float
    half_lit_mm: float

    def light(self, low: Real, high: Real, along: Real) -> Real:
        """Means (pixels, 8) of the sums between two outward slopes, at slopes along the wall."""
        place = np.clip((along - self.along[0]) / (self.along[1] - self.along[0]), 0, GRID - 1 - 1e-9)
        column = place.astype(np.intp)
        part = (place - column)[:, None]
        found = self._sum(high, column, part) - self._sum(low, column, part)
        return np.asarray(found / (high - low)[:, None])

    def _sum(self, slope: Real, column: NDArray[np.intp], part: Real) -> Real:
        node = np.clip(np.searchsorted(self.nodes, slope) - 1, 0, self.nodes.size - 2)
        start, end = self.nodes[node], self.nodes[node + 1]
        share = np.clip((slope - start) / (end - start), 0.0, 1.0)[:, None]
        flat = self.sums.reshape(-1, CHANNELS)
        at = node * GRID + column
        before = flat[at] * (1 - part) + flat[at + 1] * part
        after = flat[at + GRID] * (1 - part) + flat[at + GRID + 1] * part
        return np.asarray(before + share * (after - before))


def wall_look(still: Still, view: View, sight: Window, side: str) -> WallLook | None:
    """One side wall from one eye; None where there is no lit space, or the eye sees nothing of it."""
    space, strip = still.space, still.strip
    if space is None or strip is None:
        return None
    reach = _half(still, side) - _strip_inset(still) - _eye(view, side)
    lows, highs = (sight.bottom, sight.top) if side in ("left", "right") else (sight.left, sight.right)
    along = np.linspace(lows, highs, GRID)
    seen = [one for one in visible(still, view, side) if one.outer > max(one.inner, 0.0)]
    if not seen or reach <= 0:
        return None
    seen = seen[::-1]
    parts = [_split(still, one, view.step) for one in seen]
    nodes = np.array([seen[0].inner, *(end for ends in parts for end in ends)])
    values = np.repeat(_light(still, view, side, seen, along), [len(ends) for ends in parts], axis=0)
    away = reach / np.maximum((nodes[1:] + nodes[:-1]) / 2, 1e-9)
    spread = (away * np.diff(nodes) * away / reach) ** 2 / 12
    moments = (values[..., :3] @ GREY)[..., None] * np.stack((away, away**2 + spread), axis=-1)[:, None]
    widths = np.diff(nodes)[:, None, None]
    sums = np.concatenate((np.zeros((1, GRID, CHANNELS)), np.cumsum(np.concatenate((values, moments), axis=-1) * widths, axis=0)))
    keep = np.concatenate(([True], np.diff(nodes) > 1e-12))
    half_lit = strip.half_up_mm if side in ("left", "right") else strip.half_across_mm
    return WallLook(nodes=nodes[keep], sums=sums[keep], along=along, reach_mm=reach, half_lit_mm=half_lit)


def _split(still: Still, one: _Seen, pixel: float) -> list[float]:
    """Outer ends of a stretch of strip cut to less than half a pixel, from inner to outer; other stretches stay whole."""
    space = still.space
    assert space is not None
    if one.stretch is None or space.side[one.stretch].face is not Face.STRIP or one.inner <= 0:
        return [one.outer]
    parts = min(PARTS, ceil(2 * (one.outer - one.inner) / pixel))
    return [float(end) for end in np.linspace(one.inner, one.outer, parts + 1)[1:]]


def visible(still: Still, view: View, side: str) -> Iterator[_Seen]:
    """Stretches of the unfolded wall that the eye sees, from the sight edge inwards; they join without a gap."""
    space = still.space
    assert space is not None
    half, eye = _half(still, side), _eye(view, side)
    entry = view.distance_mm + still.front.depth_mm
    last = np.inf
    for order in range(still.table.walls.shape[3]):
        mirrored = order % 2 == 1
        for number, stretch in list(enumerate(space.side))[:: -1 if mirrored else 1]:
            ends = list(zip(stretch.inset_mm, stretch.behind_mm, strict=True))
            slopes = []
            for inset, behind in reversed(ends) if mirrored else ends:
                unfolded = order * space.gap_mm + (space.gap_mm - behind if mirrored else behind)
                slopes.append(slope_to(half - inset - eye, entry + unfolded - space.before_mm, (still.front,)))
            if last == np.inf:
                last = slopes[0] + 1.0
            outer, inner = min(slopes[0], last), min(slopes[1], last)
            if outer < last:  # a step outwards hides nothing but shows nothing either
                yield _Seen(outer=last, inner=outer, order=order, stretch=None)
            if inner < outer:
                yield _Seen(outer=outer, inner=inner, order=order, stretch=number)
            last = min(last, inner)
            if last <= 0:
                return


def edges_before(still: Still, view: View, side: str, trips: int) -> list[float]:
    """Outward slope of the narrowest edge that a ray must clear to reach the rear sheet after 0, 1, ... round trips."""
    space = still.space
    if space is None:
        return [np.inf] * trips
    half, eye, entry = _half(still, side), _eye(view, side), view.distance_mm + still.front.depth_mm - space.before_mm
    ends = sorted({end for stretch in space.side for end in zip(stretch.inset_mm, stretch.behind_mm, strict=True)})
    found, narrowest = [], np.inf
    for order in range(2 * trips - 1):
        for inset, behind in ends:
            unfolded = order * space.gap_mm + (space.gap_mm - behind if order % 2 else behind)
            narrowest = min(narrowest, slope_to(half - inset - eye, entry + unfolded, (still.front,)))
        if order % 2 == 0:
            found.append(narrowest)
    return found


def _half(still: Still, side: str) -> float:
    return (still.frame.width_mm if side in ("left", "right") else still.frame.height_mm) / 2


def _eye(view: View, side: str) -> float:
    x, y = OUTWARD[side]
    return view.x_mm * x + view.y_mm * y


def _strip_inset(still: Still) -> float:
    assert still.space is not None
    return max(inset for stretch in still.space.side for inset in stretch.inset_mm)


def _light(still: Still, view: View, side: str, seen: list[_Seen], along: Real) -> Real:
    """Light (stretches, grid, 6): strip in the first three channels, lit wood in the last three."""
    space, strip = still.space, still.strip
    assert space is not None
    assert strip is not None
    across = np.array([(max(one.inner, 0.0) + one.outer) / 2 for one in seen])[:, None]
    colours = wall_rgb(still, slope=np.hypot(across, along), order=np.array([one.order for one in seen])[:, None])
    reach = _half(still, side) - _strip_inset(still) - _eye(view, side)
    place = (view.y_mm if side in ("left", "right") else view.x_mm) + along * reach / np.maximum(across, 1e-9)
    half = _half(still, "top" if side in ("left", "right") else "right") - _strip_inset(still)
    wood = [space.wood / pi * ring_lx(still, side, height_mm=sum(one.behind_mm) / 2, place_mm=half * PLACES) for one in space.side]
    found = np.zeros((len(seen), GRID, 6))
    for k, one in enumerate(seen):
        if one.stretch is None:
            continue
        if space.side[one.stretch].face is Face.STRIP:
            found[k, :, :3] = strip.luminance_cd_m2 * colours[k]
        else:
            found[k, :, 3:] = colours[k] * np.interp(place[k], half * PLACES, wood[one.stretch])[:, None]
    return found


def wall_rgb(still: Still, *, slope: Real, order: NDArray[np.intp]) -> Real:
    """Linear sRGB (..., 3) of a wall of 1 cd/m2 with the strip's spectrum, after so many mirrors."""
    table = still.table.walls[0].mean(axis=0) @ XYZ_TO_SRGB.T
    grid = still.table.incidence_deg
    at = np.clip(np.degrees(np.arctan(slope)) / (grid[1] - grid[0]), 0, grid.size - 1)
    low = np.minimum(at.astype(np.intp), grid.size - 2)
    part = (at - low)[..., None]
    return np.asarray(table[low, order] * (1 - part) + table[low + 1, order] * part)


def ring_lx(still: Still, side: str, *, height_mm: float, place_mm: Real) -> Real:
    """Illuminance on a side wall from the strips on the three other walls and all their images.

    Opposite: L w W^2 integral dy/(W^2 + y^2 + z^2)^2. Beside, at a distance a: L w a/2 (1/(a^2 + z^2) - 1/(a^2 + z^2 + W^2)), Lambert's
    law for a long narrow strip. Derived. Light between the walls themselves is left out.
    """
    space, strip = still.space, still.strip
    assert space is not None
    assert strip is not None
    upright = side in ("left", "right")
    across = 2 * (_half(still, side) - _strip_inset(still))
    half = _half(still, "top" if upright else "right") - _strip_inset(still)
    lit = strip.half_up_mm if upright else strip.half_across_mm
    place = np.clip(place_mm, -half, half)
    total = np.zeros_like(place)
    for away, weight in _images(still, height_mm):
        square = across**2 + away**2
        far, near = lit - place, -lit - place
        root = np.sqrt(square)
        inner = [y / (2 * square * (square + y**2)) + np.arctan(y / root) / (2 * square * root) for y in (far, near)]
        total += weight * across**2 * (inner[0] - inner[1])
        for gap in (half - place, half + place):
            a = np.maximum(gap, 1.0)
            flat = a**2 + max(away**2, 16.0)
            total += weight * a / 2 * (1 / flat - 1 / (flat + across**2))
    width = sum(abs(s.behind_mm[1] - s.behind_mm[0]) for s in space.side if s.face is Face.STRIP)
    return np.asarray(strip.luminance_cd_m2 * width * total)


def _images(still: Still, height_mm: float) -> Iterator[tuple[float, float]]:
    """Heights of the strip's images over a point between the sheets, and what the mirrors leave of them."""
    space = still.space
    assert space is not None
    gap = space.gap_mm
    middles = [sum(s.behind_mm) / 2 for s in space.side if s.face is Face.STRIP and s.inset_mm[0] == s.inset_mm[1]]
    at = middles[0] if middles else gap / 2
    yield at - height_mm, 1.0
    walls = still.table.walls[0, :, 0, :3, 1].mean(axis=0)
    rear = walls[1] / walls[0]
    front = walls[2] / walls[1] if walls[1] > 0 else 0.0
    for first, second, sign in ((rear, front, 1), (front, rear, -1)):
        weight = 1.0
        for k in range(1, 15):
            weight *= first if k % 2 else second
            if sign > 0:
                place = (k + 1) * gap - at if k % 2 else k * gap + at
            else:
                place = -(k - 1) * gap - at if k % 2 else -k * gap + at
            yield place - height_mm, weight


def diodes(place_mm: Real, footprint_mm: Real, spread_mm: Real, *, pitch_mm: float, bell_mm: float) -> Real:
    """Brightness along a row of diodes about a mean of 1, each a bell of ``bell_mm``.

    Averaged over a footprint, and over places that lie about the middle one with a standard deviation of ``spread_mm``.
    """
    found = np.ones_like(place_mm)
    turn = 2 * np.pi / pitch_mm
    square = bell_mm**2 + spread_mm**2
    for k in range(1, HARMONICS + 1):
        if 2 * np.exp(-((k * turn * bell_mm) ** 2) / 2) < 1e-3:
            break
        depth = 2 * np.exp(-square * (k * turn) ** 2 / 2)
        found = found + depth * np.sinc(k * footprint_mm / pitch_mm) * np.cos(k * turn * place_mm)
    return np.maximum(found, 0.0)
