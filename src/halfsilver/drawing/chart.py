"""Charts as scenes in millimetres of the paper: a plot with its axes, curves cut at its edges, labels beside their curves.

Everything is told by the kind of line as well as by colour, so that a print in black and white reads the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from halfsilver.drawing.fonts import Weight
from halfsilver.drawing.scene import Anchor, Item, Line, Point, Polygon, Polyline, Text, rectangle
from halfsilver.drawing.spread import spread
from halfsilver.drawing.style import ACCENT, GREY, INK, Pen, Role

TICK_MM, SMALL_MM, LABEL_MM = 1.2, 1.9, 2.1
GRID = Pen(width_mm=0.1, colour="#d3d9de")
AXIS = Pen(width_mm=0.25, colour=INK)
WARM = "#9a4a12"
FULL = Pen(width_mm=0.6, colour=INK)
DASHED = Pen(width_mm=0.6, colour=ACCENT, dash_mm=(3.0, 1.2))
DOTTED = Pen(width_mm=0.6, colour=WARM, dash_mm=(0.8, 0.9))
STEPS = (1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One axis: its label, ends and marked values; logarithmic if asked."""

    label: str
    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]
    log: bool = False

    def share(self, value: float) -> float:
        """Place of a value along the axis, 0 to 1 between its ends."""
        if self.log:
            return log10(value / self.low) / log10(self.high / self.low)
        return (value - self.low) / (self.high - self.low)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """Two axes on paper, the lower left corner of their frame at (left, bottom). [mm]"""

    x: Axis
    y: Axis
    width_mm: float
    height_mm: float
    left_mm: float = 0.0
    bottom_mm: float = 0.0

    def at(self, x: float, y: float) -> Point:
        """Place on paper of two values. [mm]"""
        return self.left_mm + self.width_mm * self.x.share(x), self.bottom_mm + self.height_mm * self.y.share(y)

    @property
    def right_mm(self) -> float:
        """Right edge. [mm]"""
        return self.left_mm + self.width_mm

    @property
    def top_mm(self) -> float:
        """Upper edge. [mm]"""
        return self.bottom_mm + self.height_mm


def even_axis(label: str, low: float, high: float, *, most: int = 7, factor: float = 1.0) -> Axis:
    """An axis with evenly stepped round marks from ``low`` to at least ``high``; marks read value times ``factor``.

    Examples
    --------
    >>> [text for _, text in even_axis("mm", 0, 430, most=6).ticks]
    ['0', '100', '200', '300', '400', '500']
    """
    rough = (high - low) * factor / most
    size = 10.0 ** floor(log10(rough))
    step = next(one * size for one in STEPS if one * size >= rough * (1 - 1e-9))
    count = ceil((high - low) * factor / step - 1e-9)
    values = [low * factor + k * step for k in range(count + 1)]
    return Axis(label=label, low=low, high=values[-1] / factor, ticks=tuple((one / factor, f"{one:g}") for one in values))


def log_axis(label: str, low: float, high: float) -> Axis:
    """A logarithmic axis over whole decades that hold both values; thousands are set apart by a thin space from 10 000 on.

    Examples
    --------
    >>> [text for _, text in log_axis("cd/m2", 0.4, 30).ticks]
    ['0.1', '1', '10', '100']
    """
    first, last = floor(log10(low) + 1e-9), ceil(log10(high) - 1e-9)
    last = max(last, first + 1)
    values = [10.0**k for k in range(first, last + 1)]
    ticks = tuple((one, f"{one:,.0f}".replace(",", "\u2009" if one > 9999 else "") if one >= 1 else f"{one:g}") for one in values)
    return Axis(label=label, low=10.0**first, high=10.0**last, log=True, ticks=ticks)


def frame(plot: Plot) -> Iterator[Item]:
    """Grid, frame, marks and labels of both axes."""
    for value, _ in plot.x.ticks:
        x = plot.at(value, plot.y.low)[0]
        yield Line(start=(x, plot.bottom_mm), end=(x, plot.top_mm), pen=GRID)
    for value in (*(value for value, _ in plot.y.ticks), *_between(plot.y)):
        y = plot.at(plot.x.low, value)[1]
        yield Line(start=(plot.left_mm, y), end=(plot.right_mm, y), pen=GRID)
    yield from rim(plot)
    yield from marks(plot)


def rim(plot: Plot) -> Iterator[Item]:
    """The plot's frame."""
    left, bottom, right, top = plot.left_mm, plot.bottom_mm, plot.right_mm, plot.top_mm
    yield Polyline(points=((left, top), (left, bottom), (right, bottom), (right, top), (left, top)), pen=AXIS)


def marks(plot: Plot) -> Iterator[Item]:
    """Marks, their texts and the labels of both axes."""
    for value, text in plot.x.ticks:
        x = plot.at(value, plot.y.low)[0]
        yield Line(start=(x, plot.bottom_mm), end=(x, plot.bottom_mm - TICK_MM), pen=AXIS)
        yield Text(at=(x, plot.bottom_mm - TICK_MM - 1.0), text=text, anchor=Anchor.TOP_CENTRE, size_mm=SMALL_MM)
    for value, text in plot.y.ticks:
        y = plot.at(plot.x.low, value)[1]
        yield Line(start=(plot.left_mm, y), end=(plot.left_mm - TICK_MM, y), pen=AXIS)
        yield Text(at=(plot.left_mm - TICK_MM - 1.0, y), text=text, anchor=Anchor.MIDDLE_RIGHT, size_mm=SMALL_MM)
    middle = plot.left_mm + plot.width_mm / 2
    yield Text(at=(middle, plot.bottom_mm - 6.6), text=plot.x.label, anchor=Anchor.TOP_CENTRE, size_mm=LABEL_MM, colour=GREY)
    yield Text(at=(plot.left_mm, plot.top_mm + 2.6), text=plot.y.label, anchor=Anchor.BASE_LEFT, size_mm=LABEL_MM, colour=GREY)


def _between(axis: Axis) -> list[float]:
    """Minor places of a logarithmic axis."""
    if not axis.log or len(axis.ticks) > 8:
        return []
    return [k * value for value, _ in axis.ticks[:-1] for k in range(2, 10)]


def curve(plot: Plot, xs: Sequence[float], ys: Sequence[float], pen: Pen) -> Polyline | None:
    """A curve, its values held between the ends of the vertical axis."""
    points = tuple(plot.at(x, min(max(y, plot.y.low), plot.y.high)) for x, y in zip(xs, ys, strict=True) if plot.x.low <= x <= plot.x.high)
    return Polyline(points=points, pen=pen) if len(points) > 1 else None


def band(plot: Plot, xs: Sequence[float], low: Sequence[float], high: Sequence[float], fill: str) -> Polygon:
    """The area between two curves."""
    inside = [(x, *(min(max(y, plot.y.low), plot.y.high) for y in pair)) for x, *pair in zip(xs, low, high, strict=True)]
    return Polygon(points=(*(plot.at(x, a) for x, a, _ in inside), *(plot.at(x, b) for x, _, b in reversed(inside))), role=None, fill=fill)


def level(plot: Plot, value: float, pen: Pen) -> Polyline:
    """A level line over the whole plot, giving way to texts."""
    y = plot.at(plot.x.low, value)[1]
    return cased(((plot.left_mm, y), (plot.right_mm, y)), pen)


def side_labels(
    plot: Plot, entries: Iterable[tuple[float, str, Pen | None]], *, gap_mm: float = 3.0, clear_mm: float = 1.4
) -> Iterator[Item]:
    """Texts to the right of the plot, each as near the height of its curve's end as goes, with a sample of its line."""
    rising = sorted(entries, key=lambda entry: entry[0])
    heights = [SMALL_MM * (1.75 * text.count("\n") + 1) for _, text, _ in rising]
    wanted = [plot.at(plot.x.low, min(max(value, plot.y.low), plot.y.high))[1] for value, _, _ in rising]
    places = spread(wanted, heights, clear=clear_mm, room=(plot.bottom_mm - 2.0, plot.top_mm + 2.0))
    for place, (_, text, pen) in zip(places, rising, strict=True):
        start = plot.right_mm + gap_mm
        if pen:
            yield Line(start=(start, place), end=(start + 7.0, place), pen=pen)
        yield Text(at=(start + (8.6 if pen else 0.0), place), text=text, anchor=Anchor.MIDDLE_LEFT, size_mm=SMALL_MM)


def title(plot: Plot, text: str, *, above_mm: float = 7.5) -> Text:
    """The chart's heading."""
    return Text(at=(plot.left_mm, plot.top_mm + above_mm), text=text, anchor=Anchor.BASE_LEFT, size_mm=2.8, weight=Weight.BOLD)


def ground(plot: Plot, fill: str) -> Polygon:
    """The plot's area in one tint."""
    return Polygon(
        points=rectangle(x_mm=plot.left_mm, y_mm=plot.bottom_mm, width_mm=plot.width_mm, height_mm=plot.height_mm).points,
        role=None,
        fill=fill,
    )


def cased(points: tuple[Point, ...], pen: Pen) -> Polyline:
    """A line that gives way to the texts that stand on it."""
    return Polyline(points=points, role=Role.SIGHT, pen=pen)
