"""Invented scenes that use every kind of shape: a frame from the front, a section, a detail."""

from __future__ import annotations

from halfsilver.drawing.scene import (
    Anchor,
    Axis,
    BreakLine,
    Callout,
    Callouts,
    CentreLine,
    Dimension,
    Group,
    Item,
    Leader,
    Line,
    Point,
    Polygon,
    Scene,
    Side,
    Text,
    dimension_chain,
    rectangle,
)
from halfsilver.drawing.style import Material, Role

OUTSIDE_W, OUTSIDE_H, FACE, BODY = 1450.0, 850.0, 70.0, 48.0


def _mitred(outer: tuple[float, float], inner: tuple[float, float]) -> tuple[Item, ...]:
    (w, h), (iw, ih) = (outer[0] / 2, outer[1] / 2), (inner[0] / 2, inner[1] / 2)
    o: list[Point] = [(-w, -h), (w, -h), (w, h), (-w, h)]
    i: list[Point] = [(-iw, -ih), (iw, -ih), (iw, ih), (-iw, ih)]
    names = ("bottom", "right", "top", "left")
    return tuple(
        Polygon(
            points=(o[k], o[(k + 1) % 4], i[(k + 1) % 4], i[k]),
            material=Material.TIMBER_LONG,
            grain_deg=90.0 * (k % 2),
            name=f"front.stick.{names[k]}",
            title=f"Front frame, {names[k]}",
        )
        for k in range(4)
    )


def front_view() -> Scene:
    """The frame as the viewer sees it."""
    w, h = OUTSIDE_W / 2, OUTSIDE_H / 2
    sw, sh = w - FACE, h - FACE
    rw, rh = w - BODY, h - BODY
    items: list[Item] = [
        rectangle(x_mm=-sw, y_mm=-sh, width_mm=2 * sw, height_mm=2 * sh, material=Material.GLASS, name="front.glass", title="Front glass"),
        Group(items=_mitred((OUTSIDE_W, OUTSIDE_H), (2 * sw, 2 * sh)), layer="front frame"),
        rectangle(x_mm=-rw, y_mm=-rh, width_mm=2 * rw, height_mm=2 * rh, role=Role.HIDDEN),
        CentreLine(start=(0, -h), end=(0, h)),
        CentreLine(start=(-w, 0), end=(w, 0)),
        *dimension_chain(
            [(-w, h), (-rw, rh), (-sw, sh), (sw, sh), (rw, rh), (w, h)],
            ["1 7/8", "7/8", "51 9/16", "7/8", "1 7/8"],
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
        Text(at=(0, 0), text="Front glass\nsight 51 9/16 x 27 15/16 in", anchor=Anchor.MIDDLE_CENTRE, shift_mm=(0, 12)),
        Leader(tip=(w - 20, -h + 20), text="45 deg mitre, glued and splined", to_mm=(14, -12)),
        Leader(tip=(-w + 35, 200), text="1", to_mm=(16, -8), number=True),
    ]
    return Scene(items=tuple(items), title="Front view")


def section() -> Scene:
    """Through one side of the two frames: x backwards from the front face, y up into the opening."""
    lip, body, depth = 18.0, 40.0, 46.0
    front: tuple[Point, ...] = ((0, 0), (depth, 0), (depth, body), (10, body), (10, body + lip), (4, body + lip), (0, body + lip - 6))
    rear: tuple[Point, ...] = tuple((depth + x, y) for x, y in ((0, 0), (40, 0), (40, body), (8, body), (8, body + lip), (0, body + lip)))
    top = 110.0
    items: list[Item] = [
        Polygon(points=front, material=Material.TIMBER_END, role=Role.CUT, name="front.moulding", title="Front moulding"),
        Polygon(points=rear, material=Material.TIMBER_END, role=Role.CUT, name="rear.moulding", title="Rear moulding"),
        rectangle(
            x_mm=10.5,
            y_mm=body + 1,
            width_mm=4,
            height_mm=top - body - 1,
            material=Material.GLASS,
            role=Role.CUT,
            name="front.glass",
            title="Front glass",
        ),
        rectangle(
            x_mm=14.5, y_mm=body, width_mm=31.5, height_mm=14, material=Material.TIMBER_LONG, role=Role.CUT, name="batten", title="Batten"
        ),
        rectangle(
            x_mm=20,
            y_mm=body + 14,
            width_mm=12,
            height_mm=2.5,
            material=Material.LIGHT,
            role=Role.OUTLINE,
            name="strip",
            title="Light strip",
        ),
        rectangle(
            x_mm=54.5,
            y_mm=body + 1,
            width_mm=4,
            height_mm=top - body - 1,
            material=Material.GLASS,
            role=Role.CUT,
            name="rear.glass",
            title="Rear glass",
        ),
        rectangle(
            x_mm=58.5, y_mm=body + 1, width_mm=3, height_mm=10, material=Material.FOAM, role=Role.THIN, name="spacer", title="Spacer"
        ),
        rectangle(
            x_mm=61.5,
            y_mm=body + 1,
            width_mm=30,
            height_mm=top - body - 1,
            material=Material.SCREEN,
            role=Role.OUTLINE,
            name="screen",
            title="Screen",
        ),
        rectangle(x_mm=91.5, y_mm=12, width_mm=5, height_mm=48, material=Material.METAL, role=Role.CUT, name="bar", title="Stepped bar"),
        rectangle(x_mm=86, y_mm=12, width_mm=5.5, height_mm=20, material=Material.METAL, role=Role.CUT),
        Line(start=(14.5, body + 15), end=(14.5, top), role=Role.COATING),
        Line(start=(54.5, body + 19), end=(54.5, top), role=Role.COATING),
        BreakLine(start=(8, top), end=(95, top)),
        *dimension_chain(
            [(0, 0), (depth, 0), (86, 0)],
            ["1 13/16 in", "1 9/16 in"],
            axis=Axis.HORIZONTAL,
            side=Side.BELOW,
            chain="depths",
            names=["front.depth", "rear.depth"],
        ),
        Dimension(start=(0, 0), end=(96.5, 12), text="3 25/32 in", side=Side.BELOW, name="outside.depth"),
        *dimension_chain(
            [(10.5, top), (14.5, top), (54.5, top), (58.5, top), (61.5, top), (91.5, top)],
            ["4", "40", "4", "3", "30"],
            axis=Axis.HORIZONTAL,
            side=Side.ABOVE,
            chain="stack",
            names=["front.glass.thickness", "gap", "rear.glass.thickness", "spacer.thickness", "screen.depth"],
        ),
        *dimension_chain(
            [(0, 0), (0, body), (4, body + lip)],
            ["40", "18"],
            axis=Axis.VERTICAL,
            side=Side.LEFT,
            chain="face",
            base_mm=0,
            names=["front.moulding.body", "front.moulding.lip"],
        ),
        Callouts(
            side=Side.RIGHT,
            entries=(
                Callout(tip=(76, 85), text="Screen, held by the frame"),
                Callout(tip=(60, 46), text="Foam spacer 3 mm", name="spacer"),
                Callout(tip=(56.5, 78), text="Rear glass, coating to the cavity", name="rear.glass"),
                Callout(tip=(12.5, 95), text="Front glass"),
                Callout(tip=(26, 55.2), text="Light strip"),
                Callout(tip=(30, 46), text="Batten, pinned outward\ninto the rebate wall", name="batten"),
                Callout(tip=(94, 30), text="Stepped bar"),
                Callout(tip=(25, 18), text="Front moulding"),
                Callout(tip=(66, 18), text="Rear moulding"),
            ),
        ),
    ]
    return Scene(items=tuple(items), title="Section through a side")


def relief() -> Scene:
    """A relief cut into the bottom stick for a badge."""
    stick: tuple[Point, ...] = ((0, 0), (300, 0), (300, 40), (190, 40), (190, 27), (80, 27), (80, 40), (0, 40))
    items: list[Item] = [
        rectangle(x_mm=0, y_mm=-60, width_mm=300, height_mm=40, material=Material.WALL, role=Role.THIN, title="Wall"),
        rectangle(x_mm=0, y_mm=-20, width_mm=300, height_mm=6, material=Material.BACKING, title="Backing"),
        Polygon(points=stick, material=Material.TIMBER_LONG, name="rear.stick.bottom", title="Rear frame, bottom"),
        rectangle(x_mm=86, y_mm=29, width_mm=98, height_mm=14, material=Material.SCREEN, role=Role.HIDDEN, name="badge", title="Badge"),
        CentreLine(start=(135, 20), end=(135, 46)),
        *dimension_chain(
            [(0, 40), (80, 40), (190, 40)],
            ["3 5/32 in", "4 11/32 in"],
            axis=Axis.HORIZONTAL,
            side=Side.ABOVE,
            chain="place",
            names=["relief.badge.at", "relief.badge.width"],
        ),
        Dimension(
            start=(190, 27), end=(190, 40), text="1/2 in", axis=Axis.VERTICAL, side=Side.RIGHT, base_mm=205, name="relief.badge.into_wall"
        ),
        Dimension(start=(300, 0), end=(300, 27), text="1 1/16 in", axis=Axis.VERTICAL, side=Side.RIGHT, name="relief.badge.wall_left"),
        Dimension(start=(0, 0), end=(80, 27), text="slope 84.4", axis=Axis.ALIGNED, side=Side.ABOVE),
        Leader(tip=(100, 33), text="badge, plus 1/16 in all round", to_mm=(-14, 14)),
    ]
    return Scene(items=tuple(items), title="Relief for the badge")


SCENES = {"front": (front_view, 10.0), "section": (section, 1.0), "relief": (relief, 2.0)}
