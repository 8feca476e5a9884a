"""Hatch lines, clipped to the shape they fill; everything in millimetres of the paper, same input, same lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import cycle
from math import atan2, ceil, cos, degrees, floor, hypot, radians, sin, sqrt

from halfsilver.drawing.scene import Point
from halfsilver.drawing.style import Filling, Pattern

Loops = Sequence[Sequence[Point]]
Segment = tuple[Point, Point]
# Grain and growth rings are drawn with uneven distances and lengths, taken in turn.
UNEVEN = (1.0, 0.75, 1.3, 0.9, 1.15, 0.7, 1.2)
GRAIN_RUN = (26.0, 41.0, 17.0, 33.0, 22.0, 48.0)
GRAIN_REST = (2.2, 3.4, 1.6)


def hatch_segments(loops: Loops, filling: Filling, *, angle_deg: float | None = None) -> tuple[Segment, ...]:
    """Straight hatch lines inside a shape; none for patterns of arcs or dots.

    Parameters
    ----------
    loops : sequence of loops
        Outer boundary and holes. [mm]
    filling : Filling
        Which pattern, how far apart.
    angle_deg : float, optional
        Direction instead of the filling's own. [deg]

    Returns
    -------
    tuple of Segment
        Ends of each line. [mm]
    """
    angle = filling.angle_deg if angle_deg is None else angle_deg
    match filling.pattern:
        case Pattern.LINES:
            return tuple(scan(loops, angle_deg=angle, steps=(filling.spacing_mm,)))
        case Pattern.PAIRS:
            return tuple(scan(loops, angle_deg=angle, steps=(0.9, filling.spacing_mm - 0.9)))
        case Pattern.GRAIN:
            angle = 0.0 if angle_deg is None else angle
            steps = tuple(filling.spacing_mm * u for u in UNEVEN)
            return tuple(_rested(scan(loops, angle_deg=angle, steps=steps)))
        case Pattern.STROKES:
            return tuple(_glass(loops, filling, angle))
        case _:
            return ()


def scan(loops: Loops, *, angle_deg: float, steps: Sequence[float], first: float = 0.55) -> Iterator[Segment]:
    """Parallel lines through a shape, ``steps`` apart by turns, beginning ``first`` of a step from its edge."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    turned = [[(x * c + y * s, y * c - x * s) for x, y in loop] for loop in loops]
    ys = [y for loop in turned for _, y in loop]
    level, top = min(ys) + first * steps[0], max(ys)
    for step in cycle(steps):
        if level >= top:
            return
        for a, b in _crossings(turned, level):
            yield ((a * c - level * s, a * s + level * c), (b * c - level * s, b * s + level * c))
        level += step


def _crossings(loops: Loops, level: float) -> Iterator[tuple[float, float]]:
    cuts: list[float] = []
    for loop in loops:
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=False):
            if (y0 <= level) != (y1 <= level):
                cuts.append(x0 + (level - y0) * (x1 - x0) / (y1 - y0))
    cuts.sort()
    yield from zip(cuts[::2], cuts[1::2], strict=False)


def _rested(lines: Iterable[Segment]) -> Iterator[Segment]:
    """Long lines broken now and then, so that they read as grain."""
    for k, ((x0, y0), (x1, y1)) in enumerate(lines):
        length = hypot(x1 - x0, y1 - y0)
        along, n = -GRAIN_RUN[k * 5 % 6] * 0.6, k
        while along < length:
            start, along = along, along + GRAIN_RUN[n % 6]
            a, b = max(start, 0.0) / length, min(along, length) / length
            if b > a:
                yield ((x0 + a * (x1 - x0), y0 + a * (y1 - y0)), (x0 + b * (x1 - x0), y0 + b * (y1 - y0)))
            along, n = along + GRAIN_REST[n % 3], n + 1


def _glass(loops: Loops, filling: Filling, angle_deg: float) -> Iterator[Segment]:
    """Threes of short strokes: two places in a wide pane, now and then along a narrow one."""
    xs, ys = [x for loop in loops for x, _ in loop], [y for loop in loops for _, y in loop]
    thin = min(max(xs) - min(xs), max(ys) - min(ys))
    if thin >= 12.0:
        yield from _strokes_in_field(loops, angle_deg, reach=min(thin / 4.0, 10.0))
    elif thin >= 0.8:
        yield from scan(loops, angle_deg=angle_deg, steps=(0.7, 0.7, filling.spacing_mm))


def _strokes_in_field(loops: Loops, angle_deg: float, *, reach: float) -> Iterator[Segment]:
    xs, ys = [x for loop in loops for x, _ in loop], [y for loop in loops for _, y in loop]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    for fx, fy in ((0.22, 0.74), (0.78, 0.26)):
        cx, cy = min(xs) + fx * width, min(ys) + fy * height
        for across, half in ((-reach * 0.22, 0.35), (0.0, 0.5), (reach * 0.22, 0.3)):
            x, y = cx - across * s, cy + across * c
            yield ((x - half * reach * c, y - half * reach * s), (x + half * reach * c, y + half * reach * s))


def dots(loops: Loops, *, spacing_mm: float) -> Iterator[Point]:
    """Centres of a staggered field of dots inside a shape."""
    ys = [y for loop in loops for _, y in loop]
    row_mm = spacing_mm * 0.75
    rows = max(1, floor((max(ys) - min(ys)) / row_mm))
    start = min(ys) + ((max(ys) - min(ys)) - (rows - 1) * row_mm) / 2.0
    for k in range(rows):
        level = start + k * row_mm
        for a, b in _crossings(loops, level):
            first = ceil((a + 0.25) / spacing_mm - 0.5 * (k % 2))
            x = (first + 0.5 * (k % 2)) * spacing_mm
            while x < b - 0.25:
                yield (x, level)
                x += spacing_mm


def rings(loops: Loops, *, spacing_mm: float) -> Iterator[tuple[Point, float, float, float]]:
    """Growth rings of end grain: centre, radius, start and end of each arc inside the shape. [mm, deg]"""
    xs, ys = [x for loop in loops for x, _ in loop], [y for loop in loops for _, y in loop]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    pith = (min(xs) + 0.36 * width, min(ys) - 0.45 * max(width, height) - 4.0)
    far = max(hypot(x - pith[0], y - pith[1]) for loop in loops for x, y in loop)
    radius = 2.0
    for uneven in cycle(UNEVEN):
        radius += spacing_mm * uneven
        if radius > far:
            return
        for start, end in _arcs_inside(loops, pith, radius):
            yield (pith, radius, start, end)


def _arcs_inside(loops: Loops, centre: Point, radius: float) -> Iterator[tuple[float, float]]:
    angles = sorted({round(a, 9) for loop in loops for a in _meetings(loop, centre, radius)})
    for start, end in zip(angles, [*angles[1:], angles[0] + 360.0] if angles else [], strict=False):
        middle = radians((start + end) / 2.0)
        if (end - start) * radius > 15.0 and inside(loops, (centre[0] + radius * cos(middle), centre[1] + radius * sin(middle))):
            yield (start, end)


def _meetings(loop: Sequence[Point], centre: Point, radius: float) -> Iterator[float]:
    """Angles at which a circle meets the edges of a loop. [deg]"""
    for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=False):
        ax, ay, dx, dy = x0 - centre[0], y0 - centre[1], x1 - x0, y1 - y0
        a, b, c = dx * dx + dy * dy, ax * dx + ay * dy, ax * ax + ay * ay - radius * radius
        root = b * b - a * c
        if a <= 0.0 or root < 0.0:
            continue
        for t in ((-b - sqrt(root)) / a, (-b + sqrt(root)) / a):
            if 0.0 <= t <= 1.0:
                yield degrees(atan2(ay + t * dy, ax + t * dx))


def inside(loops: Loops, p: Point) -> bool:
    """Whether a point lies inside a shape, holes taken out."""
    return any(a <= p[0] <= b for a, b in _crossings(loops, p[1]))
