"""From a view to ink: shapes to paper, hatches clipped, dimensions and callouts placed, thin lines interrupted at texts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import hypot

from halfsilver.drawing.columns import plot_callouts
from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.gaps import interrupted
from halfsilver.drawing.hatch import dots, hatch_segments, rings
from halfsilver.drawing.ink import Box, Ink, InkArc, InkGroup, InkPath, InkText, bounds, leaves, lettering
from halfsilver.drawing.lettering import above_mm, width_mm
from halfsilver.drawing.scene import (
    Anchor,
    Arc,
    Axis,
    BreakLine,
    Callouts,
    CentreLine,
    Circle,
    Dimension,
    Group,
    Item,
    Leader,
    Line,
    Point,
    Polygon,
    Polyline,
    Text,
    flat,
)
from halfsilver.drawing.stacks import Entry, Frame, Placed, frame_of, place
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle, Material, Pattern, Role, Terminator
from halfsilver.drawing.view import View


def plot_view(view: View, *, style: DrawingStyle = DEFAULT_STYLE) -> InkGroup:
    """Everything a view prints.

    Parameters
    ----------
    view : View
        Scene, scale and place.
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    InkGroup
        Shapes first, then dimensions, leaders and callouts, texts last.
    """
    shapes = _shapes(view.scene.items, view, style)
    over: list[Ink] = [_dimension(p, view, style) for p in place_dimensions(view, style=style)]
    items = tuple(flat(view.scene.items))
    over += [_leader(item, view, style) for item in items if isinstance(item, Leader)]
    for item in items:
        if isinstance(item, Callouts):
            over.append(plot_callouts(item, around=_around(shapes, over, view), to_paper=view.paper, style=style))
    notes = [_text(item, view, style) for item in items if isinstance(item, Text)]
    ink: list[Ink] = [*shapes, *over, *notes]
    if view.caption:
        ink.append(_caption(view, bounds(ink), style))
    texts = [leaf for leaf in leaves(ink) if isinstance(leaf, InkText)]
    return InkGroup(items=interrupted(ink, texts), kind="view", title=view.scene.title, data=(("scale", view.scale.text),))


def _around(shapes: Sequence[Ink], over: Sequence[Ink], view: View) -> Box:
    left, bottom, right, top = bounds([*shapes, *over])
    return (left, bottom, right, top) if shapes or over else (*view.at_mm, *view.at_mm)


# --- shapes ------------------------------------------------------------------------------------------------------------------


def _shapes(items: Iterable[Item], view: View, style: DrawingStyle) -> list[Ink]:
    ink: list[Ink] = []
    for item in items:
        match item:
            case Group():
                inner = tuple(_shapes(item.items, view, style))
                kind = "part" if item.name or item.title else "layer"
                data = (("layer", item.layer),) if item.layer else ()
                ink += [InkGroup(items=inner, kind=kind, name=item.name, title=item.title, data=data)] if inner else []
            case Polygon() | Circle() if item.name or item.title:
                ink.append(InkGroup(items=tuple(_shape(item, view, style)), kind="part", name=item.name, title=item.title))
            case _:
                ink += _shape(item, view, style)
    return ink


def _shape(item: Item, view: View, style: DrawingStyle) -> list[Ink]:
    paper = view.paper
    match item:
        case Line():
            return [_path(((paper(item.start), paper(item.end)),), item.role, style)]
        case Polyline():
            return [_path((tuple(map(paper, item.points)),), item.role, style)]
        case Polygon():
            return _filled((item.points, *item.holes), item, view, style)
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
                    fill=style.fillings[item.material].tint if item.material else "",
                )
            ]
        case CentreLine():
            return [_centre_line(paper(item.start), paper(item.end), item.beyond_mm, style)]
        case BreakLine():
            return [_path((_zigzag(paper(item.start), paper(item.end)),), Role.BREAK, style)]
        case _:
            return []


def _path(chains: tuple[tuple[Point, ...], ...], role: Role, style: DrawingStyle, *, closed: bool = False) -> InkPath:
    return InkPath(chains=chains, role=role, pen=style.pens[role], closed=closed)


def _filled(outlines: tuple[tuple[Point, ...], ...], item: Polygon, view: View, style: DrawingStyle) -> list[Ink]:
    loops = tuple(tuple(view.paper(p) for p in loop) for loop in outlines)
    ink: list[Ink] = []
    if item.material:
        filling = style.fillings[item.material]
        if filling.tint:
            ink.append(InkPath(chains=loops, role=Role.HATCH, pen=None, closed=True, fill=filling.tint))
        ink += _hatched(loops, item.material, item.grain_deg, style)
    if item.role:
        ink.append(_path(loops, item.role, style, closed=True))
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
    return _path((((a[0] - ux, a[1] - uy), (b[0] + ux, b[1] + uy)),), Role.CENTRE, style)


def _zigzag(a: Point, b: Point) -> tuple[Point, ...]:
    """A straight line that runs a little over at both ends, with one zigzag in its middle."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    half, tooth = length / 2.0, min(1.2, length / 8.0)
    zigzag = ((half - tooth, 0.0), (half - tooth / 2, 2.2 * tooth), (half + tooth / 2, -2.2 * tooth), (half + tooth, 0.0))
    offsets = ((-2.0, 0.0), *zigzag, (length + 2.0, 0.0))
    return tuple((a[0] + t * ux - n * uy, a[1] + t * uy + n * ux) for t, n in offsets)


# --- dimensions --------------------------------------------------------------------------------------------------------------


def place_dimensions(view: View, *, style: DrawingStyle = DEFAULT_STYLE) -> tuple[Placed, ...]:
    """All dimensions of a view with their lines and texts placed, stack by stack."""
    dimensions = [item for item in flat(view.scene.items) if isinstance(item, Dimension)]
    if not dimensions:
        return ()
    corners = _shape_box(view)
    stacks: dict[tuple[object, ...], list[Dimension]] = defaultdict(list)
    for d in dimensions:
        alone = (d.start, d.end) if d.axis is Axis.ALIGNED else ()
        stacks[(d.axis, d.side, d.base_mm, alone)].append(d)
    placed: list[Placed] = []
    for members in stacks.values():
        frame = frame_of(members[0])
        entries = [_entry(d, frame, view) for d in members]
        base = _base(members[0], entries, frame, corners, view)
        placed += place(entries, frame=frame, base_v=base, style=style)
    return tuple(placed)


def _shape_box(view: View) -> Box:
    left, bottom, right, top = view.scene.extents()
    return (*view.paper((left, bottom)), *view.paper((right, top)))


def _entry(d: Dimension, frame: Frame, view: View) -> Entry:
    a, b = frame.local(view.paper(d.start)), frame.local(view.paper(d.end))
    first, second = (a, b) if a[0] <= b[0] else (b, a)
    return Entry(dimension=d, low=first[0], high=second[0], feet=(first, second))


def _base(d: Dimension, entries: Sequence[Entry], frame: Frame, corners: Box, view: View) -> float:
    feet = max(v for e in entries for _, v in e.feet)
    if d.axis is Axis.ALIGNED:
        return feet
    if d.base_mm is not None:
        at = (0.0, d.base_mm) if d.axis is Axis.HORIZONTAL else (d.base_mm, 0.0)
        return frame.local(view.paper(at))[1]
    edges = [frame.local(p)[1] for p in (corners[:2], corners[2:])]
    return max(feet, *edges)


def _dimension(p: Placed, view: View, style: DrawingStyle) -> InkGroup:
    f, d = p.frame, p.dimension
    a, b = f.paper(p.low, p.line_v), f.paper(p.high, p.line_v)
    ink: list[Ink] = [_extension(p, style), _path(((a, b),), Role.DIMENSION, style), *_ends(p, style)]
    if p.raised:
        ink.append(_raised_line(p, style))
    ink.append(
        InkText(
            at=f.paper(p.text_u, p.text_v),
            text=d.text,
            size_mm=style.text_mm,
            align=0.5,
            rotation_deg=f.rotation_deg,
            weight=Weight.REGULAR,
            colour=style.dimension_colour,
            font=style.font,
        )
    )
    data = (("text", d.text), ("length-mm", f"{d.measured_mm:.4f}".rstrip("0").rstrip(".")), ("axis", d.axis.value))
    return InkGroup(items=tuple(ink), kind="dimension", name=d.name, data=data)


def _extension(p: Placed, style: DrawingStyle) -> InkPath:
    lines = []
    for u, v in p.feet:
        start, stop = v + style.extension_gap_mm, p.line_v + style.overshoot_mm
        if stop > start:
            lines.append((p.frame.paper(u, start), p.frame.paper(u, stop)))
    return _path(tuple(lines), Role.EXTENSION, style)


def _ends(p: Placed, style: DrawingStyle) -> list[Ink]:
    if style.terminator is Terminator.ARROW and p.high - p.low >= 2.2 * style.arrow_mm:
        return [
            arrowhead(p.frame.paper(u, p.line_v), (s * p.frame.along[0], s * p.frame.along[1]), style, Role.TICK)
            for u, s in ((p.low, -1.0), (p.high, 1.0))
        ]
    half = style.tick_mm / 2.0 * 0.7071
    ax, ay = p.frame.along
    tx, ty = half * (ax - ay), half * (ay + ax)
    ticks = []
    for u in (p.low, p.high):
        x, y = p.frame.paper(u, p.line_v)
        ticks.append(((x - tx, y - ty), (x + tx, y + ty)))
    return [_path(tuple(ticks), Role.TICK, style)]


def arrowhead(tip: Point, pointing: Point, style: DrawingStyle, role: Role) -> InkPath:
    """A small filled arrowhead, three times as long as wide."""
    (x, y), (ux, uy), n = tip, pointing, style.arrow_mm
    back = (x - n * ux, y - n * uy)
    wing = n / 6.0
    points = (tip, (back[0] - wing * uy, back[1] + wing * ux), (back[0] + wing * uy, back[1] - wing * ux))
    return InkPath(chains=(points,), role=role, pen=None, closed=True, fill=style.pens[role].colour)


def _raised_line(p: Placed, style: DrawingStyle) -> InkPath:
    f, middle = p.frame, (p.low + p.high) / 2.0
    half = width_mm(p.dimension.text, size_mm=style.text_mm, font=style.font) / 2.0 - 1.0
    target = min(max(middle, p.text_u - half), p.text_u + half)
    lift = style.text_gap_mm + above_mm("1/2", size_mm=style.text_mm) if f.text_up > 0 else style.overshoot_mm
    top = p.text_v - (0.6 if f.text_up > 0 else above_mm("1/2", size_mm=style.text_mm) + 0.5)
    chain = (f.paper(middle, p.line_v), f.paper(middle, p.line_v + lift), f.paper(target, top))
    return _path((chain,), Role.DIMENSION, style)


# --- leaders and notes -------------------------------------------------------------------------------------------------------


def _leader(item: Leader, view: View, style: DrawingStyle) -> InkGroup:
    tip = view.paper(item.tip)
    end = (tip[0] + item.to_mm[0], tip[1] + item.to_mm[1])
    dot = InkArc(
        centre=tip,
        radius_mm=style.dot_mm / 2.0,
        start_deg=0.0,
        end_deg=360.0,
        role=Role.LEADER,
        pen=None,
        fill=style.pens[Role.LEADER].colour,
    )
    if item.number:
        return InkGroup(items=(dot, *_balloon(tip, end, item.text, style)), kind="leader", name=item.name)
    right = item.to_mm[0] >= 0.0
    shoulder = (end[0] + (2.5 if right else -2.5), end[1])
    text = lettering(
        at=(shoulder[0] + (0.8 if right else -0.8), end[1]),
        text=item.text,
        size_mm=style.text_mm,
        anchor=Anchor.MIDDLE_LEFT if right else Anchor.MIDDLE_RIGHT,
        font=style.font,
        colour=style.text_colour,
        spacing=style.line_spacing,
    )
    return InkGroup(items=(dot, _path(((tip, end, shoulder),), Role.LEADER, style), *text), kind="leader", name=item.name)


def _balloon(tip: Point, centre: Point, text: str, style: DrawingStyle) -> list[Ink]:
    radius = style.text_mm * 1.15
    length = hypot(centre[0] - tip[0], centre[1] - tip[1]) or 1.0
    rim = (centre[0] - (centre[0] - tip[0]) / length * radius, centre[1] - (centre[1] - tip[1]) / length * radius)
    ring = InkArc(
        centre=centre,
        radius_mm=radius,
        start_deg=0.0,
        end_deg=360.0,
        role=Role.LEADER,
        pen=style.pens[Role.LEADER],
        fill="#ffffff",
    )
    label = lettering(at=centre, text=text, size_mm=style.text_mm, anchor=Anchor.MIDDLE_CENTRE, font=style.font, colour=style.text_colour)
    return [_path(((tip, rim),), Role.LEADER, style), ring, *label]


def _text(item: Text, view: View, style: DrawingStyle) -> InkGroup:
    x, y = view.paper(item.at)
    placed = lettering(
        at=(x + item.shift_mm[0], y + item.shift_mm[1]),
        text=item.text,
        size_mm=item.size_mm or style.text_mm,
        anchor=item.anchor,
        font=style.font,
        colour=item.colour or style.text_colour,
        rotation_deg=item.rotation_deg,
        weight=item.weight,
        spacing=style.line_spacing,
    )
    return InkGroup(items=placed, kind="note")


def _caption(view: View, box: Box, style: DrawingStyle) -> InkGroup:
    size, small = style.title_mm, style.text_mm
    baseline = box[1] - 7.0 - size
    title = width_mm(view.caption, size_mm=size, font=style.font, weight=Weight.BOLD)
    scale = width_mm(view.scale.text, size_mm=small, font=style.font)
    left = (box[0] + box[2]) / 2.0 - (title + 4.0 + scale) / 2.0
    words = lettering(
        at=(left, baseline),
        text=view.caption,
        size_mm=size,
        anchor=Anchor.BASE_LEFT,
        font=style.font,
        colour=style.text_colour,
        weight=Weight.BOLD,
    )
    note = lettering(
        at=(left + title + 4.0, baseline),
        text=view.scale.text,
        size_mm=small,
        anchor=Anchor.BASE_LEFT,
        font=style.font,
        colour=style.text_colour,
    )
    return InkGroup(items=(*words, *note), kind="caption")
