"""What is cut: sticks by their long points, battens, panes with their coated side."""

from __future__ import annotations

from collections.abc import Iterator

from halfsilver.documents.section_parts import looks_back, profile_of
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import named, shortened
from halfsilver.drawing.scene import Anchor, Callout, Callouts, Item, Line, Polygon, Scene, Side, Text, rectangle
from halfsilver.drawing.style import Material, Role
from halfsilver.model.job import Scope, Through


def cut_parts(sizes: Sizes) -> dict[str, Scene]:
    """Drawings of what this job's scope makes, by name."""
    scope = sizes.design.facts.job.scope
    found: dict[str, Scene] = {}
    if scope is not Scope.GLASS_ONLY:
        found |= {f"{which}-stick-{length}": stick(sizes, which, length) for which in sizes.frames for length in ("long", "short")}
        if "batten.long" in sizes:
            found |= {f"batten-{length}": batten(sizes, length) for length in ("long", "short")}
    if scope is not Scope.FRAME_ONLY:
        found |= {f"{which}-glass": pane(sizes, which) for which in sizes.frames}
    return found


def stick(sizes: Sizes, which: str, length: str) -> Scene:
    """A mitred stick seen on its back face, the long point below."""
    name = f"{which}.stick.{length}"
    long, face, body = sizes[name], profile_of(sizes, which).face_mm, sizes[f"{which}.moulding.body"]
    items: list[Item] = [
        Polygon(
            points=((0, 0), (long, 0), (long - face, face), (face, face)),
            material=Material.TIMBER_LONG,
            name=name,
            title=f"{which.capitalize()} frame, {length} stick",
        ),
        Line(start=(body, body), end=(long - body, body), role=Role.HIDDEN),
        sizes.dimension(name, (0, 0), (long, 0), side=Side.BELOW),
        Callouts(entries=(Callout(tip=(long - face / 2, face / 2), text="45 degrees at both ends,\nlong point outside"),), side=Side.RIGHT),
        Text(at=(long / 2, face), text=_stick_words(sizes, which, length), anchor=Anchor.BASE_CENTRE, shift_mm=(0, 2)),
    ]
    return Scene(items=tuple(items), title=f"{which.capitalize()} frame, {length} sticks: 2")


def _stick_words(sizes: Sizes, which: str, length: str) -> str:
    facts = sizes.design.facts
    moulding = facts.front_moulding if which == "front" else facts.rear_moulding
    planed = f", face planed {sizes.text('rear.planed')} before mitring" if which == "rear" else ""
    sides = ("top and bottom", "left and right")
    wide = sizes["outside.width"] >= sizes["outside.height"]
    return f"{named(moulding.id)}{planed}: {sides[(length == 'long') is not wide]}"


def batten(sizes: Sizes, length: str) -> Scene:
    """A batten seen from the front."""
    name, width = f"batten.{length}", sizes["batten.width"]
    through = sizes.design.facts.job.battens.through is (Through.LONG if length == "long" else Through.SHORT)
    words = "runs through" if through else "fits between: measure it\nafter the other pair is in"
    depth = f"{sizes.text('batten.depth')} front to back, never proud;\n{words}"
    items: list[Item] = [
        rectangle(
            x_mm=0,
            y_mm=0,
            width_mm=sizes[name],
            height_mm=width,
            material=Material.TIMBER_LONG,
            name=name,
            title=f"{length.capitalize()} batten",
        ),
        sizes.dimension(name, (0, 0), (sizes[name], 0), side=Side.BELOW),
        sizes.dimension("batten.width", (0, 0), (0, width), side=Side.LEFT),
        Callouts(entries=(Callout(tip=(sizes[name] * 0.96, width / 2), text=depth),), side=Side.RIGHT),
    ]
    return Scene(items=tuple(items), title=f"Battens, {length}: 2")


def pane(sizes: Sizes, which: str) -> Scene:
    """A pane from the front with its coated side."""
    wide, high = sizes[f"{which}.glass.width"], sizes[f"{which}.glass.height"]
    dim = sizes.dimension
    items: list[Item] = [
        rectangle(
            x_mm=0,
            y_mm=0,
            width_mm=wide,
            height_mm=high,
            material=Material.GLASS,
            name=f"{which}.glass",
            title=f"{which.capitalize()} glass",
        ),
        dim(f"{which}.glass.width", (0, high), (wide, high)),
        dim(f"{which}.glass.height", (0, 0), (0, high), side=Side.LEFT),
        Text(at=(wide / 2, high / 2), text="\n".join(_pane_words(sizes, which)), anchor=Anchor.MIDDLE_CENTRE),
    ]
    return Scene(items=tuple(items), title=f"{which.capitalize()} glass, from the front")


def _pane_words(sizes: Sizes, which: str) -> Iterator[str]:
    facts = sizes.design.facts
    kind = facts.front_glass if which == "front" else facts.rear_glass
    yield f"{named(kind.id)}, {sizes.text(f'{which}.glass.thickness')} thick"
    yield "Coated side away from you" if looks_back(sizes, which) else "Coated side towards you"
    yield f"Opening {sizes.by(f'{which}.rebate.width', f'{which}.rebate.height')}"
    yield "Measure the opening before cutting" if kind.cut_here else "Order it after measuring the opening"
    if kind.impact:
        yield f"Marked {shortened(kind.impact, room_mm=80.0, size_mm=2.5)}"
