"""Where things are, seen from the viewer: rectangles about the centre of the outside, x to the right and y up. [mm]"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from halfsilver.documents.sizes import Sizes
from halfsilver.drawing.scene import Point, Polygon, rectangle
from halfsilver.drawing.style import Material, Role
from halfsilver.model.job import SticksOut

SIDES = ("bottom", "right", "top", "left")


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright rectangle. [mm]"""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width. [mm]"""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height. [mm]"""
        return self.top - self.bottom

    @property
    def corners(self) -> tuple[Point, ...]:
        """Lower left, lower right, upper right, upper left."""
        return (self.left, self.bottom), (self.right, self.bottom), (self.right, self.top), (self.left, self.top)

    def drawn(self, *, material: Material | None = None, role: Role = Role.OUTLINE, name: str = "", title: str = "") -> Polygon:
        """The rectangle as a shape."""
        return rectangle(
            x_mm=self.left,
            y_mm=self.bottom,
            width_mm=self.width,
            height_mm=self.height,
            material=material,
            role=role,
            name=name,
            title=title,
        )


def centred(width: float, height: float) -> Box:
    """A rectangle about the centre of the outside. [mm]"""
    return Box(left=-width / 2, bottom=-height / 2, right=width / 2, top=height / 2)


def box_of(sizes: Sizes, name: str) -> Box:
    """The centred rectangle of ``<name>.width`` and ``<name>.height``."""
    return centred(sizes[f"{name}.width"], sizes[f"{name}.height"])


def outline_box(sizes: Sizes) -> Box:
    """The screen's outline where it is planned to lie."""
    outside = box_of(sizes, "outside")
    left, bottom = outside.left + sizes["screen.offset.left"], outside.bottom + sizes["screen.offset.bottom"]
    return Box(left=left, bottom=bottom, right=left + sizes["screen.outline.width"], top=bottom + sizes["screen.outline.height"])


def picture_box(sizes: Sizes) -> Box:
    """The lit picture."""
    outline = outline_box(sizes)
    return Box(
        left=outline.left + sizes["screen.border.left"],
        bottom=outline.bottom + sizes["screen.border.bottom"],
        right=outline.right - sizes["screen.border.right"],
        top=outline.top - sizes["screen.border.top"],
    )


def mitred(outer: Box, inner: Box, *, name: str, title: str) -> Iterator[Polygon]:
    """The four mitred sticks between two rectangles, the grain along each."""
    for k, side in enumerate(SIDES):
        a, b = k, (k + 1) % 4
        yield Polygon(
            points=(outer.corners[a], outer.corners[b], inner.corners[b], inner.corners[a]),
            material=Material.TIMBER_LONG,
            grain_deg=90.0 * (k % 2),
            name=f"{name}.stick.{side}",
            title=f"{title}, {side} stick",
        )


def pocket_box(sizes: Sizes, part: SticksOut) -> Box:
    """The relief pocket of something that sticks out, in the rebate wall of its side."""
    outside, name = box_of(sizes, "outside"), f"relief.{part.id}"
    body, into = sizes[f"{sizes.seat}.moulding.body"], max(sizes[f"{name}.into_wall"], 0.0)
    near, far = sizes[f"{name}.at"], sizes[f"{name}.at"] + sizes[f"{name}.width"]
    match part.side.value:
        case "bottom":
            return Box(left=outside.left + near, right=outside.left + far, bottom=outside.bottom + body - into, top=outside.bottom + body)
        case "top":
            return Box(left=outside.left + near, right=outside.left + far, bottom=outside.top - body, top=outside.top - body + into)
        case "left":
            return Box(left=outside.left + body - into, right=outside.left + body, bottom=outside.top - far, top=outside.top - near)
        case _:
            return Box(left=outside.right - body, right=outside.right - body + into, bottom=outside.top - far, top=outside.top - near)
