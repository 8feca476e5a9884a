"""Thin lines are interrupted where they would run through a text, so that every text stands on clear ground."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from halfsilver.drawing.ink import Ink, InkGroup, InkPath, InkText
from halfsilver.drawing.scene import Point
from halfsilver.drawing.style import Role

GIVES_WAY = frozenset({Role.EXTENSION, Role.CENTRE, Role.HATCH, Role.SIGHT, Role.LEADER})
PAD_MM = 0.6
Quad = tuple[Point, Point, Point, Point]


@dataclass(frozen=True, slots=True)
class Boxed:
    """A rectangle of any direction with the upright one round it: most lines pass by the latter already. [mm]"""

    quad: Quad
    left: float
    bottom: float
    right: float
    top: float

    def is_near(self, segment: tuple[Point, Point]) -> bool:
        """Whether a segment does not pass beside the upright rectangle."""
        (ax, ay), (bx, by) = segment
        return not (
            (ax < self.left and bx < self.left)
            or (ax > self.right and bx > self.right)
            or (ay < self.bottom and by < self.bottom)
            or (ay > self.top and by > self.top)
        )


def boxed(quad: Quad) -> Boxed:
    """A rectangle with the upright one round it."""
    xs, ys = zip(*quad, strict=True)
    return Boxed(quad, min(xs), min(ys), max(xs), max(ys))


def interrupted(items: Iterable[Ink], texts: Sequence[InkText]) -> tuple[Ink, ...]:
    """The same ink with extension, centre, sight, hatch and (as a last resort) leader lines cut out behind texts."""
    boxes = [boxed(text.corners(pad_mm=PAD_MM)) for text in texts]
    return tuple(_cut(item, boxes) for item in items)


def _cut(item: Ink, boxes: Sequence[Boxed]) -> Ink:
    if isinstance(item, InkGroup):
        return replace(item, items=tuple(_cut(inner, boxes) for inner in item.items))
    if not isinstance(item, InkPath) or item.role not in GIVES_WAY or item.closed:
        return item
    xs = [x for chain in item.chains for x, _ in chain]
    ys = [y for chain in item.chains for _, y in chain]
    if not xs:
        return item
    left, bottom, right, top = min(xs), min(ys), max(xs), max(ys)
    near = [b for b in boxes if b.left <= right and b.right >= left and b.bottom <= top and b.top >= bottom]
    if not near:
        return item
    segments = [(a, b) for chain in item.chains for a, b in itertools.pairwise(chain)]
    for box in near:
        segments = [piece for segment in segments for piece in (outside(segment, box.quad) if box.is_near(segment) else (segment,))]
    return replace(item, chains=tuple(segments))


def outside(segment: tuple[Point, Point], quad: Quad) -> list[tuple[Point, Point]]:
    """The parts of a segment that lie outside a rectangle of any direction."""
    span = span_inside(segment, quad)
    if span is None:
        return [segment]
    (x0, y0), (x1, y1) = segment
    low, high = span

    def at(t: float) -> Point:
        return (x0 + t * (x1 - x0), y0 + t * (y1 - y0))

    pieces = [((x0, y0), at(low))] if low > 1e-9 else []
    return pieces + ([(at(high), (x1, y1))] if high < 1.0 - 1e-9 else [])


def span_inside(segment: tuple[Point, Point], quad: Quad) -> tuple[float, float] | None:
    """Share of the way at which a segment enters and leaves a convex shape with anticlockwise corners; None if it misses."""
    (x0, y0), (x1, y1) = segment
    dx, dy = x1 - x0, y1 - y0
    low, high = 0.0, 1.0
    for (ax, ay), (bx, by) in zip(quad, (*quad[1:], quad[0]), strict=False):
        nx, ny = by - ay, ax - bx
        start, rate = nx * (x0 - ax) + ny * (y0 - ay), nx * dx + ny * dy
        if abs(rate) < 1e-12:
            if start >= 0.0:
                return None
        elif rate > 0.0:
            high = min(high, -start / rate)
        else:
            low = max(low, -start / rate)
    return (low, high) if low < high else None
