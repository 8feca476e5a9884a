"""Paper for a section through one side: inset from the outer edge and depth behind the front face become x and y.

All four sections look alike: the viewer stands at the left, the outer edge lies where that side of the piece has it, below or above.
Where the screen lies far from the frame, a piece between is left out and the lines say so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from halfsilver.documents.boxes import SIDES as SIDES
from halfsilver.documents.sizes import Sizes
from halfsilver.drawing.scene import Dimension, Point, Polygon, Side
from halfsilver.drawing.style import Material, Role

BEYOND_MM = 26.0
KEPT_MM = 22.0
LEFT_OUT_FROM_MM = 60.0
NEAR_EDGE_MM = 14.0
SHOWN_GAP_MM = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionFrame:
    """Where things of one side's section are drawn.

    Parameters
    ----------
    side : str
        The viewer's left, right, top or bottom.
    end_mm : float
        Inset at which the section breaks off, in the open. [mm]
    cut_from_mm, cut_to_mm : float
        Insets between which nothing is drawn; equal where nothing is left out. [mm]
    """

    side: str
    end_mm: float
    cut_from_mm: float = 0.0
    cut_to_mm: float = 0.0

    @property
    def is_cut(self) -> bool:
        """Whether a piece between frame and screen is left out."""
        return self.cut_to_mm > self.cut_from_mm

    @property
    def up(self) -> int:
        """+1 where the outer edge lies below, -1 where it lies above."""
        return -1 if self.side == "top" else 1

    def height(self, inset: float) -> float:
        """Height on paper of an inset, before scaling. [mm]"""
        if self.is_cut and inset > self.cut_from_mm:
            inset = max(inset - (self.cut_to_mm - self.cut_from_mm) + SHOWN_GAP_MM, self.cut_from_mm + SHOWN_GAP_MM)
        return self.up * inset

    def at(self, inset: float, depth: float) -> Point:
        """Place of a point. [mm]"""
        return (depth, self.height(inset))

    def polygon(
        self,
        points: Iterable[Point],
        *,
        material: Material | None,
        role: Role | None = Role.CUT,
        name: str = "",
        title: str = "",
        open_edges: tuple[int, ...] = (),
    ) -> Polygon:
        """A shape given by insets and depths."""
        return Polygon(
            points=tuple(self.at(*p) for p in points), material=material, role=role, name=name, title=title, open_edges=open_edges
        )

    def slab(
        self,
        insets: tuple[float, float],
        depths: tuple[float, float],
        *,
        material: Material | None,
        role: Role | None = Role.CUT,
        name: str = "",
        title: str = "",
        open_end: bool = False,
        open_start: bool = False,
    ) -> Polygon:
        """A rectangle between two insets and two depths; open where the part goes on."""
        (u0, u1), (v0, v1) = insets, depths
        edges = ((2,) if open_end else ()) + ((0,) if open_start else ())
        return self.polygon(
            ((u0, v0), (u0, v1), (u1, v1), (u1, v0)), material=material, role=role, name=name, title=title, open_edges=edges
        )

    @property
    def outer_side(self) -> Side:
        """Where the outer edge lies on paper."""
        return Side.BELOW if self.up > 0 else Side.ABOVE

    @property
    def open_side(self) -> Side:
        """Where the opening lies on paper."""
        return Side.ABOVE if self.up > 0 else Side.BELOW

    def across(self, sizes: Sizes, name: str, insets: tuple[float, float], depth: float, *, side: Side, chain: str = "") -> Dimension:
        """A dimension along the inset, at the front (left) or behind (right)."""
        return sizes.dimension(name, self.at(insets[0], depth), self.at(insets[1], depth), side=side, chain=chain)

    def along(self, sizes: Sizes, name: str, depths: tuple[float, float], inset: float, *, side: Side, chain: str = "") -> Dimension:
        """A dimension along the depth, at the outer edge or at the opening."""
        return sizes.dimension(name, self.at(inset, depths[0]), self.at(inset, depths[1]), side=side, chain=chain)


def section_frame(sizes: Sizes, side: str) -> SectionFrame:
    """The frame for one side: far enough into the opening to show the picture's edge."""
    faces = [sizes[f"{which}.moulding.body"] + sizes[f"{which}.moulding.lip"] for which in sizes.frames]
    reach = max(*faces, sizes["front.moulding.body"] + sizes.get("batten.width") + sizes.get("strip.thickness"))
    if "screen.outline.width" not in sizes:
        return SectionFrame(side=side, end_mm=reach + BEYOND_MM)
    edge, border = sizes[f"screen.offset.{side}"], sizes[f"screen.border.{side}"]
    if edge - reach < LEFT_OUT_FROM_MM:
        return SectionFrame(side=side, end_mm=max(reach, edge + border) + BEYOND_MM)
    return SectionFrame(side=side, end_mm=edge + border + BEYOND_MM, cut_from_mm=reach + KEPT_MM, cut_to_mm=edge - NEAR_EDGE_MM)
