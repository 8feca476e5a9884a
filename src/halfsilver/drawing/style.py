"""How a drawing is inked: pens, tints, hatch patterns and the sizes of lettering, all in millimetres of the paper.

Line widths follow the series 0.5 / 0.35 / 0.25 / 0.18 mm of ISO 128-20 (from memory); lettering height is the height of a
capital, as in ISO 3098. Nothing here grows or shrinks with the scale of a view.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from halfsilver.drawing.fonts import SHIPPED_FONT, FontMetrics

INK = "#1c1f24"
ACCENT = "#0d5570"
GREY = "#6b7078"


class Role(Enum):
    """What a line says."""

    OUTLINE = "outline"
    CUT = "cut"
    HIDDEN = "hidden"
    CENTRE = "centre"
    THIN = "thin"
    HATCH = "hatch"
    DIMENSION = "dimension"
    EXTENSION = "extension"
    TICK = "tick"
    LEADER = "leader"
    COATING = "coating"
    BREAK = "break"
    SIGHT = "sight"
    FRAME = "frame"


class Material(Enum):
    """What a filled shape is made of, as far as a drawing shows it."""

    TIMBER_END = "timber-end"
    TIMBER_LONG = "timber-long"
    GLASS = "glass"
    METAL = "metal"
    FOAM = "foam"
    SCREEN = "screen"
    PICTURE = "picture"
    LIGHT = "light"
    BACKING = "backing"
    WALL = "wall"
    VOID = "void"


class Pattern(Enum):
    """How a filled shape is hatched."""

    NONE = "none"
    LINES = "lines"
    PAIRS = "pairs"
    RINGS = "rings"
    GRAIN = "grain"
    STROKES = "strokes"
    DOTS = "dots"


class Terminator(Enum):
    """How a dimension line ends."""

    TICK = "tick"
    ARROW = "arrow"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """A line's width, colour and dashes.

    Parameters
    ----------
    width_mm : float
        Width on paper. [mm]
    colour : str
        ``#rrggbb``.
    dash_mm : tuple of float
        Stroke and gap by turns; empty for a full line. [mm]
    """

    width_mm: float
    colour: str = INK
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """Tint and hatch of one material.

    Parameters
    ----------
    tint : str
        ``#rrggbb``, or empty for none.
    pattern : Pattern
        Kind of hatch.
    line : str
        Colour of the hatch.
    angle_deg : float
        Direction of the hatch, anticlockwise from the right. [deg]
    spacing_mm : float
        Distance between hatch lines on paper. [mm]
    """

    tint: str
    pattern: Pattern = Pattern.NONE
    line: str = GREY
    angle_deg: float = 45.0
    spacing_mm: float = 1.5


def _pens() -> dict[Role, Pen]:
    return {
        Role.OUTLINE: Pen(width_mm=0.35),
        Role.CUT: Pen(width_mm=0.5),
        Role.HIDDEN: Pen(width_mm=0.25, dash_mm=(2.0, 1.0)),
        Role.CENTRE: Pen(width_mm=0.18, dash_mm=(6.0, 1.0, 0.8, 1.0)),
        Role.THIN: Pen(width_mm=0.18),
        Role.HATCH: Pen(width_mm=0.13, colour=GREY),
        Role.DIMENSION: Pen(width_mm=0.18, colour=ACCENT),
        Role.EXTENSION: Pen(width_mm=0.13, colour=ACCENT),
        Role.TICK: Pen(width_mm=0.35, colour=ACCENT),
        Role.LEADER: Pen(width_mm=0.18),
        Role.COATING: Pen(width_mm=0.7, colour="#9a4a12", dash_mm=(3.2, 0.8, 0.8, 0.8)),
        Role.BREAK: Pen(width_mm=0.18),
        Role.SIGHT: Pen(width_mm=0.18, dash_mm=(3.0, 1.2)),
        Role.FRAME: Pen(width_mm=0.35),
    }


def _fillings() -> dict[Material, Filling]:
    return {
        Material.TIMBER_END: Filling(tint="#f3e6d1", pattern=Pattern.RINGS, line="#b08d5f", spacing_mm=1.3),
        Material.TIMBER_LONG: Filling(tint="#f6ecdb", pattern=Pattern.GRAIN, line="#c2a377", spacing_mm=1.5),
        Material.GLASS: Filling(tint="#d9eeeb", pattern=Pattern.STROKES, line="#5f9a95", spacing_mm=9.0),
        Material.METAL: Filling(tint="#e3e6ea", pattern=Pattern.LINES, line="#6f7781", spacing_mm=0.9),
        Material.FOAM: Filling(tint="#eeebf2", pattern=Pattern.DOTS, line="#8b829b", spacing_mm=1.2),
        Material.SCREEN: Filling(tint="#d4d7dc"),
        Material.PICTURE: Filling(tint="#eef0f3"),
        Material.LIGHT: Filling(tint="#f4b63f"),
        Material.BACKING: Filling(tint="#ece4d8", pattern=Pattern.LINES, line="#a08f76", angle_deg=135.0, spacing_mm=1.3),
        Material.WALL: Filling(tint="#f1f0ed", pattern=Pattern.PAIRS, line="#8f8b84", spacing_mm=3.2),
        Material.VOID: Filling(tint="#ffffff"),
    }


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DrawingStyle:
    """One value that decides the look of every drawing; lengths are millimetres of the paper.

    Parameters
    ----------
    font : FontMetrics
        The one family used.
    text_mm, title_mm : float
        Height of capitals in dimensions and notes, and in titles of views. [mm]
    text_gap_mm : float
        Between a dimension line and its text. [mm]
    first_level_mm, level_mm : float
        Outline to the first dimension line; least distance from one to the next. [mm]
    extension_gap_mm, overshoot_mm : float
        Extension lines begin and end that far from the point and beyond the line. [mm]
    tick_mm, arrow_mm, dot_mm : float
        Length of a tick, length of an arrowhead, diameter of a leader's dot. [mm]
    clear_mm : float
        Clear space kept between neighbouring texts. [mm]
    column_mm : float
        Between the drawing and a column of callouts. [mm]
    """

    font: FontMetrics = SHIPPED_FONT
    pens: Mapping[Role, Pen] = field(default_factory=_pens)
    fillings: Mapping[Material, Filling] = field(default_factory=_fillings)
    terminator: Terminator = Terminator.TICK
    text_colour: str = INK
    dimension_colour: str = ACCENT
    text_mm: float = 2.5
    title_mm: float = 3.5
    text_gap_mm: float = 0.9
    first_level_mm: float = 9.0
    level_mm: float = 7.0
    extension_gap_mm: float = 1.0
    overshoot_mm: float = 1.6
    tick_mm: float = 2.2
    arrow_mm: float = 2.5
    dot_mm: float = 0.9
    clear_mm: float = 1.5
    column_mm: float = 9.0
    line_spacing: float = 1.75


DEFAULT_STYLE = DrawingStyle()
