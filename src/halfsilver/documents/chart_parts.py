"""What the charts share: pens, sizes, the note below a plot."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from halfsilver.drawing.chart import SMALL_MM, Plot
from halfsilver.drawing.lettering import wrapped
from halfsilver.drawing.scene import Anchor, Item, Scene, Text
from halfsilver.drawing.style import DEFAULT_STYLE, GREY, INK, Pen

PALE_BAND = "#e4ecef"
THIN = Pen(width_mm=0.2, colour=INK)
FAINT = Pen(width_mm=0.18, colour=GREY, dash_mm=(1.6, 0.9))
PLOT_MM = (112.0, 74.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A chart: its scene in millimetres of the paper, and what it says to a client."""

    name: str
    scene: Scene
    says: str


def scene_of(items: Iterable[Item], heading: str) -> Scene:
    """A chart's items as a scene."""
    return Scene(items=tuple(items), title=heading)


def note(plot: Plot, text: str, *, below_mm: float = 12.5, width_mm: float = 160.0) -> Text:
    """Small print below a plot."""
    set_ = wrapped(text, room_mm=width_mm, size_mm=SMALL_MM, font=DEFAULT_STYLE.font)
    return Text(at=(plot.left_mm, plot.bottom_mm - below_mm), text=set_, anchor=Anchor.TOP_LEFT, size_mm=SMALL_MM, colour=GREY)
