"""How much of a picture an eye sees through openings one behind another, in three dimensions and for many eyes at once.

Openings, sheets and picture lie square to one axis; x is to the right, y up, depths count backwards from the face. A ray stays in the
plane that holds the eye, the picture's point and the normal, and t, the tangent of its angle in air, moves it by t through each
millimetre of air and by t/sqrt(n^2 + (n^2 - 1) t^2) through each of glass (Snell's law through plane sheets). What an opening's straight
edge hides therefore has a border that bends a little; it is followed through three points of each side and a parabola between them.

Numbers of arrays stand last-axis-first: ``(..., eyes)``. Sides are always left, right, bottom, top.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfsilver.errors import RangeError

Real = NDArray[np.float64]
Index = NDArray[np.intp]
Rectangle = tuple[float, float, float, float]
LEFT, RIGHT, BOTTOM, TOP = range(4)
SIDES = ("left", "right", "bottom", "top")
STEPS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A rectangular opening that rays must pass.

    Parameters
    ----------
    label : str
        Whose edges they are, in a maker's words.
    depth_mm : float
        Behind the face. [mm]
    edges_mm : tuple of float
        Left, right, bottom and top. [mm]
    sheets_before : int
        How many sheets lie between the face and it, 0 or 1.
    """

    label: str
    depth_mm: float
    edges_mm: Rectangle
    sheets_before: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Aperture:
    """A picture behind openings and sheets.

    Parameters
    ----------
    openings : tuple of Opening
        At least one.
    picture_mm : tuple of float
        Left, right, bottom and top of the picture. [mm]
    depth_mm : float
        The picture behind the face. [mm]
    sheets : tuple of (float, float)
        Thickness [mm] and refractive index of each sheet, front to back.
    """

    openings: tuple[Opening, ...]
    picture_mm: Rectangle
    depth_mm: float
    sheets: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seen:
    """What each eye sees.

    Parameters
    ----------
    share : array, shape (eyes,)
        Share of the picture that is seen. [-]
    border_mm : array, shape (4, eyes)
        How far beyond the picture's edge, or short of it where negative, sight ends at the middle of each side. [mm]
    limit : array of int, shape (4, eyes)
        Index of the opening that ends it there.
    """

    share: Real
    border_mm: Real
    limit: Index

    def worst_side(self) -> Index:
        """Side on which each eye loses most, as its place in `SIDES`."""
        return np.asarray(self.border_mm.argmin(axis=0))


def seen_through(aperture: Aperture, eyes_mm: ArrayLike) -> Seen:
    """What eyes see of a picture.

    Parameters
    ----------
    aperture : Aperture
        What they look through.
    eyes_mm : array, shape (3, eyes)
        To the right of and above the middle, and before the face. [mm]

    Returns
    -------
    Seen
        Share, and what limits it.

    Raises
    ------
    RangeError
        If an eye does not lie before the face.
    """
    eyes = np.asarray(eyes_mm, dtype=float).reshape(3, -1)
    if not np.all(eyes[2] > 0):
        raise RangeError("Every eye must lie before the face.")
    edges = _Edges.of(aperture)
    left, right, bottom, top = aperture.picture_mm
    low, high = np.array([[left], [bottom]]), np.array([[right], [top]])

    def end(side: int, across: Real) -> Real:
        """Where sight ends on a side, within the picture. [mm]"""
        axis = side // 2
        return np.asarray(np.clip(edges.ends(eyes, side, across), low[axis], high[axis]))

    middle = [np.full(eyes.shape[1], (a + b) / 2) for a, b in ((bottom, top), (left, right))]
    straight = [end(side, middle[side // 2]) for side in range(4)]
    corner = {pair: (straight[pair[0]], straight[pair[1]]) for pair in ((LEFT, BOTTOM), (RIGHT, BOTTOM), (RIGHT, TOP), (LEFT, TOP))}
    for _ in range(2):
        corner = {(h, v): (end(h, y), end(v, x)) for (h, v), (x, y) in corner.items()}
    x, y = np.moveaxis(np.array(list(corner.values())), 1, 0)
    half = [(y[0] + y[3]) / 2, (y[1] + y[2]) / 2, (x[0] + x[1]) / 2, (x[3] + x[2]) / 2]
    found, limit = zip(*(edges.limits(eyes, side, half[side]) for side in range(4)), strict=True)
    ends = [np.clip(found[side], low[side // 2], high[side // 2]) for side in range(4)]
    area = _area(x, y, ends, half)
    open_ = (ends[RIGHT] > ends[LEFT]) & (ends[TOP] > ends[BOTTOM])
    whole = (right - left) * (top - bottom)
    border = np.array([left - found[LEFT], found[RIGHT] - right, bottom - found[BOTTOM], found[TOP] - top])
    return Seen(share=np.where(open_, np.clip(area / whole, 0.0, 1.0), 0.0), border_mm=border, limit=np.array(limit))


def _area(x: Real, y: Real, ends: Sequence[Real], half: Sequence[Real]) -> Real:
    """Area inside four corners, (4, eyes), and a parabola through a middle point of each side between them. [mm2]

    A parabola holds 4/3 of what the two chords to its vertex do.
    """
    mid_x = np.array([half[BOTTOM], ends[RIGHT], half[TOP], ends[LEFT]])
    mid_y = np.array([ends[BOTTOM], half[RIGHT], ends[TOP], half[LEFT]])
    four = _shoelace(x, y)
    eight = _shoelace(np.stack((x, mid_x), axis=1).reshape(8, -1), np.stack((y, mid_y), axis=1).reshape(8, -1))
    return np.asarray(four + 4 / 3 * (eight - four))


def _shoelace(x: Real, y: Real) -> Real:
    return np.asarray((x * np.roll(y, -1, axis=0) - np.roll(x, -1, axis=0) * y).sum(axis=0) / 2)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Edges:
    """The openings as columns, (openings, 1) each: air and glass before them and before the picture."""

    edges_mm: tuple[Real, ...]
    air_before: Real
    glass_before: Real
    index: float
    air: float
    glass: tuple[tuple[float, float], ...]

    @classmethod
    def of(cls, aperture: Aperture) -> _Edges:
        if not aperture.openings:
            raise RangeError("There is no opening to look through.")
        first, index = aperture.sheets[0] if aperture.sheets else (0.0, 1.0)

        def column(values: Sequence[float]) -> Real:
            return np.array(values, dtype=float)[:, None]

        glass_before = column([first * min(one.sheets_before, 1) for one in aperture.openings])
        return cls(
            edges_mm=tuple(column([one.edges_mm[side] for one in aperture.openings]) for side in range(4)),
            air_before=column([one.depth_mm for one in aperture.openings]) - glass_before,
            glass_before=glass_before,
            index=index,
            air=aperture.depth_mm - sum(thickness for thickness, _ in aperture.sheets),
            glass=aperture.sheets,
        )

    def ends(self, eyes: Real, side: int, across: Real) -> Real:
        """Where sight ends on a side, at a place of the picture along that side, both counted from the middle. [mm]"""
        reach = self._all(eyes, side, across)
        return np.asarray(reach.max(axis=0) if side in (LEFT, BOTTOM) else reach.min(axis=0))

    def limits(self, eyes: Real, side: int, across: Real) -> tuple[Real, Index]:
        """The same, with the opening that decides."""
        reach = self._all(eyes, side, across)
        which = np.asarray(reach.argmax(axis=0) if side in (LEFT, BOTTOM) else reach.argmin(axis=0))
        return np.asarray(np.take_along_axis(reach, which[None], axis=0)[0]), which

    def _all(self, eyes: Real, side: int, across: Real) -> Real:
        """Where the ray past each opening's edge meets the picture, (openings, eyes).

        ``spread`` is its way to the picture over its way to the opening, both sideways; the tangent divides out of it. Newton's steps for
        the tangent and for ``spread`` go together, from the straight line.
        """
        axis = side // 2
        to_edge, beside = self.edges_mm[side] - eyes[axis], across - eyes[1 - axis]
        to_edge2, beside2 = to_edge * to_edge, beside * beside
        air_before, air = self.air_before + eyes[2], self.air + eyes[2]
        spread = np.broadcast_to(air / air_before, to_edge.shape)
        tangent = np.sqrt(to_edge2 + beside2 / (spread * spread)) / (air_before + self.glass_before / self.index)
        for step in range(STEPS):
            slope = _slope(tangent, self.index)
            before = air_before + self.glass_before * slope
            spread = (air + sum(thickness * (slope if n == self.index else _slope(tangent, n)) for thickness, n in self.glass)) / before
            if step < STEPS - 1:
                miss = np.sqrt(to_edge2 + beside2 / (spread * spread)) - before * tangent
                tangent = tangent + miss / (air_before + self.glass_before * self.index**2 * slope**3)
        return np.asarray(eyes[axis] + to_edge * spread)


def _slope(tangent: Real, index: float) -> Real:
    """Way sideways through a millimetre of glass over the tangent in air. [-]"""
    return np.asarray(1.0 / np.sqrt(index * index + (index * index - 1.0) * tangent * tangent))
