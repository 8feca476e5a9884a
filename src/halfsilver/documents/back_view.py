"""The piece from behind, drawn mirrored: plates, bars, pockets, vents, cables and mounting holes."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.boxes import Box, box_of, mitred, outline_box, pocket_box
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named, printable
from halfsilver.drawing.moves import mirrored
from halfsilver.drawing.scene import Anchor, Callout, Callouts, CentreLine, Circle, Group, Item, Leader, Polygon, Scene, Side, Text
from halfsilver.drawing.style import Material, Role

OVER_SCREEN_MM = 12.0
FAR_MM = 60.0


def back_view(sizes: Sizes) -> Scene:
    """Dimensioned view from behind; left and right are exchanged, and it says so."""
    outside, rebate = box_of(sizes, "outside"), box_of(sizes, f"{sizes.seat}.rebate")
    items: list[Item] = [
        Group(items=tuple(mitred(outside, rebate, name=sizes.seat, title="Frame from behind")), layer=f"{sizes.seat} frame"),
        rebate.drawn(material=Material.BACKING if "backing.width" in sizes else Material.VOID, name=f"{sizes.seat}.rebate", title="Rebate"),
        *_screen(sizes),
        *retainers(sizes),
        CentreLine(start=(0, outside.bottom), end=(0, outside.top)),
        CentreLine(start=(outside.left, 0), end=(outside.right, 0)),
        *_dimensions(sizes),
        *_callouts(sizes),
    ]
    return Scene(items=tuple(mirrored(item) for item in items), title="Back view: the viewer's left is at the right")


def _screen(sizes: Sizes) -> Iterator[Item]:
    if "screen.outline.width" not in sizes:
        return
    yield outline_box(sizes).drawn(material=Material.SCREEN, name="screen", title="Screen from behind")
    for part in sizes.design.facts.screen.screen.sticks_out:
        yield pocket_box(sizes, part).drawn(material=Material.VOID, name=f"relief.{part.id}", title=f"Pocket for the {printable(part.id)}")
    holes = sizes.design.facts.screen.screen.holes
    if holes is not None:
        outline = outline_box(sizes)
        x, y = (outline.left + outline.right) / 2, (outline.bottom + outline.top) / 2
        for sx in (-0.5, 0.5):
            for sy in (-0.5, 0.5):
                yield Circle(
                    centre=(x + sx * holes[0], y + sy * holes[1]),
                    radius_mm=4.0,
                    material=Material.VOID,
                    name="screen.holes",
                    title="Mounting hole",
                )


def retainers(sizes: Sizes) -> Iterator[Item]:
    """Plates over the four mitres, bars between them on both sides and the top."""
    if "bar.side" not in sizes:
        return
    outside, plate = box_of(sizes, "outside"), sizes.design.facts.plate
    for sx, x in ((1, outside.left + plate.inset), (-1, outside.right - plate.inset)):
        for sy, y in ((1, outside.bottom + plate.inset), (-1, outside.top - plate.inset)):
            legs = ((0, 0), (plate.leg, 0), (plate.leg, plate.width), (plate.width, plate.width), (plate.width, plate.leg), (0, plate.leg))
            yield Polygon(
                points=tuple((x + sx * u, y + sy * v) for u, v in legs), material=Material.METAL, name="plate", title="Corner plate"
            )
    for side in ("left", "right", "top"):
        yield bar_box(sizes, side).drawn(material=Material.METAL, name=f"bar.{side}", title=f"Stepped bar, {side}")


def foot_mm(sizes: Sizes) -> tuple[float, float]:
    """Where a bar's foot lies on the frame's back: from and to, from the outer edge inwards. [mm]"""
    body, width = sizes[f"{sizes.seat}.moulding.body"], min(sizes.design.facts.bar.width, sizes[f"{sizes.seat}.moulding.body"])
    return (body - width) / 2, (body + width) / 2


def far_screen(sizes: Sizes) -> bool:
    """Whether the screen lies too far from the frame for a bar that stands on it."""
    body = sizes[f"{sizes.seat}.moulding.body"]
    return any(sizes.get(f"screen.offset.{side}") - body > FAR_MM for side in ("left", "right", "top"))


def bar_insets(sizes: Sizes, side: str) -> tuple[float, float]:
    """From where to where a bar reaches, from the outer edge inwards: its foot on the frame to its edge over the screen. [mm]"""
    offset, width = sizes.get(f"screen.offset.{side}"), sizes.design.facts.bar.width
    if far_screen(sizes):
        middle = sizes.get("screen.offset.left") / 2
        return middle - width / 2, middle + width / 2
    return foot_mm(sizes)[0], offset + OVER_SCREEN_MM


def bar_box(sizes: Sizes, side: str) -> Box:
    """A bar seen from behind."""
    outside, (near, far) = box_of(sizes, "outside"), bar_insets(sizes, side)
    half = sizes["bar.top" if side == "top" else "bar.side"] / 2
    if side == "top":
        return Box(left=-half, right=half, bottom=outside.top - far, top=outside.top - near)
    if side == "left":
        return Box(left=outside.left + near, right=outside.left + far, bottom=-half, top=half)
    return Box(left=outside.right - far, right=outside.right - near, bottom=-half, top=half)


def _dimensions(sizes: Sizes) -> Iterator[Item]:
    outside, rebate, seat = box_of(sizes, "outside"), box_of(sizes, f"{sizes.seat}.rebate"), sizes.seat
    dim = sizes.dimension
    if "bar.top" in sizes:
        yield from _hardware_dimensions(sizes)
    if "panel.width" in sizes:
        panel = box_of(sizes, "panel")
        yield panel.drawn(material=Material.BACKING, name="panel", title="Back panel")
        yield dim("panel.width", (panel.left, panel.bottom), (panel.right, panel.bottom), side=Side.BELOW)
        yield dim("panel.height", (panel.left, panel.bottom), (panel.left, panel.top), side=Side.LEFT)
    yield dim("outside.width", (outside.left, outside.top), (outside.right, outside.top))
    yield dim(f"{seat}.rebate.width", (rebate.left, rebate.bottom), (rebate.right, rebate.bottom), side=Side.BELOW)
    yield dim(f"{seat}.rebate.height", (rebate.left, rebate.bottom), (rebate.left, rebate.top), side=Side.LEFT)
    yield dim("outside.height", (outside.left, outside.bottom), (outside.left, outside.top), side=Side.LEFT)
    if "backing.width" in sizes:
        yield from _cut_out(sizes)


def _hardware_dimensions(sizes: Sizes) -> Iterator[Item]:
    outside, dim, top, left = box_of(sizes, "outside"), sizes.dimension, bar_box(sizes, "top"), bar_box(sizes, "left")
    yield dim("bar.top", (top.left, top.top), (top.right, top.top))
    inset = sizes["plate.inset"]
    yield dim("plate.leg", (outside.left + inset, outside.top - inset), (outside.left + inset + sizes["plate.leg"], outside.top - inset))
    yield dim("bar.side", (left.left, left.bottom), (left.left, left.top), side=Side.LEFT)


def _cut_out(sizes: Sizes) -> Iterator[Item]:
    board = box_of(sizes, "backing.outside")
    left, bottom = board.left + sizes["backing.left"], board.bottom + sizes["backing.bottom"]
    hole = Box(left=left, bottom=bottom, right=left + sizes["backing.width"], top=bottom + sizes["backing.height"])
    yield hole.drawn(role=Role.HIDDEN, name="backing", title="Cut-out of the backing")
    dim = sizes.dimension
    yield dim("backing.left", (board.left, board.bottom), (hole.left, hole.bottom), side=Side.BELOW, chain="cut-out across")
    yield dim("backing.width", (hole.left, hole.bottom), (hole.right, hole.bottom), side=Side.BELOW, chain="cut-out across")
    yield dim("backing.bottom", (board.right, board.bottom), (hole.right, hole.bottom), side=Side.RIGHT, chain="cut-out up")
    yield dim("backing.height", (hole.right, hole.bottom), (hole.right, hole.top), side=Side.RIGHT, chain="cut-out up")


def _callouts(sizes: Sizes) -> Iterator[Item]:
    yield Callouts(entries=tuple(_hardware_callouts(sizes)), side=Side.LEFT)
    yield from _screen_words(sizes)


def _hardware_callouts(sizes: Sizes) -> Iterator[Callout]:
    if "bar.side" not in sizes:
        panel = box_of(sizes, "panel")
        words = f"Back panel, screwed all\nround; screws at most\n{sizes.text('screw.max.panel')}"
        yield Callout(tip=(panel.left + 12, panel.top - 12), text=words, name="screw.max.panel")
        return
    outside, plate, bar = box_of(sizes, "outside"), sizes.design.facts.plate, bar_box(sizes, "left")
    corner = (outside.left + plate.inset + plate.width / 2, outside.top - plate.inset - plate.width / 2)
    words = f"Corner plate {named(plate.id)},\nfour; screws at most\n{sizes.text('screw.max.plate')}"
    yield Callout(tip=corner, text=words, name="screw.max.plate")
    place = "set out on the piece" if far_screen(sizes) else f"screws at most\n{sizes.text('screw.max.bar')}"
    words = f"Stepped bar {named(sizes.design.facts.bar.id)},\nboth sides and top;\n{place}"
    yield Callout(tip=((bar.left + bar.right) / 2, bar.top * 0.4), text=words, name="screw.max.bar")
    yield Callout(tip=(outside.left + 1.6 * plate.leg, outside.bottom + 12), text="No bar at the bottom:\nbadge, receiver, cables")


def _screen_words(sizes: Sizes) -> Iterator[Item]:
    """Vents, cables and holes, named within the screen's back."""
    if "screen.outline.width" not in sizes:
        return
    screen, outline = sizes.design.facts.screen.screen, outline_box(sizes)
    x, y = (outline.left + outline.right) / 2, (outline.bottom + outline.top) / 2
    if screen.vents:
        words = f"Vents: {', '.join(v.value for v in screen.vents)}; nothing over them"
        yield Text(at=(x, outline.bottom + 0.82 * outline.height), text=words, anchor=Anchor.MIDDLE_CENTRE)
    if screen.cables:
        yield _cables(outline, screen.cables.side.value)
    if screen.holes:
        tip = (x + screen.holes[0] / 2, y - screen.holes[1] / 2)
        words = f"Mounting holes\n{sizes.show(screen.holes[0], 'mm')} × {sizes.show(screen.holes[1], 'mm')}"
        yield Leader(tip=tip, text=words, to_mm=(-7.0, -7.0))


def _cables(outline: Box, side: str) -> Leader:
    """Where the cables leave, said within the screen's back."""
    up = outline.bottom + outline.height * 0.62
    across = outline.left + outline.width * 0.3
    tip = {"left": (outline.left, up), "right": (outline.right, up), "top": (across, outline.top)}.get(side, (across, outline.bottom))
    to_mm = {"left": (17.0, -5.0), "right": (-17.0, -5.0), "top": (8.0, -9.0)}.get(side, (8.0, 12.0))
    words = f"Cables leave at the viewer's {side}" if side in ("left", "right") else f"Cables leave at the {side}"
    return Leader(tip=tip, text=words, to_mm=to_mm)
