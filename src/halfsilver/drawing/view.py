"""Scales, views and sheets: where a scene stands on paper, and how large."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfsilver.drawing.ink import Box
from halfsilver.drawing.scene import Item, Point, Scene
from halfsilver.errors import RenderError


@dataclass(frozen=True, slots=True, order=True)
class Scale:
    """How many millimetres of the thing one millimetre of paper shows.

    Examples
    --------
    >>> Scale(2.5).text, Scale(0.5).text
    ('1:2.5', '2:1')
    """

    denominator: float

    @property
    def factor(self) -> float:
        """Paper length divided by real length. [-]"""
        return 1.0 / self.denominator

    @property
    def text(self) -> str:
        """The scale as a title block prints it."""
        return f"1:{self.denominator:g}" if self.denominator >= 1.0 else f"{1.0 / self.denominator:g}:1"


SCALES = tuple(Scale(d) for d in (1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 25.0, 50.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A scene put onto paper.

    Parameters
    ----------
    scene : Scene
        What is shown.
    scale : Scale
        How large.
    at_mm : Point
        Where the scene's origin comes to lie, from the lower left corner of the sheet. [mm]
    caption : str
        Title printed under the view, the scale behind it; empty for none.
    """

    scene: Scene
    scale: Scale
    at_mm: Point = (0.0, 0.0)
    caption: str = ""

    def paper(self, p: Point) -> Point:
        """Place on paper of a point of the scene. [mm]"""
        k = self.scale.factor
        return (self.at_mm[0] + p[0] * k, self.at_mm[1] + p[1] * k)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One piece of paper.

    Parameters
    ----------
    width_mm, height_mm : float
        Size of the paper. [mm]
    views : tuple of View
        What stands on it.
    items : tuple of Item
        Frame, title block and notes, in millimetres of the paper from its lower left corner.
    title : str
        Name of the drawing.
    """

    width_mm: float
    height_mm: float
    views: tuple[View, ...] = ()
    items: tuple[Item, ...] = ()
    title: str = ""


def largest_scale(extents: Box, *, width_mm: float, height_mm: float, scales: Sequence[Scale] = SCALES) -> Scale:
    """The largest of the usual scales at which a shape fits a box of paper.

    Parameters
    ----------
    extents : Box
        Left, bottom, right and top of the shape. [mm]
    width_mm, height_mm : float
        The box. [mm]
    scales : sequence of Scale
        Scales to choose from.

    Returns
    -------
    Scale
        The largest that fits.

    Raises
    ------
    RenderError
        If even the smallest is too large.

    Examples
    --------
    >>> largest_scale((0, 0, 1400, 800), width_mm=180, height_mm=120).text
    '1:10'
    """
    left, bottom, right, top = extents
    for scale in sorted(scales):
        k = scale.factor
        if (right - left) * k <= width_mm + 1e-9 and (top - bottom) * k <= height_mm + 1e-9:
            return scale
    raise RenderError(
        f"A shape of {right - left:.0f} x {top - bottom:.0f} mm does not fit {width_mm:.0f} x {height_mm:.0f} mm of paper"
        f" even at {max(scales).text}. Take a larger sheet."
    )
