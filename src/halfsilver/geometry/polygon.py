"""Closed polygons in a plane: area, centroid, clipping by a half plane, chords.

A polygon is a tuple of (x, y) corners; the last joins the first. Millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]
Polygon: TypeAlias = tuple[Point, ...]


def edges(polygon: Polygon) -> Iterator[tuple[Point, Point]]:
    """Yield each side as its two corners."""
    yield from zip(polygon, (*polygon[1:], polygon[0]), strict=True)


def area_mm2(polygon: Polygon) -> float:
    """Area by the shoelace formula, positive whichever way the corners run. [mm2]

    >>> area_mm2(((0, 0), (4, 0), (4, 3), (0, 3)))
    12.0
    """
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in edges(polygon))) / 2


def centroid_mm(polygon: Polygon) -> Point:
    """Centroid of the area. [mm]

    >>> centroid_mm(((0, 0), (4, 0), (4, 2), (0, 2)))
    (2.0, 1.0)
    """
    crosses = [(x0 * y1 - x1 * y0, x0 + x1, y0 + y1) for (x0, y0), (x1, y1) in edges(polygon)]
    twice = sum(cross for cross, _, _ in crosses)
    return sum(c * x for c, x, _ in crosses) / (3 * twice), sum(c * y for c, _, y in crosses) / (3 * twice)


def above(polygon: Polygon, *, level_mm: float) -> Polygon:
    """The part of the polygon with y at least ``level_mm`` (Sutherland and Hodgman 1974, one half plane). [mm]"""
    kept: list[Point] = []
    for (x0, y0), (x1, y1) in edges(polygon):
        if y0 >= level_mm:
            kept.append((x0, y0))
        if (y0 >= level_mm) != (y1 >= level_mm):
            share = (level_mm - y0) / (y1 - y0)
            kept.append((x0 + share * (x1 - x0), level_mm))
    return tuple(dict.fromkeys(kept))


def crossings_y_mm(polygon: Polygon, *, x_mm: float) -> tuple[float, ...]:
    """Where the vertical line at ``x_mm`` crosses the outline, in rising order. [mm]"""
    found = []
    for (x0, y0), (x1, y1) in edges(polygon):
        if (x0 <= x_mm) != (x1 <= x_mm):
            found.append(y0 + (x_mm - x0) / (x1 - x0) * (y1 - y0))
    return tuple(sorted(found))


def swapped(polygon: Polygon) -> Polygon:
    """The polygon with its axes exchanged."""
    return tuple((y, x) for x, y in polygon)


def is_simple(polygon: Polygon) -> bool:
    """Whether no two sides cross or touch except neighbours at their common corner."""
    return first_crossing(polygon) is None and len(set(polygon)) == len(polygon)


def first_crossing(polygon: Polygon) -> tuple[int, int] | None:
    """The first two sides that cross or touch though they are no neighbours, each by its first corner's number; None if none do."""
    sides = list(edges(polygon))
    count = len(sides)
    for i in range(count):
        for j in range(i + 2, count):
            if not (i == 0 and j == count - 1) and _cross(*sides[i], *sides[j]):
                return i, j
    return None


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _within(a: Point, b: Point, c: Point) -> bool:
    return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    t1, t2, t3, t4 = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if t1 * t2 < 0 and t3 * t4 < 0:
        return True
    return any(t == 0 and _within(*side, point) for t, side, point in ((t1, (a, b), c), (t2, (a, b), d), (t3, (c, d), a), (t4, (c, d), b)))
