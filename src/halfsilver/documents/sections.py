"""Sections through the four sides, every layer named, with the dimensions that a joiner sets his machines to."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.section_callouts import callouts
from halfsilver.documents.section_frame import SIDES, SectionFrame, section_frame
from halfsilver.documents.section_parts import (
    break_lines,
    cavity_parts,
    frame_parts,
    has_bar,
    pane_depths,
    pane_parts,
    pocket_parts,
    retainer_parts,
    screen_parts,
    wall_parts,
)
from halfsilver.documents.sight_line import sight_callout, sight_line
from halfsilver.documents.sizes import Sizes
from halfsilver.drawing.scene import Callouts, Dimension, Item, Scene, Side

THIN_MM = 0.05


def sections(sizes: Sizes) -> dict[str, Scene]:
    """One section per side, by the side's name."""
    return {side: section(sizes, side) for side in SIDES}


def section(sizes: Sizes, side: str) -> Scene:
    """The section through one side, seen along the stick; the viewer stands at the left."""
    frame = section_frame(sizes, side)
    front, rear = callouts(sizes, frame)
    items: list[Item] = [
        *wall_parts(sizes, frame),
        *screen_parts(sizes, frame),
        *pane_parts(sizes, frame),
        *frame_parts(sizes, frame),
        *cavity_parts(sizes, frame),
        *retainer_parts(sizes, frame),
        *pocket_parts(sizes, frame),
        *break_lines(sizes, frame),
        *_depths_outside(sizes, frame),
        *_depths_inside(sizes, frame),
        *_insets(sizes, frame),
        *sight_line(sizes, frame),
        Callouts(entries=(*front, *sight_callout(sizes, frame)), side=Side.LEFT),
        Callouts(entries=tuple(rear), side=Side.RIGHT),
    ]
    return Scene(items=tuple(items), title=f"Section through the {side}")


def _depths_outside(sizes: Sizes, frame: SectionFrame) -> Iterator[Dimension]:
    """Along the outer edge: lips and rebates, frames, hardware, all."""

    def dim(name: str, start: float, end: float, chain: str = "") -> Dimension:
        return frame.along(sizes, name, (start, end), 0.0, side=frame.outer_side, chain=chain)

    lip, back = sizes["front.moulding.lip_thickness"], sizes["depth.back"]
    yield dim("front.moulding.lip_thickness", 0, lip, "lips")
    yield dim("front.moulding.rebate_depth", lip, lip + sizes["front.moulding.rebate_depth"], "lips")
    if "rear.rebate.width" in sizes:
        face = sizes["depth.rear_lip"]
        yield dim("rear.lip_thickness", face, face + sizes["rear.lip_thickness"], "lips")
        yield dim("rear.moulding.rebate_depth", face + sizes["rear.lip_thickness"], back, "lips")
        yield dim("depth.joint", 0, sizes["depth.joint"])
    if sizes.get("spacer_frame") > THIN_MM:
        yield dim("spacer_frame", sizes["depth.rear_lip"] - sizes["spacer_frame"], sizes["depth.rear_lip"], "between")
    if sizes.get("bar.step") > THIN_MM and has_bar(sizes, frame.side):
        yield dim("bar.step", back, back + sizes["bar.step"], "lips")
    yield dim("depth.back", 0, back)
    yield dim("outside.depth", 0, sizes["outside.depth"])


def _depths_inside(sizes: Sizes, frame: SectionFrame) -> Iterator[Dimension]:
    """Across the opening: the stack of layers, and what fills the front rebate."""

    def dim(name: str, start: float, end: float, chain: str) -> Dimension:
        return frame.along(sizes, name, (start, end), frame.end_mm, side=frame.open_side, chain=chain)

    front = pane_depths(sizes, "front")
    yield dim("front.glass.thickness", *front, "stack")
    if "gap" in sizes:
        rear = pane_depths(sizes, "rear")
        yield dim("gap", front[1], rear[0], "stack")
        yield dim("rear.glass.thickness", *rear, "stack")
        yield dim("batten.depth", front[1], front[1] + sizes["batten.depth"], "fill")
    if "packing" in sizes:
        yield dim("packing", pane_depths(sizes, "rear")[1], sizes["depth.back"], "stack")
    if "screen.outline.width" in sizes:
        face, back = sizes["depth.picture"], sizes["depth.back"]
        yield dim("spacer", face - sizes["spacer"], face, "stack")
        yield dim("screen.outline.depth", face, face + sizes["screen.outline.depth"], "stack")
        if sizes["screen.proud"] > THIN_MM:
            yield dim("screen.proud", back, back + sizes["screen.proud"], "fill")


def _insets(sizes: Sizes, frame: SectionFrame) -> Iterator[Dimension]:
    """From the outer edge inwards."""

    def dim(name: str, start: float, end: float, chain: str, depth: float = 0.0) -> Dimension:
        return frame.across(sizes, name, (start, end), depth, side=Side.LEFT, chain=chain)

    body = sizes["front.moulding.body"]
    yield dim("front.moulding.body", 0, body, "face")
    yield dim("front.moulding.lip", body, body + sizes["front.moulding.lip"], "face")
    if "batten.width" in sizes:
        wood, depth = body + sizes["batten.width"], sizes["depth.batten"]
        yield dim("batten.width", body, wood, "batten", depth)
        yield dim("strip.thickness", wood, wood + sizes["strip.thickness"], "batten", depth)
    if "screen.outline.width" in sizes:
        yield from _screen_insets(sizes, frame)


def _screen_insets(sizes: Sizes, frame: SectionFrame) -> Iterator[Dimension]:
    side, edge = frame.side, sizes[f"screen.offset.{frame.side}"]
    border, reach = sizes[f"screen.border.{side}"], sizes[f"reach.{side}"]
    behind = sizes["depth.picture"] + sizes["screen.outline.depth"]

    def dim(name: str, start: float, end: float, chain: str) -> Dimension:
        return frame.across(sizes, name, (start, end), behind, side=Side.RIGHT, chain=chain)

    yield dim(f"screen.offset.{side}", 0, edge, "screen")
    yield dim(f"screen.border.{side}", edge, edge + border, "screen")
    if sizes[f"cover.{side}"] > THIN_MM:
        yield dim(f"cover.{side}", edge + border, edge + reach, "screen")
    if reach > THIN_MM:
        yield dim(f"reach.{side}", edge, edge + reach, "reach")
