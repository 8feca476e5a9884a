"""Dimensions to ink: stacks gathered and placed, then lines, ends and texts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.ink import Box, Ink, InkGroup, InkPath, InkText, ink_path
from halfsilver.drawing.lettering import above_mm, below_mm, width_mm
from halfsilver.drawing.scene import Axis, Dimension, Point, flat
from halfsilver.drawing.stacks import Entry, Frame, Placed, frame_of, place
from halfsilver.drawing.style import DEFAULT_STYLE, DrawingStyle, Role, Terminator
from halfsilver.drawing.view import View


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


def dimension_ink(p: Placed, style: DrawingStyle) -> InkGroup:
    """Extension lines, dimension line, ends and text of one placed dimension."""
    f, d = p.frame, p.dimension
    a, b = f.paper(p.low, p.line_v), f.paper(p.high, p.line_v)
    ink: list[Ink] = [_extension(p, style), ink_path(((a, b),), Role.DIMENSION, style), *_ends(p, style)]
    if p.raised:
        ink.append(raised_line(p, style))
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
    return ink_path(tuple(lines), Role.EXTENSION, style)


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
    return [ink_path(tuple(ticks), Role.TICK, style)]


def arrowhead(tip: Point, pointing: Point, style: DrawingStyle, role: Role) -> InkPath:
    """A small filled arrowhead, three times as long as wide."""
    (x, y), (ux, uy), n = tip, pointing, style.arrow_mm
    back = (x - n * ux, y - n * uy)
    wing = n / 6.0
    points = (tip, (back[0] - wing * uy, back[1] + wing * ux), (back[0] + wing * uy, back[1] - wing * ux))
    return InkPath(chains=(points,), role=role, pen=None, closed=True, fill=style.pens[role].colour)


def raised_line(p: Placed, style: DrawingStyle) -> InkPath:
    """The small line from a narrow dimension to its text."""
    f, middle = p.frame, (p.low + p.high) / 2.0
    half = width_mm(p.dimension.text, size_mm=style.text_mm, font=style.font) / 2.0 - 1.0
    target = min(max(middle, p.text_u - half), p.text_u + half)
    lift = style.text_gap_mm + above_mm("1/2", size_mm=style.text_mm) if f.text_up > 0 else style.overshoot_mm
    top = p.text_v - (below_mm("(", size_mm=style.text_mm) + 0.2 if f.text_up > 0 else above_mm("1/2", size_mm=style.text_mm) + 0.5)
    chain = (f.paper(middle, p.line_v), f.paper(middle, p.line_v + lift), f.paper(target, top))
    return ink_path((chain,), Role.DIMENSION, style)
