"""Light on the matt walls of an ideal scene: straight from band and screen in closed form, then from wall to wall.

Between parallel mirrors a wall sees every image of the other walls whole, because the unfolded space is a straight shaft. Each image is a
rectangle, and the illuminance from an even rectangle on a point is a sum of arc tangents along its edges (Lambert). What the
walls pass on among themselves is smooth and gathered along a fixed set of directions.

Heights z are above the rear sheet; negative ones lie between rear sheet and screen. Walls in order: right, left, top, bottom.
Light is a complex number here: the real part is what a band of unit radiance gives, the imaginary part what the screen gives. Both
go the same ways, so one look-up and one sum serve the two.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from math import ceil, log

import numpy as np
from numpy.typing import NDArray

from halfsilver.optics.each import Each
from halfsilver.optics.scene import Scene

Real = NDArray[np.float64]
Light = NDArray[np.complex128]
Whole = NDArray[np.intp]

ALONG, UP = 65, 9  # points of the table along a wall, and up each of its three zones
THIN = 2  # of those along a wall, every so many pass light on to other walls
COARSE = 4  # every so many points of that thinner table are gathered from
MOST_SQUARES = 600
SHARP_WITHIN = 1.5  # sides of a square: a wave of squares has faded by exp(-2 pi 1.5 sqrt(2)/2) to 0.1 % at that distance
DIRECTIONS = 233  # a Fibonacci number, and 144 the one before it
MOST_BOUNCES, LEAST_BOUNCE = 60, 1e-4
LEAST_WEIGHT, MOST_IMAGES = 1e-4, 240


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Walls:
    """Radiance of the walls, and how to look it up.

    Parameters
    ----------
    scene : Scene
        What it belongs to.
    radiance : array, shape (4, 3, UP, ALONG)
        Wall, zone (behind the rear sheet, below the band, above it), height, place along the wall.
    """

    scene: Scene
    radiance: Light

    def at(self, wall: Whole, along: Real, height: Real) -> Light:
        """Radiance of points on the walls; inside the band that of the nearer edge."""
        corner, up, side = _cell(self.scene, wall, along, height)
        table = self.radiance.ravel()
        lower, upper = (table.take(one) + side * (table.take(one + 1) - table.take(one)) for one in (corner, corner + ALONG))
        return np.asarray(lower + up * (upper - lower))


def walls(scene: Scene, *, each: Each = map) -> Walls:
    """Light of band and screen on the walls, all bounces between walls included.

    ``each`` maps a function over the parts of the work; ``Executor.map`` spreads them over threads.
    """
    given = scene.wall.reflectance / np.pi
    if given == 0:
        return Walls(scene=scene, radiance=np.zeros((4, 3, UP, ALONG), dtype=np.complex128))
    # A pool takes on all of it at once; `map` does each when it is asked for.
    bands = each(partial(_from_band, scene), (0, 2))
    screens, passes = (each(partial(work, scene), range(4)) for work in (_from_screen, _passed))
    total = np.empty((4, 3, UP, ALONG), dtype=np.complex128)
    total.real, total.imag = np.repeat(np.array(list(bands)), 2, axis=0), np.array(list(screens))
    total *= given
    passed = np.concatenate(list(passes))
    last = total
    for _ in range(MOST_BOUNCES):
        # The two fields as two columns: a real matrix on complex numbers would first be made complex itself.
        light = passed @ np.ascontiguousarray(last[..., ::THIN]).reshape(-1, 1).view(float)
        last = _spread(np.ascontiguousarray(light).view(complex).reshape(4, 3, _few(UP), _few(_thin()))) * given
        total = total + last
        if np.abs(last).sum() < LEAST_BOUNCE * np.abs(total).sum():
            break
    return Walls(scene=scene, radiance=total)


def _few(count: int, every: int = COARSE) -> int:
    return (count - 1) // every + 1


def _thin() -> int:
    return _few(ALONG, THIN)


def _cell(scene: Scene, wall: Whole, along: Real, height: Real, points: int = ALONG) -> tuple[Whole, Real, Real]:
    """Lower left corner in a flat table of so many points along each wall of the cell that holds each point, and how far up and along."""
    low, high = zones(scene)
    zone: Whole = (height >= 0).astype(np.intp) + (height >= (scene.band.start_mm + scene.band.end_mm) / 2)
    length = np.array([scene.height_mm, scene.height_mm, scene.width_mm, scene.width_mm])
    up, up_part = _place((height - low[zone]) * (1 / (high - low))[zone], UP)
    side, side_part = _place(along * (1 / length)[wall] + 0.5, points)
    corner: Whole = ((wall * 3 + zone) * UP + up) * points + side
    return corner, up_part, side_part


def zones(scene: Scene) -> tuple[Real, Real]:
    """Lower and upper end of the three zones; an empty zone keeps a hair's height."""
    low = np.array([-scene.screen.behind_mm, 0.0, scene.band.end_mm])
    high = np.array([0.0, scene.band.start_mm, scene.gap_mm])
    return low, np.maximum(high, low + 1e-6)


def segment_weights(first: float, second: float) -> Real:
    """1, first, first second, first second first, ...: what mirrors met in turn leave, until nothing counts."""
    loop = first * second
    if loop <= 0:
        return np.array([1.0, first])
    count = MOST_IMAGES if loop >= 1 else min(2 * ceil(log(LEAST_WEIGHT) / log(loop)) + 2, MOST_IMAGES)
    return np.asarray(np.cumprod(np.concatenate(([1.0], np.tile([first, second], count // 2)))), dtype=float)


# The table's points lie closer towards the ends of each axis, where light changes fast; they are those of a cosine.


def _points(count: int) -> Real:
    return (1 - np.cos(np.pi * np.arange(count) / (count - 1))) / 2


def _place(share: Real, count: int) -> tuple[Whole, Real]:
    found = np.arccos(1 - 2 * np.clip(share, 0.0, 1.0)) * ((count - 1) / np.pi)
    low = np.minimum(found.astype(np.intp), count - 2)
    return low, np.asarray(found - low)


def _sizes(scene: Scene, wall: int) -> tuple[float, float]:
    """Length of a wall and the distance of the one opposite."""
    return (scene.height_mm, scene.width_mm) if wall < 2 else (scene.width_mm, scene.height_mm)


# Direct light --------------------------------------------------------------------------------------------------------------------


def _from_band(scene: Scene, wall: int) -> Real:
    """Illuminance (3, UP, ALONG) on a wall from all images of a band of unit radiance."""
    length, across = _sizes(scene, wall)
    along = (_points(ALONG) - 0.5) * length
    found = np.zeros((3, UP, ALONG))
    for zone, height in enumerate(_heights(scene)):
        start, end, weight = np.array(list(_rear_images(scene) if zone == 0 else _images(scene))).T[:, :, None, None]
        found[zone] = (weight * _from_shaft(along, length, across, start - height[:, None], end - height[:, None])).sum(axis=0)
    return found


def _from_screen(scene: Scene, wall: int) -> Real:
    """Illuminance (3, UP, ALONG) on a wall from all images of the chequered screen."""
    length, across = _sizes(scene, wall)
    along = (_points(ALONG) - 0.5) * length
    even = np.array([0.0, across]), np.array([0.0, length]), np.array([[sum(scene.screen.levels) / 2]])
    many = ceil(length / scene.screen.checker_mm) * ceil(across / scene.screen.checker_mm) > MOST_SQUARES
    squares = even if many else _squares(scene, wall)
    found = np.zeros((3, UP, ALONG))
    for zone, height in enumerate(_heights(scene)):
        place, weight = np.array(list(_rear_screens(scene) if zone == 0 else _screens(scene))).T
        away = np.maximum(np.abs(place[:, None, None] - height[:, None]), 1e-6)
        sharp = away.min(axis=(1, 2)) < SHARP_WITHIN * scene.screen.checker_mm
        for rows, edges in ((sharp, squares), (~sharp, even)):
            found[zone] += (weight[rows, None, None] * _from_floor(along + length / 2, away[rows], *edges)).sum(axis=0)
    return found


def _heights(scene: Scene) -> Iterator[Real]:
    return (low + (high - low) * _points(UP) for low, high in zip(*zones(scene), strict=True))


def _images(scene: Scene) -> Iterator[tuple[float, float, float]]:
    """Images of the band for a point between the sheets: lower edge, upper edge, weight."""
    gap, band = scene.gap_mm, scene.band
    for sign, weights in (
        (1, segment_weights(scene.front.R, scene.rear.R)),
        (-1, segment_weights(scene.rear.R, scene.front.R)),
    ):
        for k, weight in enumerate(weights):
            if k == 0 and sign < 0:
                continue
            order = sign * k
            if k % 2:
                yield (order + 1) * gap - band.end_mm, (order + 1) * gap - band.start_mm, weight
            else:
                yield order * gap + band.start_mm, order * gap + band.end_mm, weight


def _rear_images(scene: Scene) -> Iterator[tuple[float, float, float]]:
    """The same for a point behind the rear sheet, which sees the band through it."""
    gap, band = scene.gap_mm, scene.band
    for k, weight in enumerate(segment_weights(scene.front.R, scene.rear.R) * scene.rear.T):
        if k % 2:
            yield (k + 1) * gap - band.end_mm, (k + 1) * gap - band.start_mm, weight
        else:
            yield k * gap + band.start_mm, k * gap + band.end_mm, weight


def _screens(scene: Scene) -> Iterator[tuple[float, float]]:
    """Images of the screen for a point between the sheets: height, weight."""
    gap, behind, through = scene.gap_mm, scene.screen.behind_mm, scene.rear.T
    for k, weight in enumerate(segment_weights(scene.front.R, scene.rear.R)):
        if k % 2:
            yield (k + 1) * gap + behind, weight * through
    for k, weight in enumerate(segment_weights(scene.rear.R, scene.front.R)):
        if k % 2 == 0:
            yield -k * gap - behind, weight * through


def _rear_screens(scene: Scene) -> Iterator[tuple[float, float]]:
    gap, behind, through = scene.gap_mm, scene.screen.behind_mm, scene.rear.T
    yield -behind, 1.0
    yield behind, scene.rear.R
    for k, weight in enumerate(segment_weights(scene.front.R, scene.rear.R)):
        if k % 2:
            yield (k + 1) * gap + behind, weight * through**2


def _from_shaft(along: Real, length: float, across: float, start: Real, end: Real) -> Real:
    """Illuminance from a ring of unit radiance round the shaft, the point's own wall lying in its plane and giving none.

    ``start`` and ``end`` are heights relative to the point.
    """
    left, right = -length / 2 - along, length / 2 - along
    found = _edge(across, end, left, right) - _edge(across, start, left, right)
    found = found + _edge(across, right, start, end) - _edge(across, left, start, end)
    for side in (right, -left):
        near = np.maximum(side, 1e-6)
        far = np.hypot(near, across)
        found = found + (np.arctan2(end, near) - np.arctan2(start, near))
        found = found - near / far * (np.arctan2(end, far) - np.arctan2(start, far))
    return np.asarray(found / 2)


def _edge(across: float, place: Real, start: Real, end: Real) -> Real:
    far = np.hypot(across, place)
    return np.asarray(place / far * (np.arctan2(end, far) - np.arctan2(start, far)))


def _from_floor(along: Real, away: Real, inward: Real, sideways: Real, level: Real) -> Real:
    """Illuminance from a floor of rectangles so far above or below the points, square to their wall.

    Each rectangle counts with its four corners; the corners that rectangles share are reckoned once.
    """
    corners = np.diff(np.diff(np.pad(level, 1), axis=0), axis=1)
    apart = sideways[:, None, None, None] - along
    found = np.zeros(np.broadcast_shapes(away.shape, along.shape))
    for edge, counts in zip(inward, corners, strict=True):
        near = np.hypot(edge, away)
        found -= away / near * np.tensordot(counts, np.arctan(apart / near), axes=1)
    return found / 2


def _squares(scene: Scene, wall: int) -> tuple[Real, Real, Real]:
    """Edges of the squares inwards from a wall and along it, and the level of each square."""
    length, across = _sizes(scene, wall)
    square = scene.screen.checker_mm
    inward, sideways = (np.append(np.arange(0, size - 1e-9, square), size) for size in (across, length))
    parity = (np.arange(inward.size - 1)[:, None] + np.arange(sideways.size - 1)) % 2
    level = np.where(parity == 0, *scene.screen.levels)
    if wall % 2 == 0:  # right and top walls lie at the far end of the first axis
        inward, level = across - inward[::-1], level[::-1]
    return inward, sideways, level


# Light from wall to wall ---------------------------------------------------------------------------------------------------------


def _passed(scene: Scene, wall: int) -> Real:
    """Illuminance of a wall's coarse points as a matrix on the radiance of the thinner table."""
    normal, sideways, upward = _directions()
    zone, row, column = (one.reshape(-1, 1) for one in np.indices((3, _few(UP), _few(_thin()))))
    up, side = _points(UP)[COARSE * row], _points(_thin())[COARSE * column]
    low, high = zones(scene)
    height = low[zone] + (high - low)[zone] * up
    x, y, right, top = _launched(scene, wall, side, normal, sideways)
    slope_x, slope_y = right / np.abs(upward), top / np.abs(upward)
    point = np.arange(zone.size)[:, None]
    size = 12 * UP * _thin()
    hits = []
    for chosen, follow in ((zone > 0, _between), (zone == 0, _behind)):
        for rising in (False, True):
            take = chosen & ((upward > 0) == rising)
            start = [np.broadcast_to(one, take.shape)[take] for one in (x, y, slope_x, slope_y, height)]
            rows = np.broadcast_to(point, take.shape)[take]
            for struck_wall, along, place, weight in follow(scene, rising, *start):
                corner, *parts = _cell(scene, struck_wall, along, place, _thin())
                hits.append((rows * size + corner, *parts, weight))
    return _summed(*map(np.concatenate, zip(*hits, strict=True)), size=zone.size * size).reshape(-1, size) * (np.pi / DIRECTIONS)


def _summed(corner: Whole, up: Real, side: Real, weight: Real, *, size: int) -> Real:
    """Weights of all hits gathered in a flat table, each shared between the four corners of its cell."""
    found = np.zeros(size)
    for step, share in ((0, (1 - up) * (1 - side)), (1, (1 - up) * side), (_thin(), up * (1 - side)), (_thin() + 1, up * side)):
        found += np.bincount(corner + step, weights=weight * share, minlength=size)
    return found


def _directions() -> tuple[Real, Real, Real]:
    """Cosine-weighted directions over a half space (a Fibonacci lattice): along the normal, along the wall, upwards."""
    index = np.arange(DIRECTIONS)
    radius, turn = np.sqrt((index + 0.5) / DIRECTIONS), 2 * np.pi * (index * 144 % DIRECTIONS + 0.25) / DIRECTIONS
    return np.sqrt(1 - radius**2), radius * np.cos(turn), radius * np.sin(turn)


def _launched(scene: Scene, wall: int, side: Real, normal: Real, sideways: Real) -> tuple[Real, Real, Real, Real]:
    """Start x, y and direction x, y of a wall's rays."""
    sign = 1.0 if wall % 2 == 0 else -1.0
    length, across = _sizes(scene, wall)
    away, along = np.full_like(side, sign * across / 2), (side - 0.5) * length
    return (away, along, -sign * normal, sideways) if wall < 2 else (along, away, sideways, -sign * normal)


def struck(scene: Scene, x: Real, y: Real, slope_x: Real, slope_y: Real) -> tuple[Real, Whole, Real]:
    """Depth travelled to the wall, which wall, and where along it, for lines x + slope_x d, y + slope_y d."""
    with np.errstate(divide="ignore", invalid="ignore"):
        depth_x = (np.copysign(scene.width_mm / 2, slope_x) - x) / slope_x
        depth_y = (np.copysign(scene.height_mm / 2, slope_y) - y) / slope_y
    upright = depth_x < depth_y
    depth = np.where(upright, depth_x, depth_y)
    wall = np.where(upright, slope_x < 0, 2 + (slope_y < 0)).astype(np.intp)
    return depth, wall, np.where(upright, y + slope_y * depth, x + slope_x * depth)


Hit = tuple[Whole, Real, Real, Real]


def _between(scene: Scene, rising: bool, x: Real, y: Real, slope_x: Real, slope_y: Real, height: Real) -> Iterator[Hit]:
    """What a falling or rising direction sees from between the sheets: wall, place along it, height, weight.

    Depth counts from the front sheet, unfolded: a rising ray is one that has just left the rear sheet.
    """
    gap = scene.gap_mm
    travelled, wall, along = struck(scene, x, y, slope_x, slope_y)
    segments = segment_weights(scene.rear.R, scene.front.R)
    if rising:
        segments = np.append(0.0, segment_weights(scene.front.R, scene.rear.R))
    depth = travelled + (gap + height if rising else gap - height)
    return _along_depth(scene, depth, wall, along, segments, segments[::2] * scene.rear.T)


def _behind(scene: Scene, rising: bool, x: Real, y: Real, slope_x: Real, slope_y: Real, height: Real) -> Iterator[Hit]:
    """The same from behind the rear sheet. Falling, the ray ends at wall or screen; rising, it meets the sheet from behind."""
    gap = scene.gap_mm
    travelled, wall, along = struck(scene, x, y, slope_x, slope_y)
    place = height + (travelled if rising else -travelled)
    open_ = (place < 0) & (place > -scene.screen.behind_mm)
    yield wall, along, np.minimum(place, -1e-9), open_.astype(float)
    if rising:
        segments = np.append(0.0, segment_weights(scene.front.R, scene.rear.R) * scene.rear.T)
        crossings = segments[::2] * scene.rear.T
        crossings[0] = scene.rear.R
        yield from _along_depth(scene, np.maximum(gap + place, gap), wall, along, segments, crossings, (place >= 0).astype(float))


def _along_depth(
    scene: Scene, depth: Real, wall: Whole, along: Real, segments: Real, crossings: Real, share: Real | float = 1.0
) -> Iterator[Hit]:
    gap = scene.gap_mm
    order = (np.minimum(depth, 1e9) / gap).astype(np.intp)
    part = depth - order * gap
    height = np.where(order % 2 == 0, gap - part, part)
    wall_there = (height <= scene.band.start_mm) | (height >= scene.band.end_mm)
    yield wall, along, np.maximum(height, 0.0), _take(segments, order) * wall_there * share
    for back in range(ceil(scene.screen.behind_mm / (2 * gap))):
        crossing = (order - 1) // 2 - back
        beyond = depth - (2 * crossing + 1) * gap
        inside = (crossing >= 0) & (beyond < scene.screen.behind_mm)
        yield wall, along, np.minimum(-beyond, -1e-9), _take(crossings, crossing) * inside * share


def _take(weights: Real, index: Whole) -> Real:
    return np.where(index < weights.size, weights[np.clip(index, 0, weights.size - 1)], 0.0)


def _spread(coarse: Light) -> Light:
    """Coarse values straight between their points, onto the whole table."""
    found = coarse
    for axis, count, every in ((2, UP, COARSE), (3, ALONG, COARSE * THIN)):
        place = np.arange(count) / every
        low = np.minimum(place.astype(int), found.shape[axis] - 2)
        part = (place - low).reshape([-1 if i == axis else 1 for i in range(4)])
        found = np.take(found, low, axis) * (1 - part) + np.take(found, low + 1, axis) * part
    return np.asarray(found)
