"""A job's first text, from the few things that a client knows: whatever else it takes is assumed, and the text says so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from importlib.resources import files
from typing import Final

from halfsilver.errors import JobError, Problem, QuantityError
from halfsilver.files.encode import scalar_text
from halfsilver.model.workshop import GlassKind, Workshop
from halfsilver.units.quantities import read_quantity

ASSUMED: Final = "# assumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Enquiry:
    """What a client knows, as written; what is empty is not known.

    Parameters
    ----------
    title, client : str
        What it is, and for whom.
    construction : str
        ``lit-screen``, ``lit-mirror`` or ``hidden-screen``.
    units : str
        ``in`` or ``mm``.
    screen : str
        Id of a measured screen of the workshop.
    diagonal, aspect : str
        Of another screen.
    width, height : str
        Asked size of the opening, for pieces without a screen, or larger than it.
    visitors, kind : str
        Who comes near, and how it is held.
    distance : str
        How far away people stand.
    """

    title: str
    client: str = ""
    construction: str = "lit-screen"
    units: str = "in"
    screen: str = ""
    diagonal: str = ""
    aspect: str = "16:9"
    width: str = ""
    height: str = ""
    visitors: str = "public"
    kind: str = "hung"
    distance: str = ""


def enquiry_text(enquiry: Enquiry, workshop: Workshop) -> str:
    """The text of a job file that begins with an enquiry.

    Raises
    ------
    JobError
        With each answer that cannot be read, by the name of its field.
    """
    problems = tuple(_problems(enquiry))
    if problems:
        raise JobError(problems)
    return "\n".join(_lines(enquiry, workshop)) + "\n"


def example_text() -> str:
    """The text of the invented job that ships with the program."""
    return (files("halfsilver") / "data" / "demo" / "foyer.yaml").read_text("utf-8")


def _problems(enquiry: Enquiry) -> Iterable[Problem]:
    if not enquiry.title.strip():
        yield Problem(code="missing", path="title", allowed="Every job has a title.", advice="Say in a few words what it is.")
    for path, kind in (("diagonal", "length"), ("width", "length"), ("height", "length"), ("distance", "distance"), ("aspect", "aspect")):
        text = getattr(enquiry, path)
        if text.strip():
            try:
                read_quantity("length" if kind == "distance" else kind, text)
            except QuantityError as error:
                yield error.at(file="", line=0, column=0, path=path)
    if enquiry.construction == "lit-mirror":
        for path in ("width", "height"):
            if not getattr(enquiry, path).strip():
                yield Problem(
                    code="missing", path=path, allowed="A lit mirror is as large as its opening is asked.", advice="Give its size."
                )
        return
    if bool(enquiry.width.strip()) != bool(enquiry.height.strip()):
        path = "height" if enquiry.width.strip() else "width"
        yield Problem(code="missing", path=path, allowed="An opening has a width and a height.", advice="Give both, or neither.")
    if bool(enquiry.screen) == bool(enquiry.diagonal.strip()):
        words = "A measured screen has its size already." if enquiry.screen else "A piece with a screen begins with the screen."
        code, advice = (
            ("twice", "Leave this empty, or choose another one.")
            if enquiry.screen
            else ("missing", "Choose a measured one, or give its diagonal.")
        )
        yield Problem(code=code, path="diagonal", allowed=words, advice=advice)


def _lines(enquiry: Enquiry, workshop: Workshop) -> Iterable[str]:
    has_screen = enquiry.construction != "lit-mirror"
    yield "# Begun from an enquiry. What is marked as assumed was not asked yet: ask, measure, and write it down."
    yield "halfsilver: job/1"
    yield f"title: {scalar_text(enquiry.title.strip())}"
    if enquiry.client.strip():
        yield f"client: {scalar_text(enquiry.client.strip())}"
    yield f"units: {_as(enquiry.units)}"
    yield f"construction: {_as(enquiry.construction)}"
    yield f"mounting: {{kind: {_as(enquiry.kind)}}}"
    yield f"place: {{visitors: {_as(enquiry.visitors)}}}"
    if has_screen:
        yield from _screen(enquiry)
    if enquiry.width.strip() and enquiry.height.strip():
        yield f"size: {{of: sight, width: {_as(enquiry.width)}, height: {_as(enquiry.height)}}}"
    said = "" if enquiry.distance.strip() else f"   {ASSUMED}"
    yield f"viewers: [{{id: front, distance: {_as(enquiry.distance) if enquiry.distance.strip() else '2.5 m'}}}]{said}"
    yield from _chosen(enquiry.construction, workshop)


def _screen(enquiry: Enquiry) -> Iterable[str]:
    if enquiry.screen:
        yield f"screen: {{from: {scalar_text(enquiry.screen)}}}"
        return
    yield "screen:"
    yield f"  diagonal: {_as(enquiry.diagonal)}"
    yield f"  aspect: {_as(enquiry.aspect) if enquiry.aspect.strip() else '16:9'}"
    yield f"  borders: {{left: 10 mm, right: 10 mm, top: 10 mm, bottom: 18 mm}}   {ASSUMED}: measure from the outline to the lit picture"


def _chosen(construction: str, workshop: Workshop) -> Iterable[str]:
    """Glass, lights and frame: a first choice from the catalogue, to be looked at."""
    splitters = [kind for kind in workshop.glass.values() if kind.duty.value == "splitter"] or list(workshop.glass.values())
    mirrors = [kind for kind in workshop.glass.values() if kind.duty.value == "mirror"]
    lit = construction != "hidden-screen"
    front = _nearest(splitters, 0.5 if construction == "lit-screen" else 0.3)
    yield "glass:"
    yield f"  front: {{kind: {front}}}   {ASSUMED}"
    if lit:
        rear = mirrors[0].id if construction == "lit-mirror" and mirrors else _nearest(splitters, 0.3)
        yield f"  rear: {{kind: {rear}}}   {ASSUMED}"
        yield f"lights: {{kind: {next(iter(light.id for light in workshop.lights.values() if not light.regulated))}}}   {ASSUMED}"
    moulding = next(iter(workshop.mouldings))
    yield "frame:"
    yield f"  front: {{moulding: {moulding}}}   {ASSUMED}"
    yield f"  rear: {{moulding: {moulding}}}   {ASSUMED}" if lit else "# one frame"


def _as(text: str) -> str:
    return scalar_text(text.strip())


def _nearest(kinds: Iterable[GlassKind], share: float) -> str:
    return min(kinds, key=lambda kind: (abs((kind.T or 0.0) - share) > 0.06, kind.thickness > 4.5, abs((kind.T or 0.0) - share))).id
