"""What is left when a view has been plotted: strokes, fills and lettering on paper, in millimetres, y up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin

from halfsilver.drawing.fonts import FontMetrics, Weight
from halfsilver.drawing.lettering import above_mm, below_mm, width_mm
from halfsilver.drawing.scene import Anchor, Point
from halfsilver.drawing.style import DrawingStyle, Pen, Role

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class InkPath:
    """One or several chains of straight lines in one pen; ``fill`` fills closed ones by the even-odd rule."""

    chains: tuple[tuple[Point, ...], ...]
    role: Role
    pen: Pen | None
    closed: bool = False
    fill: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InkArc:
    """A circular arc, anticlockwise; a full turn is a circle and may be filled."""

    centre: Point
    radius_mm: float
    start_deg: float
    end_deg: float
    role: Role
    pen: Pen | None
    fill: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InkText:
    """One line of lettering with its baseline point; ``align`` is 0 for left, 0.5 for centre, 1 for right."""

    at: Point
    text: str
    size_mm: float
    align: float
    rotation_deg: float
    weight: Weight
    colour: str
    font: FontMetrics

    def corners(self, *, pad_mm: float = 0.0) -> tuple[Point, Point, Point, Point]:
        """Corners of the box round the text, anticlockwise from the lower left of the reader. [mm]"""
        width = width_mm(self.text, size_mm=self.size_mm, font=self.font, weight=self.weight)
        left, right = -self.align * width - pad_mm, (1.0 - self.align) * width + pad_mm
        low = -below_mm(self.text, size_mm=self.size_mm) - pad_mm
        high = above_mm(self.text, size_mm=self.size_mm) + pad_mm
        c, s = cos(radians(self.rotation_deg)), sin(radians(self.rotation_deg))

        def turn(x: float, y: float) -> Point:
            return (self.at[0] + x * c - y * s, self.at[1] + x * s + y * c)

        return (turn(left, low), turn(right, low), turn(right, high), turn(left, high))


@dataclass(frozen=True, slots=True, kw_only=True)
class InkGroup:
    """Ink that belongs together; ``kind`` is view, part, layer, dimension, leader or note."""

    items: tuple[Ink, ...]
    kind: str = ""
    name: str = ""
    title: str = ""
    data: tuple[tuple[str, str], ...] = ()


Ink = InkPath | InkArc | InkText | InkGroup


def ink_path(chains: tuple[tuple[Point, ...], ...], role: Role, style: DrawingStyle, *, closed: bool = False) -> InkPath:
    """Lines in the pen of their role."""
    return InkPath(chains=chains, role=role, pen=style.pens[role], closed=closed)


def shifted(item: Ink, by_mm: Point) -> Ink:
    """The same ink at another place of the paper."""
    dx, dy = by_mm
    match item:
        case InkGroup():
            return replace(item, items=tuple(shifted(inner, by_mm) for inner in item.items))
        case InkPath():
            return replace(item, chains=tuple(tuple((x + dx, y + dy) for x, y in chain) for chain in item.chains))
        case InkArc():
            return replace(item, centre=(item.centre[0] + dx, item.centre[1] + dy))
        case InkText():
            return replace(item, at=(item.at[0] + dx, item.at[1] + dy))


def leaves(items: Iterable[Ink]) -> Iterator[InkPath | InkArc | InkText]:
    """Everything drawn, group by group."""
    for item in items:
        if isinstance(item, InkGroup):
            yield from leaves(item.items)
        else:
            yield item


def bounds(items: Iterable[Ink]) -> Box:
    """Left, bottom, right and top of the ink, lettering included; line widths and hatches do not count. [mm]"""
    boxes = [box for item in leaves(items) if (box := _box(item))]
    return joined(boxes) if boxes else (0.0, 0.0, 0.0, 0.0)


def joined(boxes: Sequence[Box]) -> Box:
    """The least box round all of these. [mm]"""
    left, bottom, right, top = zip(*boxes, strict=True)
    return (min(left), min(bottom), max(right), max(top))


def _box(item: InkPath | InkArc | InkText) -> Box | None:
    match item:
        case InkText():
            points: Sequence[Point] = item.corners()
        case InkArc():
            (x, y), r = item.centre, item.radius_mm
            return None if item.role is Role.HATCH else (x - r, y - r, x + r, y + r)
        case InkPath():
            if item.role is Role.HATCH and item.pen:
                return None
            points = [p for chain in item.chains for p in chain]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys)) if xs else None


def lettering(
    *,
    at: Point,
    text: str,
    size_mm: float,
    anchor: Anchor,
    font: FontMetrics,
    colour: str,
    rotation_deg: float = 0.0,
    weight: Weight = Weight.REGULAR,
    spacing: float = 1.75,
) -> tuple[InkText, ...]:
    """Lines of a text, anchored as one block. [mm]"""
    lines = text.split("\n")
    align = {"l": 0.0, "c": 0.5, "r": 1.0}[anchor.value[1]]
    pitch = size_mm * spacing
    block = pitch * (len(lines) - 1)
    first = {"b": block, "m": (block - size_mm) / 2.0, "t": -size_mm}[anchor.value[0]]
    c, s = cos(radians(rotation_deg)), sin(radians(rotation_deg))
    placed = []
    for k, line in enumerate(lines):
        up = first - k * pitch
        placed.append(
            InkText(
                at=(at[0] - up * s, at[1] + up * c),
                text=line,
                size_mm=size_mm,
                align=align,
                rotation_deg=rotation_deg,
                weight=weight,
                colour=colour,
                font=font,
            )
        )
    return tuple(placed)
