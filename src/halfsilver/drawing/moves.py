"""The same item at another place, or seen from behind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from halfsilver.drawing.scene import (
    Arc,
    Axis,
    BreakLine,
    Callouts,
    CentreLine,
    Circle,
    CoatedFace,
    Dimension,
    Group,
    Item,
    Leader,
    Line,
    Point,
    Polygon,
    Polyline,
    Side,
    Text,
)

MIRRORED_SIDE = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.ABOVE: Side.ABOVE, Side.BELOW: Side.BELOW}


def moved(item: Item, *, by_mm: Point) -> Item:
    """The same item at another place.

    Examples
    --------
    >>> moved(Line(start=(0, 0), end=(1, 0)), by_mm=(5, 2)).end
    (6, 2)
    """

    def shift(p: Point) -> Point:
        return (p[0] + by_mm[0], p[1] + by_mm[1])

    if isinstance(item, Dimension) and item.base_mm is not None:
        item = replace(item, base_mm=item.base_mm + by_mm[1 if item.axis is Axis.HORIZONTAL else 0])
    if isinstance(item, Group):
        return replace(item, items=tuple(moved(inner, by_mm=by_mm) for inner in item.items))
    return _mapped(item, shift)


def mirrored(item: Item, *, about_x_mm: float = 0.0) -> Item:
    """The same item seen from behind: left and right exchanged about a vertical line, texts still readable.

    Examples
    --------
    >>> mirrored(Line(start=(0, 0), end=(3, 0))).end
    (-3.0, 0)
    """

    def flip(p: Point) -> Point:
        return (2.0 * about_x_mm - p[0], p[1])

    match item:
        case Group():
            return replace(item, items=tuple(mirrored(inner, about_x_mm=about_x_mm) for inner in item.items))
        case Arc():
            return replace(item, centre=flip(item.centre), start_deg=180.0 - item.end_deg, end_deg=180.0 - item.start_deg)
        case Polygon() if item.grain_deg is not None:
            return _mapped(replace(item, grain_deg=180.0 - item.grain_deg), flip)
        case CoatedFace():
            return replace(item, start=flip(item.end), end=flip(item.start))
        case Dimension():
            base = item.base_mm
            if base is not None and item.axis is Axis.VERTICAL:
                base = 2.0 * about_x_mm - base
            return replace(item, start=flip(item.end), end=flip(item.start), side=MIRRORED_SIDE[item.side], base_mm=base)
        case Leader():
            return replace(item, tip=flip(item.tip), to_mm=(-item.to_mm[0], item.to_mm[1]))
        case Callouts():
            return _mapped(replace(item, side=MIRRORED_SIDE[item.side]), flip)
        case _:
            return _mapped(item, flip)


def _mapped(item: Item, to: Callable[[Point], Point]) -> Item:
    match item:
        case Line() | CentreLine() | CoatedFace() | BreakLine() | Dimension():
            return replace(item, start=to(item.start), end=to(item.end))
        case Polyline():
            return replace(item, points=tuple(map(to, item.points)))
        case Polygon():
            holes = tuple(tuple(map(to, hole)) for hole in item.holes)
            return replace(item, points=tuple(map(to, item.points)), holes=holes)
        case Arc() | Circle():
            return replace(item, centre=to(item.centre))
        case Text():
            return replace(item, at=to(item.at))
        case Leader():
            return replace(item, tip=to(item.tip))
        case Callouts():
            return replace(item, entries=tuple(replace(e, tip=to(e.tip)) for e in item.entries))
        case Group():
            return replace(item, items=tuple(_mapped(inner, to) for inner in item.items))
