"""The piece from the front, as the viewer sees it, with everything that lies behind its glass in hidden lines."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.boxes import box_of, mitred, outline_box, picture_box, pocket_box
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named, printable
from halfsilver.drawing.scene import Anchor, Callout, Callouts, CentreLine, Circle, Group, Item, Leader, Point, Scene, Side, Text
from halfsilver.drawing.style import Material, Role
from halfsilver.model.job import Corner

INWARDS_MM = {"bottom": 15.0, "top": -15.0}


def front_view(sizes: Sizes) -> Scene:
    """Dimensioned front view: outside, sight, picture, screen outline, window, pockets, feed corner."""
    outside, sight = box_of(sizes, "outside"), box_of(sizes, "front.sight")
    items: list[Item] = [
        sight.drawn(material=Material.GLASS, name="front.glass", title="Front glass"),
        Group(items=tuple(mitred(outside, sight, name="front", title="Front frame")), layer="front frame"),
        *_hidden(sizes),
        CentreLine(start=(0, outside.bottom), end=(0, outside.top)),
        CentreLine(start=(outside.left, 0), end=(outside.right, 0)),
        *_dimensions(sizes),
        *_words(sizes),
        *_pockets(sizes),
        *_callouts(sizes),
    ]
    return Scene(items=tuple(items), title="Front view, as the viewer sees it")


def _hidden(sizes: Sizes) -> Iterator[Item]:
    if "window.left" in sizes:
        yield box_of(sizes, "front.glass").drawn(role=Role.HIDDEN, name="front.glass.edge", title="Edge of the pane")
    if "screen.outline.width" in sizes:
        yield outline_box(sizes).drawn(role=Role.HIDDEN, name="screen.outline", title="Outline of the screen")
        yield picture_box(sizes).drawn(role=Role.HIDDEN, name="screen.picture", title="Picture")
        for part in sizes.design.facts.screen.screen.sticks_out:
            yield pocket_box(sizes, part).drawn(role=Role.HIDDEN, name=f"relief.{part.id}", title=f"Pocket for the {printable(part.id)}")
    corner = feed_corner(sizes)
    if corner is not None:
        yield Circle(
            centre=corner,
            radius_mm=sizes["batten.width"] / 2,
            material=Material.LIGHT,
            role=Role.THIN,
            name="strip.feed",
            title="Feed of the strip",
        )


def feed_corner(sizes: Sizes) -> Point | None:
    """Where the strip is fed, as the viewer sees it; None where there is no strip. [mm]"""
    word = feed_word(sizes)
    if word is None:
        return None
    rebate, half = box_of(sizes, "front.rebate"), sizes["batten.width"] / 2
    x = rebate.left + half if word.value.endswith("left") else rebate.right - half
    return x, rebate.top - half if word.value.startswith("top") else rebate.bottom + half


def feed_word(sizes: Sizes) -> Corner | None:
    """The corner asked for in the job, else the decided one."""
    facts = sizes.design.facts
    if facts.job.lights is None or "strip.path" not in sizes:
        return None
    if isinstance(facts.job.lights.corner, Corner):
        return facts.job.lights.corner
    return Corner(facts.choices.corner.value) if facts.choices.corner else None


def _dimensions(sizes: Sizes) -> Iterator[Item]:
    outside, sight = box_of(sizes, "outside"), box_of(sizes, "front.sight")
    dim = sizes.dimension
    yield dim("front.sight.width", (sight.left, sight.top), (sight.right, sight.top))
    yield dim("outside.width", (outside.left, outside.top), (outside.right, outside.top))
    yield dim("front.sight.height", (sight.left, sight.bottom), (sight.left, sight.top), side=Side.LEFT)
    yield dim("outside.height", (outside.left, outside.bottom), (outside.left, outside.top), side=Side.LEFT)
    if "screen.outline.width" not in sizes:
        return
    picture, outline = picture_box(sizes), outline_box(sizes)
    yield dim(
        "screen.picture.width", (picture.left, picture.bottom), (picture.right, picture.bottom), side=Side.BELOW, chain="picture across"
    )
    yield dim("screen.picture.height", (picture.right, picture.bottom), (picture.right, picture.top), side=Side.RIGHT, chain="picture up")
    yield dim("screen.outline.width", (outline.left, outline.bottom), (outline.right, outline.bottom), side=Side.BELOW)
    yield dim("screen.outline.height", (outline.right, outline.bottom), (outline.right, outline.top), side=Side.RIGHT)
    yield dim("screen.offset.left", (outside.left, outside.bottom), (outline.left, outline.bottom), side=Side.BELOW, chain="place across")
    yield dim("screen.offset.bottom", (outside.right, outside.bottom), (outline.right, outline.bottom), side=Side.RIGHT, chain="place up")
    if "window.left" in sizes:
        pane = box_of(sizes, "front.glass")
        yield dim("window.left", (pane.left, pane.bottom), (picture.left, picture.bottom), side=Side.BELOW, chain="picture across")
        yield dim("window.bottom", (pane.right, pane.bottom), (picture.right, picture.bottom), side=Side.RIGHT, chain="picture up")


def _words(sizes: Sizes) -> Iterator[Item]:
    size = f"Front glass\n{sizes.by('front.glass.width', 'front.glass.height')}"
    yield Text(at=(0, 0), text=size, anchor=Anchor.BASE_CENTRE, shift_mm=(0, 2.5))


def _pockets(sizes: Sizes) -> Iterator[Item]:
    """Names of pockets: within the glass for the only one of a top or bottom stick, in columns for the others."""
    parts = sizes.design.facts.screen.screen.sticks_out if "screen.outline.width" in sizes else ()
    sides = [part.side.value for part in parts]
    columns: dict[Side, list[Callout]] = {Side.LEFT: [], Side.RIGHT: []}
    for part in parts:
        side, box = part.side.value, pocket_box(sizes, part)
        x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
        words = f"Pocket for the\n{named(part.id)}, {side} stick,\n{sizes.seat} frame"
        if side in INWARDS_MM and sides.count(side) == 1:
            yield Leader(tip=(x, y), text=words, to_mm=(-14.0 if x > 0 else 14.0, INWARDS_MM[side]), name=f"relief.{part.id}")
        else:
            columns[Side.RIGHT if x > 0 else Side.LEFT].append(Callout(tip=(x, y), text=words, name=f"relief.{part.id}"))
    yield from (Callouts(entries=tuple(entries), side=side) for side, entries in columns.items() if entries)


def _callouts(sizes: Sizes) -> Iterator[Item]:
    outside, sight = box_of(sizes, "outside"), box_of(sizes, "front.sight")
    entries = [Callout(tip=(outside.right - 8, outside.top - 8), text="Mitres at 45 degrees")]
    if "screen.outline.width" in sizes:
        picture = picture_box(sizes)
        entries.append(Callout(tip=(picture.right, picture.top - picture.height * 0.22), text="Edge of the picture"))
        if "window.left" in sizes:
            outline = outline_box(sizes)
            entries.append(
                Callout(tip=(outline.right, outline.top - outline.height * 0.4), text="Outline of the screen\nin the backing's cut-out")
            )
            entries.append(Callout(tip=(sight.right - 20, sight.bottom + 20), text="Opaque backing\nbehind the pane"))
    corner, word = feed_corner(sizes), feed_word(sizes)
    if corner is not None and word is not None:
        entries.append(Callout(tip=corner, text=f"Feed of the strip,\n{word.value.replace('-', ' ')}", name="strip.feed"))
    yield Callouts(entries=tuple(entries), side=Side.RIGHT)
