"""The parts met by a section through one side, with their real profiles and their callouts."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.back_view import OVER_SCREEN_MM, far_screen, foot_mm
from halfsilver.documents.section_frame import SectionFrame
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable
from halfsilver.drawing.scene import BreakLine, CoatedFace, Item, Point
from halfsilver.drawing.style import Material, Role
from halfsilver.geometry.profile import Profile
from halfsilver.model.job import CoatedSide

WALL_MM, PICTURE_MM, SPACER_MM = 11.0, 1.6, 9.0


def profile_of(sizes: Sizes, which: str) -> Profile:
    """A frame's profile as it stands, planed where it is."""
    facts = sizes.design.facts
    return facts.front_profile if which == "front" else facts.rear_profile.planed(facts.planed_mm)


def face_depth_mm(sizes: Sizes, which: str) -> float:
    """Depth of a frame's own (unplaned) face. [mm]"""
    return 0.0 if which == "front" else sizes["depth.rear_lip"] - sizes["rear.planed"]


def pane_depths(sizes: Sizes, which: str) -> tuple[float, float]:
    """Depths of a pane's two faces. [mm]"""
    front = sizes[f"depth.{which}_glass"]
    return front, front + sizes[f"{which}.glass.thickness"]


def frame_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """Mouldings, and the frame between them where there is one."""
    for which in sizes.frames:
        face = face_depth_mm(sizes, which)
        points = [(x, z + face) for x, z in profile_of(sizes, which).section]
        yield frame.polygon(points, material=Material.TIMBER_END, name=f"{which}.moulding", title=f"{which.capitalize()} moulding")
    if sizes.get("spacer_frame") > 0:
        depths = (sizes["depth.rear_lip"] - sizes["spacer_frame"], sizes["depth.rear_lip"])
        width = sizes["front.moulding.body"] + sizes["batten.width"]
        yield frame.slab((0, width), depths, material=Material.TIMBER_END, name="spacer_frame", title="Frame between the frames")


def cavity_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """Batten and strip."""
    if "batten.width" not in sizes:
        return
    wall, start = sizes["front.moulding.body"], sizes["depth.batten"]
    wood = (wall, wall + sizes["batten.width"])
    yield frame.slab(wood, (start, start + sizes["batten.depth"]), material=Material.TIMBER_END, name="batten", title="Batten")
    lit = start + sizes["strip.at"]
    yield frame.slab(
        (wood[1], wood[1] + sizes["strip.thickness"]),
        (lit, lit + sizes["strip.width"]),
        material=Material.LIGHT,
        role=Role.OUTLINE,
        name="strip",
        title="Strip of lights",
    )


def pane_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """The sheets with their coated sides."""
    for which in sizes.frames:
        edge = pane_inset_mm(sizes, frame.side, which)
        depths = pane_depths(sizes, which)
        for k, (start, end) in enumerate(_pieces(frame, edge)):
            first = k == 0
            yield frame.slab(
                (start, end),
                depths,
                material=Material.GLASS,
                name=f"{which}.glass",
                title=f"{which.capitalize()} glass",
                open_end=True,
                open_start=not first,
            )
            depth = depths[1 if looks_back(sizes, which) else 0]
            a, b = frame.at(start + 6, depth), frame.at(end - 1, depth)
            yield CoatedFace(start=a, end=b) if looks_back(sizes, which) is (frame.up < 0) else CoatedFace(start=b, end=a)


def pane_inset_mm(sizes: Sizes, side: str, which: str) -> float:
    """The outer edge to the pane's edge. [mm]"""
    d = "width" if side in ("left", "right") else "height"
    return (sizes[f"outside.{d}"] - sizes[f"{which}.glass.{d}"]) / 2


def looks_back(sizes: Sizes, which: str) -> bool:
    """Whether the coated face of a pane is its back."""
    side = sizes.design.facts.coated_side(which)
    return which == "front" if side is CoatedSide.CAVITY else side is CoatedSide.SCREEN


def _pieces(frame: SectionFrame, start: float) -> tuple[tuple[float, float], ...]:
    if not frame.is_cut or start >= frame.cut_to_mm:
        return ((start, frame.end_mm),)
    return ((start, frame.cut_from_mm), (frame.cut_to_mm, frame.end_mm))


def screen_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """Backing, spacer and screen with its border and the edge of its picture."""
    if "screen.outline.width" not in sizes:
        return
    edge, border = sizes[f"screen.offset.{frame.side}"], sizes[f"screen.border.{frame.side}"]
    behind, face = pane_depths(sizes, sizes.seat)[1], sizes["depth.picture"]
    if "backing.width" in sizes:
        yield from _backing(sizes, frame, behind, edge)
    soft = (edge, edge + min(border * 0.8, SPACER_MM))
    yield frame.slab(soft, (behind, face), material=Material.FOAM, role=Role.OUTLINE, name="spacer", title="Spacer")
    back = face + sizes["screen.outline.depth"]
    yield frame.slab((edge, frame.end_mm), (face, back), material=Material.SCREEN, name="screen", title="Screen", open_end=True)
    lit = (edge + border, frame.end_mm)
    yield frame.slab(
        lit, (face, face + PICTURE_MM), material=Material.LIGHT, role=Role.THIN, name="screen.picture", title="Picture", open_end=True
    )


def _backing(sizes: Sizes, frame: SectionFrame, behind: float, edge: float) -> Iterator[Item]:
    d = "width" if frame.side in ("left", "right") else "height"
    start, end = (sizes[f"outside.{d}"] - sizes[f"backing.outside.{d}"]) / 2, edge - sizes["fit.screen"] / 2
    for a, b in _pieces(frame, start):
        last = min(b, end)
        yield frame.slab(
            (a, last),
            (behind, behind + sizes["backing.thickness"]),
            material=Material.BACKING,
            name="backing",
            title="Backing",
            open_end=b < end,
            open_start=a > start,
        )


def pocket_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """Relief pockets of this side, hidden: they lie elsewhere along the stick."""
    for part in sizes.design.facts.screen.screen.sticks_out if "screen.outline.width" in sizes else ():
        if part.side.value == frame.side and sizes[f"relief.{part.id}.into_wall"] > 0:
            wall, back = sizes[f"{sizes.seat}.moulding.body"], sizes["depth.back"]
            insets = (wall - sizes[f"relief.{part.id}.into_wall"], wall)
            yield frame.slab(
                insets,
                (back - sizes[f"relief.{part.id}.height"], back),
                material=None,
                role=Role.HIDDEN,
                name=f"relief.{part.id}",
                title=f"Pocket for the {printable(part.id)}",
            )


def retainer_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """The corner plate (hidden: only at the corners) and the stepped bar, or the panel that closes the back."""
    plate, back = sizes.design.facts.plate, sizes["depth.back"]
    if "panel.width" in sizes:
        depths = (back, back + sizes["panel.thickness"])
        inset = (sizes["panel.inset"], frame.end_mm)
        yield frame.slab(inset, depths, material=Material.BACKING, name="panel", title="Back panel", open_end=True)
        return
    yield frame.slab(
        (plate.inset, plate.inset + plate.width),
        (back, back + sizes["plate.thickness"]),
        material=None,
        role=Role.HIDDEN,
        name="plate",
        title="Corner plate",
    )
    if has_bar(sizes, frame.side):
        yield from _bar(sizes, frame, back)


def has_bar(sizes: Sizes, side: str) -> bool:
    """Whether a bar that stands on the frame holds the screen on this side."""
    return side != "bottom" and "screen.outline.width" in sizes and not far_screen(sizes)


def _bar(sizes: Sizes, frame: SectionFrame, back: float) -> Iterator[Item]:
    (near, far), t, step = foot_mm(sizes), sizes["bar.thickness"], max(sizes["bar.step"], 0.0)
    over = sizes[f"screen.offset.{frame.side}"] + OVER_SCREEN_MM
    flat: tuple[Point, ...] = ((near, back), (near, back + t), (over, back + t), (over, back))
    inner = ((near, back), (far, back), (far, back + step), (over, back + step))
    outer = ((over, back + step + t), (far - t, back + step + t), (far - t, back + t), (near, back + t))
    bent: tuple[Point, ...] = (*inner, *outer)
    yield frame.polygon(bent if step > t else flat, material=Material.METAL, name=f"bar.{frame.side}", title="Stepped bar")


def wall_parts(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """The wall behind a hung piece, or the recess round one that goes in."""
    depth, kind = sizes["outside.depth"], sizes.design.facts.job.mounting.kind.value
    end = min(frame.end_mm, frame.cut_from_mm) if frame.is_cut else frame.end_mm
    if kind == "hung":
        yield frame.polygon(
            ((-8, depth), (-8, depth + WALL_MM), (end, depth + WALL_MM), (end, depth)),
            material=Material.WALL,
            role=Role.OUTLINE,
            name="wall",
            title="Wall",
            open_edges=(0, 1, 2),
        )
    elif kind == "recessed" and "recess.play.width" in sizes:
        d = "width" if frame.side in ("left", "right") else "height"
        play = max(sizes[f"recess.play.{d}"] / 2, 0.0)
        yield frame.polygon(
            ((-play - WALL_MM, 0), (-play - WALL_MM, depth + 12), (-play, depth + 12), (-play, 0)),
            material=Material.WALL,
            role=Role.OUTLINE,
            name="recess",
            title="Side of the recess",
            open_edges=(0, 1),
        )


def break_lines(sizes: Sizes, frame: SectionFrame) -> Iterator[Item]:
    """Where the piece goes on."""
    first = sizes["depth.front_glass"] - 4
    last = (
        sizes["depth.picture"] + sizes["screen.outline.depth"] + 4
        if "screen.outline.width" in sizes
        else pane_depths(sizes, sizes.seat)[1] + 4
    )
    insets = [frame.end_mm, *((frame.cut_from_mm, frame.cut_to_mm) if frame.is_cut else ())]
    for inset in insets:
        yield BreakLine(start=frame.at(inset, first), end=frame.at(inset, last))
