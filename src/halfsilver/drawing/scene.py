"""The neutral scene: shapes, text and dimensions in millimetres of the thing drawn, x to the right and y up.

A scene knows neither scale nor paper. Sizes of lettering and offsets of labels are millimetres of the paper and say so; where
dimension lines and callouts end up is decided when a `View` is plotted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from math import hypot, isfinite

from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.style import Material, Pen, Role
from halfsilver.errors import RenderError

Point = tuple[float, float]


class Axis(Enum):
    """Direction in which a dimension measures."""

    HORIZONTAL = "horizontal"
    VERTICAL = "vertical"
    ALIGNED = "aligned"


class Side(Enum):
    """Where dimension lines or callouts stand, seen from the shape."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"


class Anchor(Enum):
    """Which point of a text stands at its place; the first letter is for the height, the second across."""

    BASE_LEFT = "bl"
    BASE_CENTRE = "bc"
    BASE_RIGHT = "br"
    MIDDLE_LEFT = "ml"
    MIDDLE_CENTRE = "mc"
    MIDDLE_RIGHT = "mr"
    TOP_LEFT = "tl"
    TOP_CENTRE = "tc"
    TOP_RIGHT = "tr"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line, in the pen of its role or one of its own."""

    start: Point
    end: Point
    role: Role = Role.OUTLINE
    pen: Pen | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline:
    """An open chain of straight lines, in the pen of its role or one of its own."""

    points: tuple[Point, ...]
    role: Role = Role.OUTLINE
    pen: Pen | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon:
    """A closed shape, filled as its material is.

    Parameters
    ----------
    points : tuple of Point
        Corners; the last is joined to the first. [mm]
    holes : tuple of tuple of Point
        Openings in it. [mm]
    material : Material, optional
        Tint and hatch; none leaves it empty.
    role : Role, optional
        Its outline; none draws no outline.
    grain_deg : float, optional
        Direction of the hatch instead of the material's own. [deg]
    open_edges : tuple of int
        Edges that get no outline, because the part goes on there; edge k runs from corner k to the next.
    fill : str
        A colour of its own, ``#rrggbb``, instead of a material.
    name, title : str
        Stable name of the part (a ledger or part name), and what a person calls it.
    """

    points: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()
    material: Material | None = None
    role: Role | None = Role.OUTLINE
    grain_deg: float | None = None
    open_edges: tuple[int, ...] = ()
    fill: str = ""
    name: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A circular arc, anticlockwise from start to end; 0 to 360 is a circle."""

    centre: Point
    radius_mm: float
    start_deg: float = 0.0
    end_deg: float = 360.0
    role: Role = Role.OUTLINE


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle, filled where it has a material or a colour of its own."""

    centre: Point
    radius_mm: float
    material: Material | None = None
    role: Role | None = Role.OUTLINE
    fill: str = ""
    name: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Lettering; its size is the height of a capital on paper, its place is in the scene.

    ``shift_mm`` moves it by millimetres of the paper. ``size_mm`` None takes the style's usual size.
    """

    at: Point
    text: str
    anchor: Anchor = Anchor.BASE_LEFT
    size_mm: float | None = None
    rotation_deg: float = 0.0
    weight: Weight = Weight.REGULAR
    shift_mm: Point = (0.0, 0.0)
    colour: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CentreLine:
    """A centre line; runs a little beyond both ends (millimetres of the paper)."""

    start: Point
    end: Point
    beyond_mm: float = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatedFace:
    """The coated side of a pane: a heavy chain line on the left of the way from start to end, just off the face."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakLine:
    """A thin line with a zigzag in its middle: the part goes on beyond it."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension with its text.

    Parameters
    ----------
    start, end : Point
        The two measured points. [mm]
    text : str
        What is printed, as the caller writes lengths, for example ``53 1/4 in``.
    axis : Axis
        What is measured of the two points.
    side : Side
        On which side the dimension line stands. Horizontal ones stand above or below, vertical ones left or right;
        an aligned one stands above (to the left of the way from start to end) or below.
    name : str
        Name of the ledger entry that the text prints.
    base_mm : float, optional
        Where the first dimension line is counted from (y for horizontal, x for vertical ones); by default the edge of the
        whole scene on that side. Dimensions with the same side and base are stacked together. [mm]
    row : int, optional
        Row counted outwards from 0; by default the first that is free, short ones inside.
    chain : str
        Dimensions with the same chain name stand in one row.
    """

    start: Point
    end: Point
    text: str
    axis: Axis = Axis.HORIZONTAL
    side: Side = Side.ABOVE
    name: str = ""
    base_mm: float | None = None
    row: int | None = None
    chain: str = ""

    @property
    def measured_mm(self) -> float:
        """Length between the points in the direction measured. [mm]"""
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        return {Axis.HORIZONTAL: abs(dx), Axis.VERTICAL: abs(dy), Axis.ALIGNED: hypot(dx, dy)}[self.axis]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """A line from a text to a place; ``to_mm`` is the text's place from the tip in millimetres of the paper.

    With ``number`` the text stands in a small circle.
    """

    tip: Point
    text: str
    to_mm: Point = (8.0, 8.0)
    number: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """One entry of a column of callouts: the place meant, and what is said about it."""

    tip: Point
    text: str
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Callouts:
    """A column of callouts beside the drawing, set so that neither texts nor lines cross."""

    entries: tuple[Callout, ...]
    side: Side = Side.RIGHT


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Items that belong together, on a layer of their own name."""

    items: tuple[Item, ...]
    layer: str = ""
    name: str = ""
    title: str = ""


Item = Line | Polyline | Polygon | Arc | Circle | Text | CentreLine | CoatedFace | BreakLine | Dimension | Leader | Callouts | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """Everything shown in one view.

    Parameters
    ----------
    items : tuple of Item
        Drawn in this order; dimensions, leaders and texts always on top.
    title : str
        What the view shows.
    """

    items: tuple[Item, ...]
    title: str = ""

    def extents(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the shapes, without texts and dimensions. [mm]"""
        points = [p for item in flat(self.items) for p in shape_points(item)]
        if not points:
            return (0.0, 0.0, 0.0, 0.0)
        if not all(isfinite(value) for p in points for value in p):
            raise RenderError(f"The drawing '{self.title}' has a point that is not a number.")
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return (min(xs), min(ys), max(xs), max(ys))


def flat(items: Iterable[Item]) -> Iterable[Item]:
    """All items, those in groups too, without the groups."""
    for item in items:
        if isinstance(item, Group):
            yield from flat(item.items)
        else:
            yield item


def shape_points(item: Item) -> tuple[Point, ...]:
    """Points that decide how far a shape reaches; none for texts, dimensions and leaders. [mm]"""
    match item:
        case Line() | CentreLine() | CoatedFace() | BreakLine():
            return (item.start, item.end)
        case Polyline() | Polygon():
            return item.points
        case Arc() | Circle():
            (x, y), r = item.centre, item.radius_mm
            return ((x - r, y - r), (x + r, y + r))
        case _:
            return ()


def rectangle(
    *,
    x_mm: float,
    y_mm: float,
    width_mm: float,
    height_mm: float,
    material: Material | None = None,
    role: Role | None = Role.OUTLINE,
    grain_deg: float | None = None,
    open_edges: tuple[int, ...] = (),
    name: str = "",
    title: str = "",
) -> Polygon:
    """A rectangle with its lower left corner at (x, y); edges 0 to 3 are bottom, right, top, left."""
    corners = ((x_mm, y_mm), (x_mm + width_mm, y_mm), (x_mm + width_mm, y_mm + height_mm), (x_mm, y_mm + height_mm))
    return Polygon(points=corners, material=material, role=role, grain_deg=grain_deg, open_edges=open_edges, name=name, title=title)


def dimension_chain(
    stations: Sequence[Point],
    texts: Sequence[str],
    *,
    axis: Axis,
    side: Side,
    chain: str,
    names: Sequence[str] = (),
    base_mm: float | None = None,
    row: int | None = None,
) -> tuple[Dimension, ...]:
    """Dimensions from each station to the next, all in one row.

    Parameters
    ----------
    stations : sequence of Point
        Points along the axis, in order. [mm]
    texts : sequence of str
        One fewer than stations. An empty text leaves that piece out.
    axis, side, base_mm, row
        As in `Dimension`.
    chain : str
        A name that no other chain of the scene has.
    names : sequence of str
        Ledger entry of each text; may be empty.

    Returns
    -------
    tuple of Dimension
        To be put into the scene.

    Raises
    ------
    RenderError
        If the number of texts or names does not match.
    """
    if len(texts) != len(stations) - 1 or (names and len(names) != len(texts)):
        raise RenderError(f"The dimension chain '{chain}' has {len(stations)} stations and {len(texts)} texts.")
    return tuple(
        Dimension(start=a, end=b, text=text, axis=axis, side=side, name=name, base_mm=base_mm, row=row, chain=chain)
        for a, b, text, name in zip(stations, stations[1:], texts, names or [""] * len(texts), strict=False)
        if text
    )


def baseline_dimensions(
    origin: Point,
    stations: Sequence[Point],
    texts: Sequence[str],
    *,
    axis: Axis,
    side: Side,
    names: Sequence[str] = (),
    base_mm: float | None = None,
) -> tuple[Dimension, ...]:
    """Dimensions that all begin at one origin, each in a row of its own, the shortest inside.

    Raises
    ------
    RenderError
        If the number of texts or names does not match.
    """
    if len(texts) != len(stations) or (names and len(names) != len(texts)):
        raise RenderError(f"Baseline dimensions have {len(stations)} stations and {len(texts)} texts.")
    return tuple(
        Dimension(start=origin, end=p, text=text, axis=axis, side=side, name=name, base_mm=base_mm)
        for p, text, name in zip(stations, texts, names or [""] * len(texts), strict=False)
    )
