"""Small drawings for the cut sheets: a bar with its pieces, a sheet with its cuts in order. Proportional, without a scale of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from halfsilver.documents.scores import Score
from halfsilver.drawing.fonts import SHIPPED_FONT, Weight
from halfsilver.drawing.lettering import width_mm
from halfsilver.drawing.scene import Anchor, Item, Line, Point, Polygon, Scene, Text, rectangle
from halfsilver.drawing.style import ACCENT, Material, Role
from halfsilver.drawing.view import Scale, Sheet, View

BAR_MM, LEAST_SLOPE_MM = 8.5, 2.2
MARK_MM, NOTE_MM = 2.2, 1.8
PAD_MM = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BarShape:
    """One piece on a bar. [mm of the bar]

    ``left`` and ``right`` tell whether that end is mitred; ``flipped`` that its long side lies away from the fence.
    """

    start: float
    end: float
    left: bool
    right: bool
    flipped: bool
    number: int
    text: str


def bar_drawing(
    shapes: Sequence[BarShape], *, length_mm: float, trims: tuple[float, float], face_mm: float, room_mm: float, material: Material
) -> Sheet:
    """A bar from its start at the left, the fence above; pieces tinted, what falls off left pale.

    Parameters
    ----------
    shapes : sequence of BarShape
        Pieces in cutting order.
    length_mm : float
        Length of the bar. [mm]
    trims : tuple of float
        What is lost at the start and at the end. [mm]
    face_mm : float
        Width of the profile's face: how far a mitre runs in. [mm]
    room_mm : float
        Width of the drawing on paper. [mm]
    material : Material
        How the pieces are tinted.
    """
    scale = Scale(length_mm / room_mm)
    high = BAR_MM * scale.denominator
    slope = max(face_mm, LEAST_SLOPE_MM * scale.denominator)
    items: list[Item] = [
        rectangle(x_mm=0, y_mm=0, width_mm=length_mm, height_mm=high, material=Material.PICTURE, role=Role.THIN),
        Line(start=(trims[0], 0), end=(trims[0], high), role=Role.THIN),
        Line(start=(length_mm - trims[1], 0), end=(length_mm - trims[1], high), role=Role.THIN),
    ]
    for shape in shapes:
        items += _piece(shape, high, slope, scale, material)
    view = View(scene=Scene(items=tuple(items), title="Bar"), scale=scale, at_mm=(0.3, 0.3))
    return Sheet(width_mm=room_mm + 0.6, height_mm=BAR_MM + 0.6, views=(view,), title="Bar")


def _piece(shape: BarShape, high: float, slope: float, scale: Scale, material: Material) -> Iterator[Item]:
    a, b = shape.start, shape.end
    run = min(slope, (b - a) / 2.5)
    left, right = a + run * shape.left, b - run * shape.right
    outer, inner = (0.0, high) if shape.flipped else (high, 0.0)
    yield Polygon(points=((a, outer), (b, outer), (right, inner), (left, inner)), material=material, name="piece", title=shape.text)
    room = (right - left) / scale.denominator - 2 * PAD_MM
    middle = ((left + right) / 2, high / 2)
    for words, size, weight in _wordings(shape):
        if width_mm(words, size_mm=size, font=SHIPPED_FONT, weight=weight) <= room:
            yield Text(at=middle, text=words, anchor=Anchor.MIDDLE_CENTRE, size_mm=size, weight=weight)
            return


def _wordings(shape: BarShape) -> tuple[tuple[str, float, Weight], ...]:
    """What may stand in a piece, the most first."""
    return (
        (f"{shape.number}  {shape.text}", MARK_MM, Weight.REGULAR),
        (str(shape.number), MARK_MM, Weight.BOLD),
        (str(shape.number), NOTE_MM, Weight.BOLD),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PaneShape:
    """A pane on a sheet. [mm of the sheet]"""

    x: float
    y: float
    wide: float
    high: float
    words: tuple[str, ...]


def sheet_drawing(
    panes: Sequence[PaneShape],
    cuts: Sequence[Score],
    *,
    unit_mm: float,
    size_mm: tuple[float, float],
    usable: tuple[float, float, float, float],
    room_mm: tuple[float, float],
    material: Material,
) -> Sheet:
    """A sheet as it lies on the table, its cuts numbered in order.

    Parameters
    ----------
    panes : sequence of PaneShape
        Where they lie.
    cuts : sequence of Score
        In order. [unit]
    unit_mm : float
        Length of the unit. [mm]
    size_mm : tuple of float
        Width and height of the sheet. [mm]
    usable : tuple of float
        Left, bottom, right and top of what lies within the trim. [mm]
    room_mm : tuple of float
        Width and height on paper. [mm]
    material : Material
        How the panes are tinted.
    """
    wide, high = size_mm
    scale = Scale(max(wide / (room_mm[0] - 4), high / (room_mm[1] - 4)))
    items: list[Item] = [rectangle(x_mm=0, y_mm=0, width_mm=wide, height_mm=high, material=Material.PICTURE)]
    left, bottom, right, top = usable
    items.append(rectangle(x_mm=left, y_mm=bottom, width_mm=right - left, height_mm=top - bottom, role=Role.HIDDEN))
    taken: list[_Taken] = []
    for pane in panes:
        items += _pane(pane, scale, material, taken)
    for cut in cuts:
        items += _cut(cut, unit_mm, scale, taken)
    view = View(scene=Scene(items=tuple(items), title="Sheet"), scale=scale, at_mm=(2.0, 2.0))
    return Sheet(width_mm=wide / scale.denominator + 4, height_mm=high / scale.denominator + 4, views=(view,), title="Sheet")


_Taken = tuple[float, float, float, float]
FRACTIONS = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.43, 0.57, 0.28, 0.72)


def _pane(pane: PaneShape, scale: Scale, material: Material, taken: list[_Taken]) -> Iterator[Item]:
    yield rectangle(
        x_mm=pane.x, y_mm=pane.y, width_mm=pane.wide, height_mm=pane.high, material=material, role=None, name="pane", title=pane.words[0]
    )
    middle = (pane.x + pane.wide / 2, pane.y + pane.high / 2)
    room = (pane.wide / scale.denominator - 2 * PAD_MM, pane.high / scale.denominator - 2 * PAD_MM)
    for count in range(len(pane.words), 0, -1):
        for turn in (0.0, 90.0):
            text = "\n".join(pane.words[:count])
            across, up = _size(text)
            if across <= room[turn != 0.0] and up <= room[turn == 0.0]:
                yield Text(at=middle, text=text, anchor=Anchor.MIDDLE_CENTRE, size_mm=MARK_MM, rotation_deg=turn)
                taken.append(_around(middle, scale, (across, up) if turn == 0.0 else (up, across)))
                return


def _size(text: str) -> tuple[float, float]:
    return width_mm(text, size_mm=MARK_MM, font=SHIPPED_FONT), (text.count("\n") + 1) * MARK_MM * 1.75


def _around(at: Point, scale: Scale, size: tuple[float, float]) -> _Taken:
    """What a text about a place covers on paper. [mm]"""
    x, y = at[0] / scale.denominator, at[1] / scale.denominator
    return (x - size[0] / 2, y - size[1] / 2, x + size[0] / 2, y + size[1] / 2)


def _cut(cut: Score, unit_mm: float, scale: Scale, taken: list[_Taken]) -> Iterator[Item]:
    """The line of a cut, its number on it where nothing else stands."""
    at, start, end = cut.at * unit_mm, cut.start * unit_mm, cut.end * unit_mm
    upright = cut.cut == "v"
    yield Line(start=(at, start) if upright else (start, at), end=(at, end) if upright else (end, at), role=Role.SIGHT)
    number = str(cut.number)
    size = (width_mm(number, size_mm=MARK_MM, font=SHIPPED_FONT, weight=Weight.BOLD) + 1.2, MARK_MM * 1.6)
    for share in FRACTIONS:
        along = start + share * (end - start)
        place = (at, along) if upright else (along, at)
        box = _around(place, scale, size)
        if not any(box[0] < t[2] and t[0] < box[2] and box[1] < t[3] and t[1] < box[3] for t in taken):
            break
    taken.append(box)
    yield Text(at=place, text=number, anchor=Anchor.MIDDLE_CENTRE, size_mm=MARK_MM, weight=Weight.BOLD, colour=ACCENT)
