"""The first page of a document: what the piece is, its main sizes, what each viewer sees, what was assumed, what to mind."""

from __future__ import annotations

from halfsilver.documents.sizes import Sizes
from halfsilver.documents.words import printable, sentence
from halfsilver.layout.design import Design
from halfsilver.ledger.ledger import Origin
from halfsilver.model.job import CarriedBy, Construction, MountingKind, Scope, Units
from halfsilver.units.rounding import decimal_text

KG_PER_LB = 0.45359237
KINDS = {
    Construction.LIT_SCREEN: "A lit screen: two part-mirror sheets with a strip of lights round the space between, and a screen behind",
    Construction.HIDDEN_SCREEN: "A hidden screen: one part-mirror sheet in one frame, a screen behind it and an opaque backing round that",
    Construction.LIT_MIRROR: "A lit mirror: a part-mirror sheet before a full mirror, with a strip of lights round the space between",
}
HELD = {MountingKind.HUNG: "hung on the wall", MountingKind.RECESSED: "let into a recess", MountingKind.STANDING: "standing"}
SCOPES = {
    Scope.COMPLETE: "complete",
    Scope.FRAME_ONLY: "frame only: glass, screen and lights come from others",
    Scope.GLASS_ONLY: "glass only: frame and screen come from others",
    Scope.KIT: "as a kit, to be put together by others",
}


def mass_text(sizes: Sizes, mass_kg: float) -> str:
    """A mass as it is printed, in pounds too where the job is in inches."""
    places = 1 if mass_kg >= 10 else 2
    kilograms = f"{decimal_text(mass_kg, places)} kg"
    if sizes.design.facts.job.units is Units.INCH:
        return f"{kilograms} ({decimal_text(mass_kg / KG_PER_LB, 1)} lb)"
    return kilograms


def sentence_of(design: Design) -> str:
    """What is built, in one sentence."""
    job = design.facts.job
    kind = KINDS.get(job.construction, job.construction.value.replace("-", " "))
    carried = (
        "the frame carries the screen" if job.mounting.carried_by is CarriedBy.FRAME else "the screen's own mount carries screen and frame"
    )
    number = f" {job.quantity} pieces." if job.quantity > 1 else ""
    return f"{kind}; {HELD[job.mounting.kind]}, {carried}. Made {SCOPES[job.scope]}.{number}"


def headline(sizes: Sizes) -> list[dict[str, str]]:
    """The sizes that everybody asks for first."""
    design = sizes.design
    off = "Depth off the wall" if design.facts.job.mounting.kind is MountingKind.HUNG else "Depth"
    rows = [("Outside", sizes.by("outside.width", "outside.height")), (off, sizes.text("outside.depth"))]
    rows.append(("Mass, complete", mass_text(sizes, design.mass_kg)))
    rows.append(("Centre of gravity", _centre(sizes)))
    rows += [
        (f"{which.capitalize()} glass", sizes.by(*(f"{which}.glass.{d}" for d in ("width", "height", "thickness"))))
        for which in sizes.frames
    ]
    rows.append(("Sight", sizes.by("front.sight.width", "front.sight.height")))
    if "gap" in sizes:
        rows.append(("Air gap between the sheets", sizes.text("gap")))
    if "screen.picture.width" in sizes:
        rows.append(("Picture", sizes.by("screen.picture.width", "screen.picture.height")))
    height = design.facts.job.mounting.centre_height
    rows.append(("Centre above the floor", "not given" if height is None else sizes.show(height, "mm")))
    return [{"label": label, "value": value} for label, value in rows]


def _centre(sizes: Sizes) -> str:
    x, y, z = sizes.design.centre_mm
    sideways = "" if abs(x) < 0.5 else f", {sizes.show(abs(x), 'mm')} to the viewer's {'right' if x > 0 else 'left'}"
    level = "level with the middle" if abs(y) < 0.5 else f"{sizes.show(abs(y), 'mm')} {'above' if y > 0 else 'below'} the middle"
    return f"{sizes.show(-z, 'mm')} behind the face, {level}{sideways}"


def viewer_rows(sizes: Sizes) -> list[dict[str, str]]:
    """What each viewer sees of the picture, and what is hidden on each side."""
    rows = []
    for viewer in sizes.design.facts.job.viewers:
        name = f"seen.{viewer.id}"
        if name not in sizes:
            continue
        where = stands(sizes, viewer.id)
        hidden = {side: sizes.text(f"hidden.{side}.{viewer.id}") for side in ("left", "right", "top", "bottom")}
        rows.append({"who": printable(viewer.id)[:40], "where": where, "seen": sizes.text(name), **hidden})
    return rows


def stands(sizes: Sizes, who: str) -> str:
    """Where a viewer stands: how far away, how far aside, how high."""
    job = sizes.design.facts.job
    eye, centre = next(viewer for viewer in job.viewers if viewer.id == who), job.mounting.centre_height
    up = 0.0 if eye.eye_height is None or centre is None else eye.eye_height - centre
    across = "in the middle"
    if abs(eye.sideways) >= 0.5:
        across = f"{sizes.show(abs(eye.sideways), 'mm')} to the {'right' if eye.sideways > 0 else 'left'}"
    level = "level" if abs(up) < 0.5 else f"{sizes.show(abs(up), 'mm')} {'higher' if up > 0 else 'lower'}"
    return f"{sizes.show(eye.distance, 'mm')} away, {across}, eye {level}"


def assumed(sizes: Sizes) -> list[str]:
    """What nobody has said or measured."""
    ledger, job = sizes.design.ledger, sizes.design.facts.job
    told = [
        f"{sentence(entry.label)}: {sizes.text(name)}{f' ({entry.source})' if entry.source else ''}"
        for name, entry in ledger.entries.items()
        if ledger.origin(name) is Origin.ASSUMED
    ]
    if "screen.outline.width" in sizes:
        told += [sentence(words) for words in sizes.design.facts.screen.assumed]
    if job.mounting.centre_height is None:
        told.append("The height of the centre above the floor is not given: eyes are taken to be level with it.")
    return [printable(text) for text in told]
