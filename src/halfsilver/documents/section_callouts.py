"""What the parts of a section are called, and where each name points."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.back_view import OVER_SCREEN_MM
from halfsilver.documents.section_frame import SectionFrame
from halfsilver.documents.section_parts import PICTURE_MM, SPACER_MM, WALL_MM, has_bar, looks_back, pane_depths
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named
from halfsilver.drawing.scene import Callout


def callouts(sizes: Sizes, frame: SectionFrame) -> tuple[list[Callout], list[Callout]]:
    """What the parts are called: those of the front at the left, those behind at the right."""
    return list(_front_callouts(sizes, frame)), list(_rear_callouts(sizes, frame))


def _front_callouts(sizes: Sizes, frame: SectionFrame) -> Iterator[Callout]:
    facts, end = sizes.design.facts, frame.end_mm
    body, lip = sizes["front.moulding.body"], sizes["front.moulding.lip"]
    yield Callout(
        tip=frame.at(body * 0.35, sizes["front.moulding.depth"] * 0.45),
        text=f"Front moulding\n{named(facts.front_moulding.id)}",
        name="front.moulding",
    )
    yield Callout(tip=frame.at(body + lip * 0.6, sizes["front.moulding.lip_thickness"] * 0.6), text="Front lip")
    depths = pane_depths(sizes, "front")
    yield Callout(
        tip=frame.at(end - 6, sum(depths) / 2),
        text=f"Front glass {named(facts.front_glass.id)},\n{_coated_words(sizes, 'front')}",
        name="front.glass",
    )


def _coated_words(sizes: Sizes, which: str) -> str:
    behind = "the screen" if which == sizes.seat else "the cavity"
    before = "the viewer" if which == "front" else "the cavity"
    return f"coated side to {behind if looks_back(sizes, which) else before}"


def _rear_callouts(sizes: Sizes, frame: SectionFrame) -> Iterator[Callout]:
    facts, end = sizes.design.facts, frame.end_mm
    if "batten.width" in sizes:
        wall, start = sizes["front.moulding.body"], sizes["depth.batten"]
        yield Callout(
            tip=frame.at(wall + sizes["batten.width"] * 0.75, start + sizes["batten.depth"] * 0.8),
            text="Batten, black, pinned outward",
            name="batten",
        )
        yield Callout(
            tip=frame.at(
                wall + sizes["batten.width"] + sizes["strip.thickness"] * 0.6, start + sizes["strip.at"] + sizes["strip.width"] * 0.85
            ),
            text=f"Strip of lights {named(facts.light.id)}",
            name="strip",
        )
    if "rear.rebate.width" in sizes:
        body, lip, face = sizes["rear.moulding.body"], sizes["rear.moulding.lip"], sizes["depth.rear_lip"]
        yield Callout(
            tip=frame.at(body * 0.42, sizes["depth.joint"] + sizes["glue_line"] / 2),
            text="Glued joint" + (", frame between" if sizes["spacer_frame"] > 0 else ""),
            name="glue_line",
        )
        yield Callout(
            tip=frame.at(body * 0.3, face + sizes["rear.moulding.depth"] * 0.6),
            text=f"Rear moulding {named(facts.rear_moulding.id)},\nface planed {sizes.text('rear.planed')}",
            name="rear.planed",
        )
        yield Callout(tip=frame.at(body + lip * 0.5, face + sizes["rear.lip_thickness"] * 0.6), text="Rear lip, edge black")
        yield Callout(
            tip=frame.at(end - 4, sum(pane_depths(sizes, "rear")) / 2),
            text=f"Rear glass {named(facts.rear_glass.id)},\n{_coated_words(sizes, 'rear')}",
            name="rear.glass",
        )
    if "screen.outline.width" in sizes:
        yield from _screen_callouts(sizes, frame)
    if "panel.width" in sizes:
        tip = frame.at(sizes["panel.inset"] + 14, sizes["depth.back"] + sizes["panel.thickness"] / 2)
        yield Callout(tip=tip, text=f"Back panel, screws at most {sizes.text('screw.max.panel')}", name="panel.thickness")
    else:
        yield Callout(
            tip=frame.at(facts.plate.inset + facts.plate.width * 0.3, sizes["depth.back"] + sizes["plate.thickness"] / 2),
            text="Plate, at the corners only",
            name="plate",
        )
    kind = facts.job.mounting.kind.value
    if kind == "hung":
        yield Callout(tip=frame.at(2, sizes["outside.depth"] + WALL_MM * 0.5), text="Wall", name="wall")
    elif kind == "recessed" and "recess.play.width" in sizes:
        d = "width" if frame.side in ("left", "right") else "height"
        tip = frame.at(-max(sizes[f"recess.play.{d}"] / 2, 0.0) - WALL_MM * 0.4, sizes["outside.depth"])
        yield Callout(tip=tip, text=f"Recess, play in all {sizes.text(f'recess.play.{d}')}", name=f"recess.play.{d}")


def _screen_callouts(sizes: Sizes, frame: SectionFrame) -> Iterator[Callout]:
    edge, border = sizes[f"screen.offset.{frame.side}"], sizes[f"screen.border.{frame.side}"]
    face, deep = sizes["depth.picture"], sizes["screen.outline.depth"]
    if "backing.width" in sizes:
        yield Callout(
            tip=frame.at(sizes["front.moulding.body"] + 12, pane_depths(sizes, sizes.seat)[1] + sizes["backing.thickness"] / 2),
            text="Opaque backing",
            name="backing",
        )
    yield Callout(
        tip=frame.at(edge + min(border * 0.4, SPACER_MM / 2), face - sizes["spacer"] / 2),
        text="Spacer: glass and screen never touch",
        name="spacer",
    )
    yield Callout(tip=frame.at(edge + border + 1, face + PICTURE_MM / 2), text="Edge of the picture", name="screen.picture")
    yield Callout(tip=frame.at(frame.end_mm - 8, face + deep * 0.7), text="Screen", name="screen")
    if frame.side == "bottom":
        for part in sizes.design.facts.screen.screen.sticks_out:
            if part.side.value == "bottom" and sizes[f"relief.{part.id}.into_wall"] > 0:
                inset = sizes[f"{sizes.seat}.moulding.body"] - sizes[f"relief.{part.id}.into_wall"]
                yield Callout(
                    tip=frame.at(inset, sizes["depth.back"] - sizes[f"relief.{part.id}.height"] * 0.3),
                    text=f"Pocket for the {named(part.id)}",
                    name=f"relief.{part.id}",
                )
    elif has_bar(sizes, frame.side):
        over = edge + OVER_SCREEN_MM * 0.7
        t, step = sizes["bar.thickness"], max(sizes["bar.step"], 0.0)
        depth = sizes["depth.back"] + (step if step > t else 0.0) + t / 2
        yield Callout(
            tip=frame.at(over, depth),
            text=f"Stepped bar {named(sizes.design.facts.bar.id)};\nits pad gives {sizes.text('pad.compression')}",
            name="bar.step",
        )
