"""Columns of callouts: texts in line beside a drawing, their leaders drawn so that none crosses another."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from halfsilver.drawing.ink import Box, Ink, InkArc, InkGroup, InkPath, lettering
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Anchor, Callout, Callouts, Point, Side
from halfsilver.drawing.spread import spread
from halfsilver.drawing.style import DrawingStyle, Role

SHOULDER_MM = 3.0


def plot_callouts(column: Callouts, *, around: Box, to_paper: Callable[[Point], Point], style: DrawingStyle) -> InkGroup:
    """A column of callouts beside ``around``.

    Parameters
    ----------
    column : Callouts
        The entries and the side.
    around : Box
        What is drawn already. [mm]
    to_paper : callable
        Place on paper of a point of the scene.
    style : DrawingStyle
        Look of the drawing.

    Returns
    -------
    InkGroup
        One group per entry.
    """
    entries = list(column.entries)
    if not entries:
        return InkGroup(items=(), kind="layer")
    tips = {id(e): to_paper(e.tip) for e in entries}
    if column.side in (Side.LEFT, Side.RIGHT):
        return _beside(entries, tips, around, column.side, style)
    return _over(entries, tips, around, column.side, style)


def _beside(entries: list[Callout], tips: dict[int, Point], around: Box, side: Side, style: DrawingStyle) -> InkGroup:
    sign = 1.0 if side is Side.RIGHT else -1.0
    edge = around[2] if side is Side.RIGHT else around[0]
    elbow = edge + sign * style.column_mm
    pitch = style.text_mm * style.line_spacing
    entries.sort(key=lambda e: (tips[id(e)][1], sign * tips[id(e)][0]))
    heights = {id(e): style.text_mm + pitch * e.text.count("\n") for e in entries}

    def heights_now() -> list[float]:
        wanted = sorted(tips[id(e)][1] for e in entries)
        return spread(wanted, [heights[id(e)] for e in entries], clear=style.text_mm * 0.9)

    ys = heights_now()
    _untangle(entries, lambda k, y: (tips[id(entries[k])], (elbow, y)), ys, heights_now)
    ys = heights_now()
    anchor = Anchor.MIDDLE_LEFT if sign > 0 else Anchor.MIDDLE_RIGHT
    groups: list[Ink] = []
    for e, y in zip(entries, ys, strict=False):
        shoulder = (elbow + sign * SHOULDER_MM, y)
        text_at = (shoulder[0] + sign * 0.9, y)
        groups.append(_one(e, (tips[id(e)], (elbow, y), shoulder), text_at, anchor, style))
    return InkGroup(items=tuple(groups), kind="layer", data=(("layer", "callouts"),))


def _over(entries: list[Callout], tips: dict[int, Point], around: Box, side: Side, style: DrawingStyle) -> InkGroup:
    sign = 1.0 if side is Side.ABOVE else -1.0
    edge = around[3] if side is Side.ABOVE else around[1]
    level = edge + sign * style.column_mm
    entries.sort(key=lambda e: (tips[id(e)][0], sign * tips[id(e)][1]))
    widths = {id(e): width_mm(e.text, size_mm=style.text_mm, font=style.font) for e in entries}

    def places_now() -> list[float]:
        wanted = sorted(tips[id(e)][0] for e in entries)
        return spread(wanted, [widths[id(e)] for e in entries], clear=2.0 * style.clear_mm)

    xs = places_now()
    _untangle(entries, lambda k, x: (tips[id(entries[k])], (x, level)), xs, places_now)
    xs = places_now()
    anchor = Anchor.BASE_CENTRE if sign > 0 else Anchor.TOP_CENTRE
    groups: list[Ink] = []
    for e, x in zip(entries, xs, strict=False):
        groups.append(_one(e, (tips[id(e)], (x, level)), (x, level + sign * 0.9), anchor, style))
    return InkGroup(items=tuple(groups), kind="layer", data=(("layer", "callouts"),))


def _untangle(
    entries: list[Callout],
    line: Callable[[int, float], tuple[Point, Point]],
    places: list[float],
    again: Callable[[], list[float]],
) -> None:
    """Exchange entries whose leaders cross; each exchange shortens the leaders, so it comes to an end."""
    for _ in range(len(entries) ** 2):
        for i in range(len(entries)):
            for j in range(i + 1, len(entries)):
                if crosses(line(i, places[i]), line(j, places[j])):
                    entries[i], entries[j] = entries[j], entries[i]
                    places = again()
                    break
            else:
                continue
            break
        else:
            return


def crosses(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    """Whether two segments cross at an inner point of both."""

    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a[0], a[1], b[0]) * turn(a[0], a[1], b[1]) < -1e-12 and turn(b[0], b[1], a[0]) * turn(b[0], b[1], a[1]) < -1e-12


def _one(e: Callout, way: Sequence[Point], text_at: Point, anchor: Anchor, style: DrawingStyle) -> InkGroup:
    pen = style.pens[Role.LEADER]
    dot = InkArc(centre=way[0], radius_mm=style.dot_mm / 2.0, start_deg=0.0, end_deg=360.0, role=Role.LEADER, pen=None, fill=pen.colour)
    line = InkPath(chains=(tuple(way),), role=Role.LEADER, pen=pen)
    text = lettering(
        at=text_at,
        text=e.text,
        size_mm=style.text_mm,
        anchor=anchor,
        font=style.font,
        colour=style.text_colour,
        spacing=style.line_spacing,
    )
    return InkGroup(items=(line, dot, *text), kind="leader", name=e.name)
