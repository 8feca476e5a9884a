"""Shapes to ink: outlines in their pens, tints, hatches clipped to what they fill."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import hypot

from halfsilver.drawing.hatch import dots, hatch_segments, rings
from halfsilver.drawing.ink import Ink, InkArc, InkGroup, InkPath, ink_path
from halfsilver.drawing.scene import Arc, BreakLine, CentreLine, Circle, CoatedFace, Group, Item, Line, Point, Polygon, Polyline
from halfsilver.drawing.style import DrawingStyle, Material, Pattern, Role
from halfsilver.drawing.view import View

COATING_OFF_MM = 0.95


def shapes_ink(items: Iterable[Item], view: View, style: DrawingStyle, *, hatched: bool = True) -> list[Ink]:
    """All shapes in their order; named parts and groups become groups."""
    ink: list[Ink] = []
    for item in items:
        match item:
            case Group():
                inner = tuple(shapes_ink(item.items, view, style, hatched=hatched))
                kind = "part" if item.name or item.title else "layer"
                data = (("layer", item.layer),) if item.layer else ()
                ink += [InkGroup(items=inner, kind=kind, name=item.name, title=item.title, data=data)] if inner else []
            case Polygon() | Circle() if item.name or item.title:
                ink.append(InkGroup(items=tuple(_shape(item, view, style, hatched)), kind="part", name=item.name, title=item.title))
            case _:
                ink += _shape(item, view, style, hatched)
    return ink


def _shape(item: Item, view: View, style: DrawingStyle, hatched: bool) -> list[Ink]:
    paper = view.paper
    match item:
        case Line():
            return [InkPath(chains=((paper(item.start), paper(item.end)),), role=item.role, pen=item.pen or style.pens[item.role])]
        case Polyline():
            return [InkPath(chains=(tuple(map(paper, item.points)),), role=item.role, pen=item.pen or style.pens[item.role])]
        case Polygon():
            return _filled(item, view, style, hatched)
        case Arc():
            r = item.radius_mm * view.scale.factor
            return [
                InkArc(
                    centre=paper(item.centre),
                    radius_mm=r,
                    start_deg=item.start_deg,
                    end_deg=item.end_deg,
                    role=item.role,
                    pen=style.pens[item.role],
                )
            ]
        case Circle():
            role = item.role or Role.THIN
            return [
                InkArc(
                    centre=paper(item.centre),
                    radius_mm=item.radius_mm * view.scale.factor,
                    start_deg=0.0,
                    end_deg=360.0,
                    role=role,
                    pen=style.pens[role] if item.role else None,
                    fill=item.fill or (style.fillings[item.material].tint if item.material else ""),
                )
            ]
        case CentreLine():
            return [_centre_line(paper(item.start), paper(item.end), item.beyond_mm, style)]
        case CoatedFace():
            return [_coated(paper(item.start), paper(item.end), style)]
        case BreakLine():
            return [ink_path((_zigzag(paper(item.start), paper(item.end)),), Role.BREAK, style)]
        case _:
            return []


def _filled(item: Polygon, view: View, style: DrawingStyle, hatched: bool) -> list[Ink]:
    loops = tuple(tuple(view.paper(p) for p in loop) for loop in (item.points, *item.holes))
    ink: list[Ink] = []
    if item.fill:
        ink.append(InkPath(chains=loops, role=Role.HATCH, pen=None, closed=True, fill=item.fill))
    elif item.material:
        filling = style.fillings[item.material]
        if filling.tint:
            ink.append(InkPath(chains=loops, role=Role.HATCH, pen=None, closed=True, fill=filling.tint))
        ink += _hatched(loops, item.material, item.grain_deg, style) if hatched else []
    if item.role and item.open_edges:
        ring = (*loops[0], loops[0][0])
        kept = [k for k in range(len(loops[0])) if k not in item.open_edges]
        ink.append(ink_path(tuple((ring[k], ring[k + 1]) for k in kept), item.role, style))
    elif item.role:
        ink.append(ink_path(loops, item.role, style, closed=True))
    return ink


def _hatched(loops: tuple[tuple[Point, ...], ...], material: Material, angle_deg: float | None, style: DrawingStyle) -> list[Ink]:
    filling = style.fillings[material]
    pen = replace(style.pens[Role.HATCH], colour=filling.line)
    if filling.pattern is Pattern.RINGS:
        return [
            InkArc(centre=c, radius_mm=r, start_deg=a, end_deg=b, role=Role.HATCH, pen=pen)
            for c, r, a, b in rings(loops, spacing_mm=filling.spacing_mm)
        ]
    if filling.pattern is Pattern.DOTS:
        return [
            InkArc(centre=c, radius_mm=0.14, start_deg=0.0, end_deg=360.0, role=Role.HATCH, pen=None, fill=filling.line)
            for c in dots(loops, spacing_mm=filling.spacing_mm)
        ]
    segments = hatch_segments(loops, filling, angle_deg=angle_deg)
    return [InkPath(chains=segments, role=Role.HATCH, pen=pen)] if segments else []


def _centre_line(a: Point, b: Point, beyond: float, style: DrawingStyle) -> InkPath:
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length * beyond, (b[1] - a[1]) / length * beyond
    return ink_path((((a[0] - ux, a[1] - uy), (b[0] + ux, b[1] + uy)),), Role.CENTRE, style)


def _coated(a: Point, b: Point, style: DrawingStyle) -> InkPath:
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    nx, ny = -(b[1] - a[1]) / length * COATING_OFF_MM, (b[0] - a[0]) / length * COATING_OFF_MM
    return ink_path((((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny)),), Role.COATING, style)


def _zigzag(a: Point, b: Point) -> tuple[Point, ...]:
    """A straight line that runs a little over at both ends, with one zigzag in its middle."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    half, tooth = length / 2.0, min(1.2, length / 8.0)
    zigzag = ((half - tooth, 0.0), (half - tooth / 2, 2.2 * tooth), (half + tooth / 2, -2.2 * tooth), (half + tooth, 0.0))
    offsets = ((-2.0, 0.0), *zigzag, (length + 2.0, 0.0))
    return tuple((a[0] + t * ux - n * uy, a[1] + t * uy + n * ux) for t, n in offsets)
