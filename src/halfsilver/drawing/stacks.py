"""Where dimension lines and their texts go: rows outwards from an edge, short ones inside, and no two texts on one place.

All lengths are millimetres of the paper. Along a stack runs ``u``, outwards from the shape ``v``.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin

from halfsilver.drawing.lettering import above_mm, width_mm
from halfsilver.drawing.scene import Axis, Dimension, Point, Side
from halfsilver.drawing.spread import spread
from halfsilver.drawing.style import DrawingStyle

SLANT_MM = 2.4
TOUCH_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Directions of one stack on paper.

    ``along`` and ``outward`` are unit vectors; ``text_up`` is +1 where the reader's up is outward, -1 where it is inward.
    """

    along: Point
    outward: Point
    text_up: int
    rotation_deg: float

    def local(self, p: Point) -> Point:
        """(u, v) of a point on paper."""
        return (p[0] * self.along[0] + p[1] * self.along[1], p[0] * self.outward[0] + p[1] * self.outward[1])

    def paper(self, u: float, v: float) -> Point:
        """The point on paper at (u, v)."""
        return (u * self.along[0] + v * self.outward[0], u * self.along[1] + v * self.outward[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One dimension in paper millimetres, before it has a row."""

    dimension: Dimension
    low: float
    high: float
    feet: tuple[Point, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One dimension with its line and its text placed; ``raised`` texts hang on a small line of their own."""

    dimension: Dimension
    frame: Frame
    low: float
    high: float
    line_v: float
    text_u: float
    text_v: float
    raised: bool
    feet: tuple[Point, Point]


def frame_of(dimension: Dimension) -> Frame:
    """Directions in which a dimension is laid out."""
    side = dimension.side
    if dimension.axis is Axis.HORIZONTAL:
        up = 1 if side is Side.ABOVE else -1
        return Frame(along=(1.0, 0.0), outward=(0.0, float(up)), text_up=up, rotation_deg=0.0)
    if dimension.axis is Axis.VERTICAL:
        up = 1 if side is Side.LEFT else -1
        return Frame(along=(0.0, 1.0), outward=(float(-up), 0.0), text_up=up, rotation_deg=90.0)
    (x0, y0), (x1, y1) = dimension.start, dimension.end
    angle = degrees(atan2(y1 - y0, x1 - x0))
    outward_left = side in (Side.ABOVE, Side.LEFT)
    readable = -90.0 + 1e-9 < angle <= 90.0 + 1e-9
    turned = angle if readable else angle - 180.0 if angle > 0.0 else angle + 180.0
    c, s = cos(radians(turned)), sin(radians(turned))
    up = 1 if outward_left == readable else -1
    return Frame(along=(c, s), outward=(-s * up, c * up), text_up=up, rotation_deg=turned)


def place(entries: Sequence[Entry], *, frame: Frame, base_v: float, style: DrawingStyle) -> tuple[Placed, ...]:
    """Rows, lines and texts of one stack of dimensions that share side and base.

    Parameters
    ----------
    entries : sequence of Entry
        Dimensions of the stack.
    frame : Frame
        Their directions.
    base_v : float
        Where the stack begins. [mm]
    style : DrawingStyle
        Sizes and gaps.

    Returns
    -------
    tuple of Placed
        In the order of the rows, from the shape outwards, and along each row.
    """
    placed: list[Placed] = []
    edge, line_v = base_v, base_v + style.first_level_mm - style.level_mm
    for row in _rows(entries):
        line_v, edge, texts = _place_row(row, frame=frame, edge=edge, last_v=line_v, style=style)
        placed += texts
    return tuple(placed)


def _rows(entries: Sequence[Entry]) -> list[list[Entry]]:
    units: dict[str, list[Entry]] = defaultdict(list)
    for k, entry in enumerate(entries):
        units[entry.dimension.chain or f"\0{k}"].append(entry)
    rows: dict[int, list[Entry]] = defaultdict(list)
    fixed = [u for u in units.values() if u[0].dimension.row is not None]
    for unit in fixed:
        rows[unit[0].dimension.row or 0] += unit
    free = [u for u in units.values() if u[0].dimension.row is None]
    for unit in sorted(free, key=lambda u: (_reach(u), min(e.low for e in u))):
        meeting = [r for r, there in rows.items() if any(_overlap(a, b) for a in unit for b in there)]
        rows[max(meeting) + 1 if meeting else 0] += unit
    return [sorted(rows[r], key=lambda e: (e.low, e.high)) for r in sorted(rows)]


def _reach(unit: Iterable[Entry]) -> float:
    unit = list(unit)
    return round(max(e.high for e in unit) - min(e.low for e in unit), 6)


def _overlap(a: Entry, b: Entry) -> bool:
    return a.low < b.high - TOUCH_MM and b.low < a.high - TOUCH_MM


def _place_row(row: list[Entry], *, frame: Frame, edge: float, last_v: float, style: DrawingStyle) -> tuple[float, float, list[Placed]]:
    """Line, outer edge and dimensions of one row that begins outside of ``edge``."""
    size, gap = style.text_mm, style.text_gap_mm
    widths = [width_mm(e.dimension.text, size_mm=size, font=style.font) for e in row]
    raised = [width + 2.0 * style.clear_mm > e.high - e.low for e, width in zip(row, widths, strict=False)]
    height = above_mm("1/2", size_mm=size)
    inside = gap + height if frame.text_up < 0 else style.tick_mm / 2.0
    line_v = max(last_v + style.level_mm, edge + style.clear_mm + inside)
    near = gap if frame.text_up > 0 else -gap
    clear_line = (gap + height if frame.text_up > 0 else style.overshoot_mm) + SLANT_MM
    raised_v = clear_line if frame.text_up > 0 else clear_line + size
    centres = _raised_centres(row, widths, raised, style=style)
    placed = [
        Placed(
            dimension=e.dimension,
            frame=frame,
            low=e.low,
            high=e.high,
            line_v=line_v,
            feet=e.feet,
            raised=up,
            text_u=centre,
            text_v=line_v + (raised_v if up else near),
        )
        for e, up, centre in zip(row, raised, centres, strict=False)
    ]
    outside = gap + height if frame.text_up > 0 else style.overshoot_mm
    if any(raised):
        outside = clear_line + height
    return line_v, line_v + outside, placed


def _raised_centres(row: list[Entry], widths: list[float], raised: list[bool], *, style: DrawingStyle) -> list[float]:
    """Middle of each text along the row; the raised ones spread so that they stand clear of each other."""
    middles = [(e.low + e.high) / 2.0 for e in row]
    up = [k for k, flag in enumerate(raised) if flag]
    room = (min(e.low for e in row) + style.clear_mm / 2.0, max(e.high for e in row) - style.clear_mm / 2.0)
    centres = spread([middles[k] for k in up], [widths[k] for k in up], clear=1.5 * style.clear_mm, room=room)
    for k, centre in zip(up, centres, strict=False):
        middles[k] = centre
    return middles
