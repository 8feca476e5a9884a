"""A moulding's profile: what a maker reads off it.

A profile is a polygon of (x, z): x from the outer edge towards the opening, z from the face backwards. It has one rebate, open to the
back: a wall at x = ``body`` that runs from the back face forward to the back of the lip, and the lip reaching on to the sight edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from halfsilver.errors import RangeError
from halfsilver.geometry.polygon import Point, Polygon, above, area_mm2, centroid_mm, crossings_y_mm, swapped

_TOUCH_MM = 1e-6


@dataclass(frozen=True)
class Profile:
    """The cross section of one stick.

    Parameters
    ----------
    points : Polygon
        Corners (x, z) [mm], closed, in either direction.
    planed_mm : float
        What has been taken off the face; depths stay measured from the unplaned face.

    Raises
    ------
    RangeError
        If there is no rebate: no wall that starts at the back face and no lip beyond it.
    """

    points: Polygon
    planed_mm: float = 0.0

    def __post_init__(self) -> None:
        if self.lip_mm <= 0 or self.rebate_depth_mm <= 0:
            raise RangeError("The profile has no rebate: the back face must end at a wall, and a lip must reach beyond it.")

    @cached_property
    def section(self) -> Polygon:
        """The polygon as it stands, planed."""
        return above(self.points, level_mm=self.planed_mm) if self.planed_mm > 0 else self.points

    @cached_property
    def depth_mm(self) -> float:
        """Unplaned face to back. [mm]"""
        return max(z for _, z in self.points)

    @cached_property
    def body_mm(self) -> float:
        """Outer edge to rebate wall. [mm]"""
        return max(x for x, z in self.points if z >= self.depth_mm - _TOUCH_MM)

    @cached_property
    def lip_back_mm(self) -> float:
        """Unplaned face to the back of the lip. [mm]"""
        corners = [*self.points, *self.points[:1]]
        for a, b in pairwise(corners):
            on_wall = abs(a[0] - self.body_mm) < _TOUCH_MM and abs(b[0] - self.body_mm) < _TOUCH_MM
            if on_wall and max(a[1], b[1]) >= self.depth_mm - _TOUCH_MM:
                return min(a[1], b[1])
        return self.depth_mm

    @property
    def rebate_depth_mm(self) -> float:
        """Back of the lip to the back; planing the face leaves it as it is. [mm]"""
        return self.depth_mm - self.lip_back_mm

    @cached_property
    def face_mm(self) -> float:
        """Outer edge to the furthest reach of the lip as it stands. [mm]"""
        return max(x for x, _ in self.section)

    @property
    def lip_mm(self) -> float:
        """Rebate wall to the furthest reach of the lip as it stands; what remains of a sloped lip follows from the profile. [mm]"""
        return self.face_mm - self.body_mm

    @property
    def lip_thickness_mm(self) -> float:
        """What is left of the lip's thickness. [mm]"""
        return self.lip_back_mm - self.planed_mm

    @cached_property
    def lip_edges(self) -> tuple[Point, ...]:
        """Corners of the lip that a ray through the opening may meet, front to back: (x, z). [mm]"""
        tips = [(x, z) for x, z in self.section if x > self.body_mm + _TOUCH_MM and z <= self.lip_back_mm + _TOUCH_MM]
        return tuple(sorted(_shading(tips), key=lambda point: point[1]))

    @property
    def area_mm2(self) -> float:
        """Area of the section as it stands. [mm2]"""
        return area_mm2(self.section)

    @property
    def centroid_mm(self) -> Point:
        """Centroid (x, z) of the section as it stands. [mm]"""
        return centroid_mm(self.section)

    def planed(self, planed_mm: float) -> Profile:
        """The same moulding with ``planed_mm`` taken off its face.

        Raises
        ------
        RangeError
            If nothing of the lip would be left.
        """
        if planed_mm >= self.lip_back_mm:
            raise RangeError(f"Planing {planed_mm:g} mm takes the whole lip of {self.lip_back_mm:g} mm.")
        return Profile(self.points, planed_mm)

    def timber_from_back_mm(self, *, x_mm: float) -> float:
        """Thickness of timber a screw meets, driven from the back at ``x_mm`` from the outer edge. [mm]"""
        found = crossings_y_mm(self.section, x_mm=x_mm)
        return found[-1] - found[-2] if len(found) >= 2 and found[-1] >= self.depth_mm - 0.5 else 0.0

    def timber_outwards_mm(self, *, z_mm: float) -> float:
        """Thickness of timber a pin meets, driven outwards through the rebate wall at depth ``z_mm``. [mm]"""
        found = crossings_y_mm(swapped(self.section), x_mm=z_mm)
        return found[-1] - found[-2] if len(found) >= 2 else 0.0


def _shading(tips: list[Point]) -> list[Point]:
    """Only corners that some ray can graze: the hull of the lip on the side of the opening."""
    kept: list[Point] = []
    for point in sorted(tips, key=lambda p: (p[1], p[0])):
        if kept and abs(kept[-1][1] - point[1]) < _TOUCH_MM:
            kept.pop()
        while len(kept) >= 2 and _inside(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return kept


def _inside(a: Point, b: Point, c: Point) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0


def mitred_stick_volume_mm3(profile: Profile, *, long_point_mm: float) -> float:
    """Volume of a stick mitred at 45 degrees at both ends, from its long point. [mm3]

    Each fibre at distance x from the outer edge is shorter by 2 x, so the volume is area times (length - 2 x of the centroid).
    """
    return profile.area_mm2 * (long_point_mm - 2 * profile.centroid_mm[0])


def mitred_stick_centroid_x_mm(profile: Profile, *, long_point_mm: float) -> float:
    """Distance of the stick's centre of mass from its outer edge, the mitres counted. [mm]

    The fibre at x weighs as (L - 2 x): the mean of x is (L x1 - 2 x2)/(L - 2 x1), x1 and x2 the first two moments of the section.
    """
    first = profile.centroid_mm[0]
    second = _second_moment_x(profile.section) / profile.area_mm2
    return (long_point_mm * first - 2 * second) / (long_point_mm - 2 * first)


def mitred_stick_centroid_z_mm(profile: Profile, *, long_point_mm: float) -> float:
    """Depth of the stick's centre of mass behind the unplaned face, the mitres counted. [mm]

    The fibre at x weighs as (L - 2 x): the mean of z is (L z1 - 2 m)/(L - 2 x1), m the mean of x z over the section.
    """
    first, depth = profile.centroid_mm
    product = _product_moment(profile.section) / profile.area_mm2
    return (long_point_mm * depth - 2 * product) / (long_point_mm - 2 * first)


def _product_moment(polygon: Polygon) -> float:
    corners = [*polygon, polygon[0]]
    signed = total = 0.0
    for (x0, y0), (x1, y1) in pairwise(corners):
        cross = x0 * y1 - x1 * y0
        signed += cross
        total += cross * (2 * x0 * y0 + x0 * y1 + x1 * y0 + 2 * x1 * y1)
    return total / 24 if signed > 0 else -total / 24


def _second_moment_x(polygon: Polygon) -> float:
    corners = [*polygon, polygon[0]]
    signed = total = 0.0
    for (x0, y0), (x1, y1) in pairwise(corners):
        cross = x0 * y1 - x1 * y0
        signed += cross
        total += cross * (x0 * x0 + x0 * x1 + x1 * x1)
    return abs(total) / 12 if signed else 0.0
