"""The camera of a still: a level view camera at the eye, and what its pixels take in.

A ray is known by its slopes, millimetres aside per millimetre of depth. The camera is turned towards the piece but kept level, and
its picture is shifted up or down until the piece stands in the middle, as architecture is photographed: upright edges stay
upright, and each column of the picture has one sideways slope.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from halfsilver.errors import RangeError
from halfsilver.optics.still import Frame, Pane

Real = NDArray[np.float64]
ROUND_THE_PIECE = 1.24  # picture over piece
ROUNDS = 4  # each brings a slope a thousand times nearer


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Eye, turn and size of the picture.

    Parameters
    ----------
    x_mm, y_mm, distance_mm : float
        The eye, from the centre of the outside and before the front face.
    half : float
        Half the width of the picture at distance 1.
    middle : float
        Height of the picture's middle at distance 1.
    width_px, height_px : int
        Size.
    """

    x_mm: float
    y_mm: float
    distance_mm: float
    half: float
    middle: float
    width_px: int
    height_px: int

    @property
    def turn(self) -> float:
        """Turn of the camera to the right. [rad]"""
        return atan2(-self.x_mm, self.distance_mm)

    @property
    def step(self) -> float:
        """Width of a pixel at distance 1."""
        return 2 * self.half / self.width_px

    def columns(self, side: int = 1) -> tuple[Real, Real]:
        """Sideways slopes of the columns' edges, and what turns a height at distance 1 in their middle into a slope."""
        edges = (np.arange(self.width_px * side + 1) / (self.width_px * side) * 2 - 1) * self.half
        middles = (edges[1:] + edges[:-1]) / 2
        return (sin(self.turn) + edges * cos(self.turn)) / self._ahead(edges), 1 / self._ahead(middles)

    def rows(self, side: int = 1) -> Real:
        """Heights at distance 1 of the rows' edges, from the top."""
        count = self.height_px * side
        return self.middle + (0.5 - np.arange(count + 1) / count) * self.step * self.height_px

    def place_px(self, x_mm: float, y_mm: float, depth_mm: float) -> tuple[float, float]:
        """Column and row where a point in the air before the glass is seen; the first pixel reaches from 0 to 1."""
        away = self.distance_mm + depth_mm
        return self.slopes_px((x_mm - self.x_mm) / away, (y_mm - self.y_mm) / away)

    def slopes_px(self, x: float, y: float) -> tuple[float, float]:
        """Column and row of a ray by its slopes."""
        across = (x * cos(self.turn) - sin(self.turn)) / (cos(self.turn) + x * sin(self.turn))
        up = y * (cos(self.turn) - across * sin(self.turn))
        return (across / self.half + 1) / 2 * self.width_px, self.height_px / 2 - (up - self.middle) / self.step

    def _ahead(self, across: Real) -> Real:
        return cos(self.turn) - across * sin(self.turn)


def view_of(frame: Frame, *, x_mm: float, y_mm: float, distance_mm: float, width_px: int, height_px: int) -> View:
    """The view that holds the whole frame with some wall round it.

    Raises
    ------
    RangeError
        If the eye is not before the piece, or the picture has no pixels.
    """
    if not distance_mm > 0:
        raise RangeError(f"The eye is {distance_mm:g} mm before the piece; it must be before it.")
    if min(width_px, height_px) < 1:
        raise RangeError("A picture needs at least one pixel each way.")
    turn = atan2(-x_mm, distance_mm)
    middle = -y_mm / hypot(x_mm, distance_mm)
    wide = high = 0.0
    for sx in (-1, 1):
        x = (sx * frame.width_mm / 2 - x_mm) / distance_mm
        across = (x * cos(turn) - sin(turn)) / (cos(turn) + x * sin(turn))
        wide = max(wide, abs(across))
        for sy in (-1, 1):
            up = (sy * frame.height_mm / 2 - y_mm) / distance_mm * (cos(turn) - across * sin(turn))
            high = max(high, abs(up - middle))
    half = ROUND_THE_PIECE * max(wide, high * width_px / height_px)
    return View(x_mm=x_mm, y_mm=y_mm, distance_mm=distance_mm, half=half, middle=middle, width_px=width_px, height_px=height_px)


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """What is seen through an opening: the slopes of its four edges."""

    left: float
    right: float
    bottom: float
    top: float

    def cover(self, box: Box) -> Real:
        """Share of each box that looks through it."""
        across = (np.minimum(box.right, self.right) - np.maximum(box.left, self.left)) / (box.right - box.left)
        up = (np.minimum(box.top, self.top) - np.maximum(box.bottom, self.bottom)) / (box.top - box.bottom)
        return np.asarray(np.clip(across, 0.0, 1.0) * np.clip(up, 0.0, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Box:
    """Slopes at the edges of pixels, all of one shape or broadcasting."""

    left: Real
    right: Real
    bottom: Real
    top: Real

    @property
    def x(self) -> Real:
        """Middle, sideways."""
        return (self.left + self.right) / 2

    @property
    def y(self) -> Real:
        """Middle, up."""
        return (self.bottom + self.top) / 2

    def taken(self, chosen: NDArray[np.intp]) -> Box:
        """Some of them, by flat index; all four of one shape."""
        return Box(
            left=self.left.ravel()[chosen],
            right=self.right.ravel()[chosen],
            bottom=self.bottom.ravel()[chosen],
            top=self.top.ravel()[chosen],
        )


def glass_depth(pane: Pane, slope: float) -> float:
    """Depth in air that carries a ray of a slope as far aside as the pane does: t/sqrt(n^2 (1 + s^2) - s^2). [mm]"""
    return pane.thickness_mm / sqrt(pane.index**2 * (1 + slope**2) - slope**2)


def slope_to(offset_mm: float, air_mm: float, panes: tuple[Pane, ...] = ()) -> float:
    """Slope in air of the ray that goes ``offset_mm`` aside through air and panes (Snell's law)."""
    slope = offset_mm / air_mm
    for _ in range(ROUNDS if panes else 0):
        depth = air_mm
        for pane in panes:
            depth += glass_depth(pane, slope)
        slope = offset_mm / depth
    return slope
