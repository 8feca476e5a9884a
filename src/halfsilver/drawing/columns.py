"""Columns of callouts: texts in line beside a drawing, their leaders drawn so that none crosses another or runs through a text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from halfsilver.drawing.gaps import Boxed, Quad, boxed, span_inside
from halfsilver.drawing.ink import Box, Ink, InkArc, InkGroup, InkPath, lettering
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Anchor, Callout, Callouts, Point, Side
from halfsilver.drawing.spread import spread
from halfsilver.drawing.style import DrawingStyle, Role

SHOULDER_MM = 3.0
TEXT_OFF_MM = 0.9
NUDGE_MM = 1.0
NUDGES = tuple(sign * k * NUDGE_MM for k in range(26) for sign in (1.0, -1.0))
ANCHORS = {
    Side.RIGHT: Anchor.MIDDLE_LEFT,
    Side.LEFT: Anchor.MIDDLE_RIGHT,
    Side.ABOVE: Anchor.BASE_CENTRE,
    Side.BELOW: Anchor.TOP_CENTRE,
}


@dataclass(slots=True, kw_only=True)
class _Label:
    """A callout while its place is sought; ``along`` is measured along the column."""

    entry: Callout
    tip: Point
    extent: float
    along: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rail:
    """The line on which the leaders bend: upright beside the drawing, lying above or below it."""

    side: Side
    level: float

    @property
    def upright(self) -> bool:
        return self.side in (Side.LEFT, Side.RIGHT)

    @property
    def outward(self) -> float:
        return 1.0 if self.side in (Side.RIGHT, Side.ABOVE) else -1.0

    def along(self, p: Point) -> float:
        return p[1] if self.upright else p[0]

    def across(self, p: Point) -> float:
        return p[0] if self.upright else p[1]

    def at(self, along: float, *, beyond: float = 0.0) -> Point:
        level = self.level + self.outward * beyond
        return (level, along) if self.upright else (along, level)


def plot_callouts(
    column: Callouts, *, around: Box, to_paper: Callable[[Point], Point], avoid: Sequence[Quad] = (), style: DrawingStyle
) -> InkGroup:
    """A column of callouts beside ``around``.

    Parameters
    ----------
    column : Callouts
        The entries and the side.
    around : Box
        What is drawn already. [mm]
    to_paper : callable
        Place on paper of a point of the scene.
    avoid : sequence of Quad
        Boxes of texts that no leader should run through. [mm]
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    InkGroup
        One group per entry.
    """
    edges = {Side.LEFT: around[0], Side.BELOW: around[1], Side.RIGHT: around[2], Side.ABOVE: around[3]}
    rail = _Rail(side=column.side, level=edges[column.side])
    rail = _Rail(side=column.side, level=rail.level + rail.outward * style.column_mm)
    labels = [_label(entry, rail, to_paper(entry.tip), style) for entry in column.entries]
    _arrange(labels, rail, [boxed(quad) for quad in avoid], style)
    return InkGroup(items=tuple(_ink(label, rail, style) for label in labels), kind="layer", data=(("layer", "callouts"),))


def least_bounds(column: Callouts, *, around: Box, style: DrawingStyle) -> Box:
    """What is drawn already with a column beside it, as far as that is known before the entries have their places. [mm]"""
    left, bottom, right, top = around
    reach = style.column_mm + SHOULDER_MM + TEXT_OFF_MM
    reach += max((width_mm(entry.text, size_mm=style.text_mm, font=style.font) for entry in column.entries), default=0.0)
    match column.side:
        case Side.LEFT:
            return (left - reach, bottom, right, top)
        case Side.RIGHT:
            return (left, bottom, right + reach, top)
        case _:
            return around


def _label(entry: Callout, rail: _Rail, tip: Point, style: DrawingStyle) -> _Label:
    if rail.upright:
        extent = style.text_mm * (1.0 + style.line_spacing * entry.text.count("\n"))
    else:
        extent = width_mm(entry.text, size_mm=style.text_mm, font=style.font)
    return _Label(entry=entry, tip=tip, extent=extent, along=rail.along(tip))


def _arrange(labels: list[_Label], rail: _Rail, avoid: Sequence[Boxed], style: DrawingStyle) -> None:
    """Order the labels and give each its place along the rail."""
    clear = style.text_mm * 1.5 if rail.upright else 2.0 * style.clear_mm
    wishes = {id(label): label.along for label in labels}
    for _ in range(3):
        for label in labels:
            wishes[id(label)] = label.along = _past_texts(label, rail, avoid)
        labels.sort(key=lambda label: (wishes[id(label)], rail.outward * rail.across(label.tip)))
        _settle(labels, sorted(wishes.values()), clear)
        _untangle(labels, rail, sorted(wishes.values()), clear)
        if not any(_meets(label, rail, label.along, avoid) for label in labels):
            return


def _settle(labels: list[_Label], wishes: list[float], clear: float) -> None:
    for label, place in zip(labels, spread(wishes, [label.extent for label in labels], clear=clear), strict=True):
        label.along = place


def _past_texts(label: _Label, rail: _Rail, avoid: Sequence[Boxed]) -> float:
    """The nearest place from which the leader runs through no text; the present one if there is none."""
    near = _within_reach(label, rail, avoid)
    return next((label.along + n for n in NUDGES if not _meets(label, rail, label.along + n, near)), label.along)


def _within_reach(label: _Label, rail: _Rail, avoid: Sequence[Boxed]) -> list[Boxed]:
    """Boxes that the leader could run through from any of the places that are tried."""
    ends = (label.tip, rail.at(label.along - NUDGES[-2]), rail.at(label.along + NUDGES[-2]))
    (left, right), (bottom, top) = ((min(values), max(values)) for values in zip(*ends, strict=True))
    return [box for box in avoid if box.right >= left and box.left <= right and box.top >= bottom and box.bottom <= top]


def _meets(label: _Label, rail: _Rail, along: float, avoid: Sequence[Boxed]) -> bool:
    leader = (label.tip, rail.at(along))
    return any(box.is_near(leader) and span_inside(leader, box.quad) for box in avoid)


def _untangle(labels: list[_Label], rail: _Rail, wishes: list[float], clear: float) -> None:
    """Exchange labels whose leaders cross; each exchange shortens the leaders, so it comes to an end."""
    for _ in range(len(labels) ** 2):
        leaders = [(label.tip, rail.at(label.along)) for label in labels]
        crossing = next(((i, j) for j, leader in enumerate(leaders) for i in range(j) if crosses(leaders[i], leader)), None)
        if crossing is None:
            return
        i, j = crossing
        labels[i], labels[j] = labels[j], labels[i]
        _settle(labels, wishes, clear)


def crosses(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    """Whether two segments cross at an inner point of both."""

    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a[0], a[1], b[0]) * turn(a[0], a[1], b[1]) < -1e-12 and turn(b[0], b[1], a[0]) * turn(b[0], b[1], a[1]) < -1e-12


def _ink(label: _Label, rail: _Rail, style: DrawingStyle) -> Ink:
    pen = style.pens[Role.LEADER]
    shoulder = SHOULDER_MM if rail.upright else 0.0
    way = (label.tip, rail.at(label.along), rail.at(label.along, beyond=shoulder))
    dot = InkArc(centre=label.tip, radius_mm=style.dot_mm / 2.0, start_deg=0.0, end_deg=360.0, role=Role.LEADER, pen=None, fill=pen.colour)
    text = lettering(
        at=rail.at(label.along, beyond=shoulder + TEXT_OFF_MM),
        text=label.entry.text,
        size_mm=style.text_mm,
        anchor=ANCHORS[rail.side],
        font=style.font,
        colour=style.text_colour,
        spacing=style.line_spacing,
    )
    line = InkPath(chains=(way if shoulder else way[:2],), role=Role.LEADER, pen=pen)
    return InkGroup(items=(line, dot, *text), kind="leader", name=label.entry.name)
