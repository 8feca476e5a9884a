"""Pockets for what sticks out of the screen: where on the stick, how long, how deep, and what timber is left."""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection, Iterator

from halfsilver.documents.section_frame import SectionFrame
from halfsilver.documents.section_parts import face_depth_mm, pane_depths, profile_of
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named, printable, sentence
from halfsilver.drawing.moves import mirrored
from halfsilver.drawing.scene import BreakLine, Callout, Callouts, Dimension, Item, Point, Polygon, Scene, Side, rectangle
from halfsilver.drawing.style import Material, Role
from halfsilver.model.job import SticksOut

BESIDE_MM, END_MM, GAP_MM, WORTH_MM = 45.0, 30.0, 12.0, 60.0
ENDS = {"bottom": ("left", "right"), "top": ("left", "right"), "left": ("top", "bottom"), "right": ("top", "bottom")}


def relief_parts(sizes: Sizes) -> tuple[SticksOut, ...]:
    """Everything that sticks out and needs a pocket."""
    if "screen.outline.width" not in sizes:
        return ()
    return tuple(part for part in sizes.design.facts.screen.screen.sticks_out if sizes[f"relief.{part.id}.into_wall"] > 0)


def pocket_from_behind(sizes: Sizes, part: SticksOut) -> Scene:
    """The stick's back face with the pocket, outer edge below, measured from the long point.

    Seen from behind, the stick's first end (the viewer's left, or the top) lies where it does on the bench: at the right for a bottom and
    a left stick, at the left for a top and a right one.
    """
    bench = _Bench(sizes, part)
    items: list[Item] = [*bench.stick(), *bench.dimensions(), *bench.callouts()]
    if part.side.value in ("bottom", "left"):
        items = [mirrored(item) for item in items]
    return Scene(items=tuple(items), title=f"{part.side.value.capitalize()} stick of the {sizes.seat} frame, back face")


class _Bench:
    """A stick laid out along x from its first long point; a piece before the pocket is left out where it is long."""

    def __init__(self, sizes: Sizes, part: SticksOut) -> None:
        self.sizes, self.part, self.name = sizes, part, f"relief.{part.id}"
        self.body = sizes[f"{sizes.seat}.moulding.body"]
        self.near, self.along = sizes[f"{self.name}.at"], sizes[f"{self.name}.width"]
        self.into = sizes[f"{self.name}.into_wall"]
        first = self.body + END_MM
        spare = self.near - BESIDE_MM - first - GAP_MM
        self.skipped = spare if spare > WORTH_MM else 0.0
        self.first = first if self.skipped else 0.0

    def x(self, along: float) -> float:
        return along - self.skipped if along > self.first else along

    def stick(self) -> Iterator[Item]:
        start, end, wall = self.x(self.near), self.x(self.near) + self.along, self.body
        last = end + BESIDE_MM
        edge: list[Point] = [(last, wall), (end, wall), (end, wall - self.into), (start, wall - self.into), (start, wall)]
        if self.skipped:
            again = start - BESIDE_MM
            yield Polygon(
                points=((0, 0), (self.first, 0), (self.first, wall), (wall, wall)),
                material=Material.TIMBER_LONG,
                open_edges=(1,),
                name="stick",
                title="Stick",
            )
            yield Polygon(
                points=((again, 0), (last, 0), *edge, (again, wall)),
                material=Material.TIMBER_LONG,
                open_edges=(1, 7),
                name="stick",
                title="Stick",
            )
            yield BreakLine(start=(self.first, -3), end=(self.first, wall + 3))
            yield BreakLine(start=(again, -3), end=(again, wall + 3))
        else:
            yield Polygon(
                points=((0, 0), (last, 0), *edge, (wall, wall)), material=Material.TIMBER_LONG, open_edges=(1,), name="stick", title="Stick"
            )
        yield BreakLine(start=(last, -3), end=(last, wall + 3))
        begin = start + self.sizes["relief.margin"] + self.sizes["relief.cutter"]
        deep = self.part.out + self.part.added
        level = wall - self.into + self._play()
        yield rectangle(
            x_mm=begin,
            y_mm=level,
            width_mm=self.part.end - self.part.start,
            height_mm=deep,
            material=Material.SCREEN,
            role=Role.HIDDEN,
            name=self.part.id,
            title=printable(self.part.id),
        )

    def _play(self) -> float:
        outer = self.sizes[f"screen.offset.{self.part.side.value}"] - self.part.out - self.part.added
        return max(outer - (self.body - self.into), 0.0)

    def dimensions(self) -> Iterator[Dimension]:
        start, end, wall = self.x(self.near), self.x(self.near) + self.along, self.body
        dim = self.sizes.dimension
        yield dim(f"{self.name}.at", (0, 0), (start, wall), side=Side.ABOVE, chain="place")
        yield dim(f"{self.name}.width", (start, wall), (end, wall), side=Side.ABOVE, chain="place")
        last = end + BESIDE_MM
        yield dim(f"{self.name}.wall_left", (last, 0), (end, wall - self.into), side=Side.RIGHT, chain="wall")
        yield dim(f"{self.name}.into_wall", (end, wall - self.into), (end, wall), side=Side.RIGHT, chain="wall")
        yield dim(f"{self.sizes.seat}.moulding.body", (last, 0), (last, wall), side=Side.RIGHT)

    def callouts(self) -> Iterator[Item]:
        end = ENDS[self.part.side.value][0]
        yield Callouts(side=Side.LEFT, entries=(
            Callout(tip=(0, 0), text=f"Long point,\nviewer's {end} end" if end == "left" else f"Long point, {end} end"),
        ))  # fmt: skip


def pocket_section(sizes: Sizes, part: SticksOut) -> Scene:
    """The stick cut through its pocket, with what sticks out in its place."""
    frame = SectionFrame(side="bottom", end_mm=sizes[f"screen.offset.{part.side.value}"] + sizes[f"screen.border.{part.side.value}"] + 16.0)
    items: list[Item] = [*_cut_stick(sizes, frame, part), *_screen(sizes, frame, part), *_section_dimensions(sizes, frame, part)]
    return Scene(items=tuple(items), title=f"Cut through the pocket, {part.side.value} stick")


def _cut_stick(sizes: Sizes, frame: SectionFrame, part: SticksOut) -> Iterator[Item]:
    seat, name = sizes.seat, f"relief.{part.id}"
    face, body, back = face_depth_mm(sizes, seat), sizes[f"{seat}.moulding.body"], sizes["depth.back"]
    yield frame.polygon(
        [(x, z + face) for x, z in profile_of(sizes, seat).section], material=Material.TIMBER_END, name=f"{seat}.moulding", title="Moulding"
    )
    pocket = (body - sizes[f"{name}.into_wall"], body)
    yield frame.slab(pocket, (back - sizes[f"{name}.height"], back), material=Material.VOID, name=name, title="Pocket")


def _screen(sizes: Sizes, frame: SectionFrame, part: SticksOut) -> Iterator[Item]:
    side, face = part.side.value, sizes["depth.picture"]
    edge, border, end = sizes[f"screen.offset.{side}"], sizes[f"screen.border.{side}"], frame.end_mm
    depth = sizes["screen.outline.depth"]
    yield frame.slab((edge, end), pane_depths(sizes, sizes.seat), material=Material.GLASS, name="pane", title="Pane", open_end=True)
    yield frame.slab((edge, end), (face, face + depth), material=Material.SCREEN, name="screen", title="Screen", open_end=True)
    yield frame.slab(
        (edge + border, end),
        (face, face + 1.6),
        material=Material.LIGHT,
        role=Role.THIN,
        name="screen.picture",
        title="Picture",
        open_end=True,
    )
    back = depth if part.back is None else part.back
    yield frame.slab(
        (edge - part.out - part.added, edge),
        (face + part.front, face + back),
        material=Material.SCREEN,
        role=Role.OUTLINE,
        name=part.id,
        title=printable(part.id),
    )
    yield BreakLine(start=frame.at(end, pane_depths(sizes, sizes.seat)[0] - 3), end=frame.at(end, face + depth + 3))


def _section_dimensions(sizes: Sizes, frame: SectionFrame, part: SticksOut) -> Iterator[Item]:
    name, side, seat = f"relief.{part.id}", part.side.value, sizes.seat
    body, back, face = sizes[f"{seat}.moulding.body"], sizes["depth.back"], sizes["depth.picture"]
    edge, into = sizes[f"screen.offset.{side}"], sizes[f"{name}.into_wall"]
    front = back - sizes[f"{seat}.moulding.rebate_depth"]
    yield frame.along(sizes, f"{name}.height", (back - sizes[f"{name}.height"], back), 0, side=Side.BELOW)
    yield frame.along(sizes, f"{seat}.moulding.rebate_depth", (front, back), 0, side=Side.BELOW)
    yield sizes.dimension(f"{name}.wall_left", frame.at(0, back), frame.at(body - into, back), side=Side.RIGHT, chain="wall")
    yield sizes.dimension(f"{name}.into_wall", frame.at(body - into, back), frame.at(body, back), side=Side.RIGHT, chain="wall")
    outer, picture = edge - part.out - part.added, edge + sizes[f"screen.border.{side}"]
    yield sizes.dimension(f"{name}.from_picture", frame.at(outer, face), frame.at(picture, face), side=Side.LEFT)
    entries = (
        Callout(
            tip=frame.at(body - into * 0.4, back - sizes[f"{name}.height"] + 2),
            text="Cut from the back face,\nopen to the back, so that\nthe screen slides in",
            name=name,
        ),
        Callout(tip=frame.at(edge - part.out * 0.5, face + part.front + 3), text=sentence(named(part.id))),
        Callout(tip=frame.at(frame.end_mm - 7, face + sizes["screen.outline.depth"] * 0.6), text="Screen"),
    )
    yield Callouts(entries=entries, side=Side.RIGHT)


def reliefs(sizes: Sizes) -> dict[str, Scene]:
    """Two drawings per pocket, by their names."""
    found: dict[str, Scene] = {}
    for part in relief_parts(sizes):
        name = _stem(part.id, taken=found)
        found[name] = pocket_from_behind(sizes, part)
        found[f"{name}-section"] = pocket_section(sizes, part)
    return found


def plain_name(identity: str) -> str:
    """A part's name in small letters, figures and strokes.

    Examples
    --------
    >>> plain_name("foot #1"), plain_name("\u5c71")
    ('foot-1', 'part')
    """
    return re.sub(r"[^a-z0-9]+", "-", identity.lower()).strip("-")[:40] or "part"


def _stem(identity: str, *, taken: Collection[str]) -> str:
    """A name that any system takes as part of a file's name; equal ones are counted."""
    plain = plain_name(identity)
    names = (f"relief-{plain}{f'-{count}' if count > 1 else ''}" for count in itertools.count(1))
    return next(name for name in names if name not in taken and f"{name}-section" not in taken)
