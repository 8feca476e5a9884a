"""Invented scenes that use every kind of shape: a frame from the front, a section, a detail of a stick."""

from __future__ import annotations

from halfsilver.drawing.fit import fitted
from halfsilver.drawing.scene import (
    Anchor,
    Axis,
    BreakLine,
    Callout,
    Callouts,
    CentreLine,
    CoatedFace,
    Dimension,
    Group,
    Item,
    Leader,
    Point,
    Polygon,
    Scene,
    Side,
    Text,
    dimension_chain,
    rectangle,
)
from halfsilver.drawing.sheets import TitleBlock, framed, landscape, room
from halfsilver.drawing.style import Material, Role
from halfsilver.drawing.view import Sheet

OUTSIDE_W, OUTSIDE_H, BODY, LIP = 1450.0, 850.0, 48.0, 22.0
SIDES = ("bottom", "right", "top", "left")


def box(
    x: float, y: float, width: float, height: float, material: Material, name: str, title: str, role: Role = Role.CUT, **more: object
) -> Polygon:
    return rectangle(x_mm=x, y_mm=y, width_mm=width, height_mm=height, material=material, name=name, title=title, role=role, **more)  # type: ignore[arg-type]


def mitred(half_w: float, half_h: float, face: float) -> tuple[Polygon, ...]:
    outer: list[Point] = [(-half_w, -half_h), (half_w, -half_h), (half_w, half_h), (-half_w, half_h)]
    inner: list[Point] = [(x - face * (1 if x > 0 else -1), y - face * (1 if y > 0 else -1)) for x, y in outer]
    return tuple(
        Polygon(
            points=(outer[k], outer[(k + 1) % 4], inner[(k + 1) % 4], inner[k]),
            material=Material.TIMBER_LONG,
            grain_deg=90.0 * (k % 2),
            name=f"front.stick.{SIDES[k]}",
            title=f"Front frame, {SIDES[k]}",
        )
        for k in range(4)
    )


def front_view() -> Scene:
    """The frame as the viewer sees it."""
    w, h = OUTSIDE_W / 2, OUTSIDE_H / 2
    sw, sh, rw, rh = w - BODY - LIP, h - BODY - LIP, w - BODY, h - BODY
    lip, body = "7/8", "1 7/8"
    items: list[Item] = [
        box(-sw, -sh, 2 * sw, 2 * sh, Material.GLASS, "front.glass", "Front glass", Role.OUTLINE),
        Group(items=mitred(w, h, BODY + LIP), layer="front frame"),
        rectangle(x_mm=-rw, y_mm=-rh, width_mm=2 * rw, height_mm=2 * rh, role=Role.HIDDEN),
        CentreLine(start=(0, -h), end=(0, h)),
        CentreLine(start=(-w, 0), end=(w, 0)),
        *dimension_chain(
            [(-w, h), (-rw, rh), (-sw, sh), (sw, sh), (rw, rh), (w, h)],
            [body, lip, "51 9/16 in", lip, body],
            axis=Axis.HORIZONTAL,
            side=Side.ABOVE,
            chain="across",
            names=["front.moulding.body", "front.moulding.lip", "front.sight.width", "front.moulding.lip", "front.moulding.body"],
        ),
        Dimension(start=(-w, h), end=(w, h), text="57 3/32 in", name="outside.width"),
        Dimension(start=(-rw, -rh), end=(rw, -rh), text="53 5/16 in", side=Side.BELOW, name="front.rebate.width"),
        Dimension(start=(-w, -h), end=(-w, h), text="33 15/32 in", axis=Axis.VERTICAL, side=Side.LEFT, name="outside.height"),
        Dimension(start=(-sw, -sh), end=(-sw, sh), text="27 15/16 in", axis=Axis.VERTICAL, side=Side.LEFT, name="front.sight.height"),
        Dimension(start=(rw, -rh), end=(rw, rh), text="29 11/16 in", axis=Axis.VERTICAL, side=Side.RIGHT, name="front.rebate.height"),
        Text(at=(0, 0), text="Front glass\n53 9/32 x 29 21/32 in", anchor=Anchor.MIDDLE_CENTRE, shift_mm=(0, 11)),
        Leader(tip=(-w + 35, 200), text="1", to_mm=(16, -8), number=True),
        Leader(tip=(0, -h + 35), text="2", to_mm=(14, 12), number=True),
        Callouts(entries=(Callout(tip=(w - 20, -h + 20), text="Mitre, glued\nand splined"),), side=Side.RIGHT),
    ]
    return Scene(items=tuple(items), title="Front view")


def section() -> Scene:
    """Through one side of the two frames: x backwards from the front face, y up into the opening."""
    lip, body, depth, top = 18.0, 40.0, 46.0, 110.0
    front: tuple[Point, ...] = ((0, 0), (depth, 0), (depth, body), (10, body), (10, body + lip), (5, body + lip), (0, body + lip - 8))
    rear: tuple[Point, ...] = tuple((depth + x, y) for x, y in ((0, 0), (40, 0), (40, body), (8, body), (8, body + lip), (0, body + lip)))
    up = top - body - 1
    items: list[Item] = [
        Polygon(points=front, material=Material.TIMBER_END, role=Role.CUT, name="front.moulding", title="Front moulding"),
        Polygon(points=rear, material=Material.TIMBER_END, role=Role.CUT, name="rear.moulding", title="Rear moulding"),
        box(10.5, body + 1, 4, up, Material.GLASS, "front.glass", "Front glass", open_edges=(2,)),
        box(14.5, body, 31.5, 14, Material.TIMBER_LONG, "batten", "Batten"),
        box(20, body + 14, 12, 2.5, Material.LIGHT, "strip", "Light strip", Role.OUTLINE),
        box(54.5, body + 1, 4, up, Material.GLASS, "rear.glass", "Rear glass", open_edges=(2,)),
        box(58.5, body + 1, 3, 10, Material.FOAM, "spacer", "Spacer", Role.OUTLINE),
        box(61.5, body + 1, 30, up, Material.SCREEN, "screen", "Screen", Role.OUTLINE, open_edges=(2,)),
        box(91.5, 12, 5, 48, Material.METAL, "bar", "Stepped bar"),
        box(86, 12, 5.5, 20, Material.METAL, "bar.packing", "Packing under the bar"),
        CoatedFace(start=(14.5, top - 2), end=(14.5, body + 20)),
        CoatedFace(start=(54.5, body + 20), end=(54.5, top - 2)),
        BreakLine(start=(8, top), end=(95, top)),
        *dimension_chain(
            [(0, 0), (depth, 0), (86, 0)],
            ["1 13/16 in", "1 9/16 in"],
            axis=Axis.HORIZONTAL,
            side=Side.BELOW,
            chain="depths",
            names=["front.depth", "rear.depth"],
        ),
        Dimension(start=(0, 0), end=(96.5, 12), text="3 13/16 in", side=Side.BELOW, name="outside.depth"),
        *dimension_chain(
            [(10.5, top), (14.5, top), (54.5, top), (58.5, top), (61.5, top), (91.5, top)],
            ["4", "1 9/16 in", "4", "3", "1 3/16 in"],
            axis=Axis.HORIZONTAL,
            side=Side.ABOVE,
            chain="stack",
            names=["front.glass.thickness", "gap", "rear.glass.thickness", "spacer.thickness", "screen.depth"],
        ),
        *dimension_chain(
            [(0, 0), (10, body), (5, body + lip)],
            ["1 9/16 in", "23/32 in"],
            axis=Axis.VERTICAL,
            side=Side.LEFT,
            chain="face",
            names=["front.moulding.body", "front.moulding.lip"],
        ),
        Callouts(
            side=Side.LEFT,
            entries=(
                Callout(tip=(12.5, 92), text="Front glass,\ncoating to the cavity", name="front.glass"),
                Callout(tip=(22.5, 55.2), text="Light strip", name="strip"),
                Callout(tip=(24, 16), text="Front moulding", name="front.moulding"),
            ),
        ),
        Callouts(
            side=Side.RIGHT,
            entries=(
                Callout(tip=(56.5, 98), text="Rear glass, coating to the cavity", name="rear.glass"),
                Callout(tip=(78, 80), text="Screen, packed in its rebate", name="screen"),
                Callout(tip=(60, 46), text="Foam spacer", name="spacer"),
                Callout(tip=(38, 43), text="Batten, pinned outward\ninto the rebate wall", name="batten"),
                Callout(tip=(94, 22), text="Stepped bar", name="bar"),
                Callout(tip=(66, 12), text="Rear moulding", name="rear.moulding"),
            ),
        ),
    ]
    return Scene(items=tuple(items), title="Section through a side")


def relief() -> Scene:
    """A relief cut into the bottom stick for a badge, the wall behind it."""
    stick: tuple[Point, ...] = ((0, 0), (300, 0), (300, 40), (190, 40), (190, 27), (80, 27), (80, 40), (40, 40))
    items: list[Item] = [
        box(0, -40, 300, 26, Material.WALL, "", "Wall", Role.THIN, open_edges=(0, 1, 3)),
        box(60, -14, 240, 6, Material.BACKING, "backing", "Backing board", Role.OUTLINE, open_edges=(1,)),
        Polygon(
            points=stick,
            material=Material.TIMBER_LONG,
            open_edges=(1,),
            name="rear.stick.bottom",
            title="Rear frame, bottom",
        ),
        box(86, 29, 98, 14, Material.SCREEN, "badge", "Badge", Role.HIDDEN),
        CentreLine(start=(135, 24), end=(135, 46)),
        BreakLine(start=(300, -42), end=(300, 42)),
        Dimension(start=(0, 0), end=(40, 40), text="2 7/32 in", axis=Axis.ALIGNED, side=Side.ABOVE, name="front.mitre.face"),
        *dimension_chain(
            [(0, 0), (80, 40), (190, 40)],
            ["3 5/32 in", "4 11/32 in"],
            axis=Axis.HORIZONTAL,
            side=Side.ABOVE,
            chain="place",
            names=["relief.badge.at", "relief.badge.width"],
        ),
        *dimension_chain(
            [(300, 0), (190, 27), (300, 40)],
            ["1 1/16 in", "1/2 in"],
            axis=Axis.VERTICAL,
            side=Side.RIGHT,
            chain="wall",
            names=["relief.badge.wall_left", "relief.badge.into_wall"],
        ),
        Leader(tip=(165, 36), text="Badge with 1/16 in all round", to_mm=(22, 13), name="badge"),
    ]
    return Scene(items=tuple(items), title="Relief for the badge")


SCENES = {"front": (front_view, 10.0), "section": (section, 1.0), "relief": (relief, 2.0)}


def demo_sheet() -> Sheet:
    """All three on one sheet with a title block."""
    cells = (
        ("Job", "Lobby display"),
        ("Scale", "as shown"),
        ("Units", "inches"),
        ("Cut to", "1/32 in"),
        ("Revision", "A"),
        ("Date", "2026-03-04"),
        ("Sheet", "1 of 3"),
    )
    block = TitleBlock(title="Lobby display: frame and section", cells=cells)
    width, height = landscape("A3")
    left, bottom, right, top = room(width_mm=width, height_mm=height, block=block)
    views = (
        fitted(front_view(), box=(left, bottom + 75, left + 213, top), caption="Front view"),
        fitted(section(), box=(left + 213, bottom + 75, right, top), caption="Section"),
        fitted(relief(), box=(left + 120, bottom, right, bottom + 75), caption="Relief"),
    )
    return framed(views, width_mm=width, height_mm=height, block=block)
