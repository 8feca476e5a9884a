"""The piece from behind, drawn mirrored: plates, bars, pockets, vents, cables and mounting holes."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.boxes import Box, box_of, mitred, outline_box, pocket_box
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable
from halfsilver.drawing.moves import mirrored
from halfsilver.drawing.scene import Anchor, Callout, Callouts, CentreLine, Circle, Group, Item, Polygon, Scene, Side, Text
from halfsilver.drawing.style import GREY, Material, Role

OVER_SCREEN_MM = 12.0


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
        *_words(sizes),
        *_callouts(sizes),
    ]
    return Scene(items=tuple(mirrored(item) for item in items), title="Back view, mirrored")


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
                yield Circle(centre=(x + sx * holes[0], y + sy * holes[1]), radius_mm=4.0, material=Material.VOID, name="screen.holes", title="Mounting hole")


def retainers(sizes: Sizes) -> Iterator[Item]:
    """Plates over the four mitres, bars between them on both sides and the top."""
    outside, plate = box_of(sizes, "outside"), sizes.design.facts.plate
    for sx, x in ((1, outside.left + plate.inset), (-1, outside.right - plate.inset)):
        for sy, y in ((1, outside.bottom + plate.inset), (-1, outside.top - plate.inset)):
            legs = ((0, 0), (plate.leg, 0), (plate.leg, plate.width), (plate.width, plate.width), (plate.width, plate.leg), (0, plate.leg))
            yield Polygon(points=tuple((x + sx * u, y + sy * v) for u, v in legs), material=Material.METAL, name="plate", title="Corner plate")
    for side in ("left", "right", "top"):
        yield bar_box(sizes, side).drawn(material=Material.METAL, name=f"bar.{side}", title=f"Stepped bar, {side}")


def foot_mm(sizes: Sizes) -> tuple[float, float]:
    """Where a bar's foot lies on the frame's back: from and to, from the outer edge inwards. [mm]"""
    body, width = sizes[f"{sizes.seat}.moulding.body"], min(sizes.design.facts.bar.width, sizes[f"{sizes.seat}.moulding.body"])
    return (body - width) / 2, (body + width) / 2


def bar_box(sizes: Sizes, side: str) -> Box:
    """A bar from its foot on the frame to its edge over the screen."""
    outside, (near, _) = box_of(sizes, "outside"), foot_mm(sizes)
    far = sizes.get(f"screen.offset.{side}", 0.0) + OVER_SCREEN_MM
    half = sizes["bar.top" if side == "top" else "bar.side"] / 2
    if side == "top":
        return Box(left=-half, right=half, bottom=outside.top - far, top=outside.top - near)
    if side == "left":
        return Box(left=outside.left + near, right=outside.left + far, bottom=-half, top=half)
    return Box(left=outside.right - far, right=outside.right - near, bottom=-half, top=half)


def _dimensions(sizes: Sizes) -> Iterator[Item]:
    outside, rebate, seat = box_of(sizes, "outside"), box_of(sizes, f"{sizes.seat}.rebate"), sizes.seat
    dim, top, left = sizes.dimension, bar_box(sizes, "top"), bar_box(sizes, "left")
    yield dim("bar.top", (top.left, top.top), (top.right, top.top))
    yield dim("plate.leg", (outside.left + sizes["plate.inset"], outside.top - sizes["plate.inset"]), (outside.left + sizes["plate.inset"] + sizes["plate.leg"], outside.top - sizes["plate.inset"]))
    yield dim("outside.width", (outside.left, outside.top), (outside.right, outside.top))
    yield dim(f"{seat}.rebate.width", (rebate.left, rebate.bottom), (rebate.right, rebate.bottom), side=Side.BELOW)
    yield dim("bar.side", (left.left, left.bottom), (left.left, left.top), side=Side.LEFT)
    yield dim(f"{seat}.rebate.height", (rebate.left, rebate.bottom), (rebate.left, rebate.top), side=Side.LEFT)
    yield dim("outside.height", (outside.left, outside.bottom), (outside.left, outside.top), side=Side.LEFT)
    if "backing.width" in sizes:
        yield from _cut_out(sizes)


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


def _words(sizes: Sizes) -> Iterator[Item]:
    rebate = box_of(sizes, f"{sizes.seat}.rebate")
    yield Text(at=(rebate.left, 0), text="Viewer's left", anchor=Anchor.MIDDLE_RIGHT, shift_mm=(-14, 5), colour=GREY)
    yield Text(at=(rebate.right, 0), text="Viewer's right", anchor=Anchor.MIDDLE_LEFT, shift_mm=(14, 5), colour=GREY)
    yield Text(at=(0, 0), text="Seen from behind:\nleft and right are exchanged", anchor=Anchor.BASE_CENTRE, shift_mm=(0, 9))


def _callouts(sizes: Sizes) -> Iterator[Item]:
    outside, plate = box_of(sizes, "outside"), sizes.design.facts.plate
    corner, bar = outside.left + plate.inset + plate.width / 2, bar_box(sizes, "left")
    entries = [
        Callout(tip=(corner, outside.top - plate.inset - plate.width / 2), text=f"Corner plate {plate.id},\nfour; screws at most\n{sizes.text('screw.max.plate')}", name="screw.max.plate"),
        Callout(tip=(bar.left + 6, bar.top * 0.4), text=f"Stepped bar {sizes.design.facts.bar.id},\nboth sides and top;\nscrews at most\n{sizes.text('screw.max.bar')}", name="screw.max.bar"),
        Callout(tip=(outside.left + 90, outside.bottom + 12), text="No bar on this side:\nbadge, receiver, cables"),
    ]
    screen = sizes.design.facts.screen.screen
    outline = outline_box(sizes)
    if screen.vents:
        entries.append(Callout(tip=(outline.left + outline.width * 0.12, outline.bottom + outline.height * 0.3), text=f"Vents: {', '.join(v.value for v in screen.vents)}.\nNothing over them"))
    if screen.cables:
        x = {"left": outline.left, "right": outline.right}.get(screen.cables.side.value, 0.0)
        y = {"top": outline.top, "bottom": outline.bottom}.get(screen.cables.side.value, outline.height * -0.2)
        entries.append(Callout(tip=(x, y), text=f"Cables leave here,\nviewer's {screen.cables.side.value}"))
    if screen.holes:
        entries.append(Callout(tip=(-screen.holes[0] / 2, outline.bottom + outline.height / 2 - screen.holes[1] / 2), text=f"Mounting holes\n{sizes.show(screen.holes[0], 'mm')} × {sizes.show(screen.holes[1], 'mm')}"))
    yield Callouts(entries=tuple(entries), side=Side.LEFT)
